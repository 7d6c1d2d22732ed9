"""A resistive circuit solved by its nodes, with numpy: Kirchhoff's current law at every node."""

from collections.abc import Sequence

import numpy as np

SHORT_OHM = 1e-6
"""Small enough to be a short beside ohms, and large enough for double precision."""


def node_voltages(nodes: int, resistors: Sequence[tuple[int, int, float]], supply_v: float = 1.0) -> list[float]:
    """The voltages of nodes 0 to `nodes` - 1 to earth, node 0 being held at `supply_v`.

    A resistor is (node, node, ohm), where node -1 is earth.
    """
    conductance = np.zeros((nodes, nodes))
    for one, other, ohm in resistors:
        siemens = 1 / max(ohm, SHORT_OHM)
        for node, far in ((one, other), (other, one)):
            if node >= 0:
                conductance[node, node] += siemens
                if far >= 0:
                    conductance[node, far] -= siemens
    conductance[0] = 0
    conductance[0, 0] = 1
    currents = np.zeros(nodes)
    currents[0] = supply_v
    return [float(voltage) for voltage in np.linalg.solve(conductance, currents)]
