"""An output and its inputs as a netlist, solved by numpy: nothing here knows of dividers or decibels.

Modified nodal analysis: Kirchhoff's current law at each node, and one more row for each
voltage source. Node 0 is the shield.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from planner.catalogue.records import OutputStage

SHORT_OHM, LEAK_OHM = 1e-9, 1e12


@dataclass
class Netlist:
    resistors: list[tuple[int, int, float]] = field(default_factory=list)
    sources: list[tuple[int, int, float]] = field(default_factory=list)

    def voltages(self, nodes: int) -> list[float]:
        """The voltage of every node against node 0."""
        size = nodes + len(self.sources)
        matrix, right = np.zeros((size + 1, size + 1)), np.zeros(size + 1)
        for one, other, ohm in self.resistors:
            for here, there in ((one, other), (other, one)):
                matrix[here, here] += 1 / ohm
                matrix[here, there] -= 1 / ohm
        for number, (plus, minus, volts) in enumerate(self.sources):
            row = nodes + 1 + number
            matrix[row, plus] += 1
            matrix[row, minus] -= 1
            matrix[plus, row] += 1
            matrix[minus, row] -= 1
            right[row] = volts
        return [0.0, *np.linalg.solve(matrix[1:, 1:], right[1:])[:nodes]]


HOT, COLD, HOT_INSIDE, COLD_INSIDE = 1, 2, 3, 4


def hot_and_cold(
    stage: OutputStage, source_ohm: float, across_ohm: Sequence[float], to_shield_ohm: Sequence[float]
) -> tuple[float, float]:
    """The voltages of the hot and the cold contact of an output of 1 V, loaded by its inputs.

    `across_ohm` are the inputs between hot and cold, `to_shield_ohm` those from hot to shield.
    """
    net = Netlist()
    net.resistors += [(HOT, COLD, ohm) for ohm in across_ohm]
    net.resistors += [(HOT, 0, ohm) for ohm in to_shield_ohm]
    cold_side_ohm = source_ohm / 2
    match stage:
        case OutputStage.SYMMETRICAL:
            net.sources += [(HOT_INSIDE, 0, 0.5), (COLD_INSIDE, 0, -0.5)]
        case OutputStage.IMPEDANCE_BALANCED:
            net.sources += [(HOT_INSIDE, 0, 1.0), (COLD_INSIDE, 0, 0.0)]
        case OutputStage.SERVO | OutputStage.TRANSFORMER:
            # One voltage that touches the shield nowhere but where an unbalanced input ties it.
            net.sources += [(HOT_INSIDE, COLD_INSIDE, 1.0)]
            net.resistors += [(COLD, 0, SHORT_OHM if to_shield_ohm else LEAK_OHM)]
        case _:
            net.sources += [(HOT_INSIDE, 0, 1.0), (COLD_INSIDE, 0, 0.0)]
            cold_side_ohm = SHORT_OHM
    hot_side_ohm = source_ohm if cold_side_ohm == SHORT_OHM else source_ohm / 2
    net.resistors += [(HOT, HOT_INSIDE, hot_side_ohm), (COLD, COLD_INSIDE, cold_side_ohm)]
    voltages = net.voltages(4)
    return voltages[HOT], voltages[COLD]
