"""What a source loses to the inputs that it feeds: in parallel, through splitters, through a pad.

All impedances are taken as resistive, which line circuits are within the audio band; cable
capacitance is in its own file. Levels are re the open circuit of the source.
"""

import math
from collections.abc import Sequence

from planner.formulas.levels import voltage_ratio_db
from planner.formulas.validity import require_not_negative, require_positive


def parallel_ohm(impedances_ohm: Sequence[float]) -> float:
    """The impedance of several resistances in parallel, line inputs or loudspeakers.

    At least one, each above 0 ohm; raises ValueError otherwise.
    Source: Kirchhoff's laws, 1 / Σ (1/R).

    >>> parallel_ohm([8.0, 8.0])
    4.0
    """
    if not impedances_ohm:
        raise ValueError("impedances_ohm is empty; expected at least one impedance")
    for impedance_ohm in impedances_ohm:
        require_positive(impedance_ohm=impedance_ohm)
    return 1 / math.fsum(1 / impedance_ohm for impedance_ohm in impedances_ohm)


def loading_loss_db(source_ohm: float, inputs_ohm: Sequence[float]) -> float:
    """The loss, at most 0 dB, of a source into inputs in parallel: a Y lead or splitters.

    Source 0 ohm or more, each input above 0 ohm; no input at all is the open circuit, 0 dB.
    Raises ValueError otherwise. Two sources joined to one input are not a mix but a fault;
    what one of them then loses to the other is the loss into the other's source impedance.
    Source: Kirchhoff's laws, potential divider 20 log10[Zp / (Zs + Zp)].

    >>> round(loading_loss_db(600.0, [10_000.0, 10_000.0]), 4)
    -0.9844
    """
    require_not_negative(source_ohm=source_ohm)
    if not inputs_ohm:
        return 0.0
    load_ohm = parallel_ohm(inputs_ohm)
    return voltage_ratio_db(load_ohm, source_ohm + load_ohm)


def build_out_loss_db(
    source_ohm: float, build_out_ohm: float, input_ohm: float, other_inputs_ohm: Sequence[float]
) -> float:
    """The loss, at most 0 dB, at one input of a splitter with a resistor in series in each branch.

    The other branches may end in any input, 0 ohm (a short) included. Source 0 ohm or more,
    resistor and this input above 0 ohm; raises ValueError otherwise.
    Source: Kirchhoff's laws, 20 log10[Zp / (Zs + Zp) × Zin / (Rb + Zin)].

    >>> round(build_out_loss_db(100.0, 1_000.0, 10_000.0, [10_000.0]), 4)
    -0.9844
    """
    require_positive(build_out_ohm=build_out_ohm, input_ohm=input_ohm)
    for other_input_ohm in other_inputs_ohm:
        require_not_negative(other_input_ohm=other_input_ohm)
    branches_ohm = [build_out_ohm + end_ohm for end_ohm in (input_ohm, *other_inputs_ohm)]
    return loading_loss_db(source_ohm, branches_ohm) + voltage_ratio_db(input_ohm, build_out_ohm + input_ohm)


def star_resistor_ohm(impedance_ohm: float, outputs: int) -> float:
    """The resistor in each leg of a star splitter that matches one impedance at every port.

    Impedance above 0 ohm, one output or more; raises ValueError otherwise.
    Source: Kirchhoff's laws, R0 (N - 1) / (N + 1).

    >>> star_resistor_ohm(600.0, 2)
    200.0
    """
    require_positive(impedance_ohm=impedance_ohm, outputs=outputs)
    return impedance_ohm * (outputs - 1) / (outputs + 1)


def star_loss_db(outputs: int) -> float:
    """The loss, at most 0 dB, of a matched star splitter from its input to each output.

    One output or more, all ports ended in the matched impedance; raises ValueError
    otherwise. Unlike the other losses here it is re the matched input, not the open circuit.
    Source: Kirchhoff's laws, 20 log10(1/N).

    >>> round(star_loss_db(4), 4)
    -12.0412
    """
    require_positive(outputs=outputs)
    return voltage_ratio_db(1, outputs)


def pad_loss_db(source_ohm: float, series_ohm: float, shunt_ohm: float, load_ohm: float) -> float:
    """The loss, at most 0 dB, of an L pad: one resistor in series, then one across the load.

    Source and series resistor 0 ohm or more, shunt and load above 0 ohm; raises ValueError
    otherwise. It belongs at the receiving end, where its output drives little cable.
    Source: Kirchhoff's laws, 20 log10[R2' / (Zs + R1 + R2')], R2' being R2 beside the load.

    >>> round(pad_loss_db(100.0, 2_700.0, 1_000.0, 22_000.0), 2)
    -11.88
    """
    require_not_negative(source_ohm=source_ohm, series_ohm=series_ohm)
    require_positive(shunt_ohm=shunt_ohm, load_ohm=load_ohm)
    return loading_loss_db(source_ohm + series_ohm, [shunt_ohm, load_ohm])


def pad_output_ohm(source_ohm: float, series_ohm: float, shunt_ohm: float) -> float:
    """The output impedance of an L pad, which is the source impedance of what follows.

    Source and series resistor 0 ohm or more and not both 0, shunt above 0 ohm; raises
    ValueError otherwise.
    Source: Thévenin's theorem, R2 beside Zs + R1.

    >>> round(pad_output_ohm(100.0, 2_700.0, 1_000.0), 1)
    736.8
    """
    require_not_negative(source_ohm=source_ohm, series_ohm=series_ohm)
    require_positive(shunt_ohm=shunt_ohm)
    return parallel_ohm([source_ohm + series_ohm, shunt_ohm])
