"""An output and all that hangs on it, as a circuit: what arrives at a balanced and an unbalanced input.

An output is two drivers against the shield, hot and cold, each behind its own impedance.
Balanced inputs lie between hot and cold, the others between hot and shield. Where an output
feeds one input of the second kind, the cold core is taken to be wired as that output wants
it: see `planner.formulas.balance.right_cold_cores`. All impedances are resistive.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import assert_never

from planner.catalogue.records import OutputStage
from planner.formulas.balance import one_leg_ohm
from planner.formulas.levels import voltage_ratio_db
from planner.formulas.loading import parallel_ohm
from planner.formulas.validity import require_positive


@dataclass(frozen=True, slots=True)
class Legs:
    """The hot and the cold driver: each its share of the open-circuit voltage, and its impedance."""

    hot_share: float
    hot_ohm: float
    cold_share: float
    cold_ohm: float


_STAGES_THAT_UNKNOWN_MAY_BE = (OutputStage.SYMMETRICAL, OutputStage.IMPEDANCE_BALANCED, OutputStage.SERVO)


def arriving_db(
    stage: OutputStage,
    source_ohm: float,
    balanced_ohm: Sequence[float],
    unbalanced_ohm: Sequence[float],
    *,
    into_balanced: bool,
) -> tuple[float, float]:
    """The least and the greatest level at an input re the open circuit of its output, dB.

    `balanced_ohm` and `unbalanced_ohm` are the impedances of all inputs on the output, by how
    they are reached; the input asked for is one of those that `into_balanced` names. The two
    levels are equal unless the stage is unknown. All impedances above 0; raises ValueError
    otherwise.
    Source: Kirchhoff's laws at the hot and the cold node.

    A symmetrical output of 100 ohm loses 6.02 dB into an unbalanced input, and little else:

    >>> [round(db, 3) for db in arriving_db(OutputStage.SYMMETRICAL, 100.0, [], [20_000.0], into_balanced=False)]
    [-6.042, -6.042]
    """
    if stage is OutputStage.UNKNOWN:
        may_be = _STAGES_THAT_UNKNOWN_MAY_BE if unbalanced_ohm else _STAGES_THAT_UNKNOWN_MAY_BE[:1]
    else:
        may_be = (stage,)
    levels = [
        _level_db(
            legs(each, source_ohm, grounds_cold=bool(unbalanced_ohm)), balanced_ohm, unbalanced_ohm, into_balanced
        )
        for each in may_be
    ]
    return min(levels), max(levels)


def legs(stage: OutputStage, source_ohm: float, *, grounds_cold: bool) -> Legs:
    """The two drivers of an output; `grounds_cold` where an unbalanced input hangs on it.

    Source impedance above 0 ohm; raises ValueError otherwise. A servo or transformer output
    has its cold joined to the shell there, and gives its whole voltage at the hot.
    Source: see `planner.formulas.balance`.

    >>> legs(OutputStage.IMPEDANCE_BALANCED, 100.0, grounds_cold=True)
    Legs(hot_share=1.0, hot_ohm=50.0, cold_share=0.0, cold_ohm=50.0)
    """
    require_positive(source_ohm=source_ohm)
    half_ohm = one_leg_ohm(source_ohm)
    match stage:
        case OutputStage.SYMMETRICAL:
            return Legs(0.5, half_ohm, -0.5, half_ohm)
        case OutputStage.IMPEDANCE_BALANCED:
            return Legs(1.0, half_ohm, 0.0, half_ohm)
        case OutputStage.SERVO | OutputStage.TRANSFORMER:
            return Legs(1.0, source_ohm, 0.0, 0.0) if grounds_cold else Legs(0.5, half_ohm, -0.5, half_ohm)
        case OutputStage.UNBALANCED | OutputStage.UNKNOWN:
            return Legs(1.0, source_ohm, 0.0, 0.0)
    assert_never(stage)


def seen_ohm(stage: OutputStage, source_ohm: float, *, grounds_cold: bool, into_balanced: bool) -> float:
    """The source impedance in the way to an input: both legs of a balanced one, else the hot leg.

    Source impedance above 0 ohm; raises ValueError otherwise.
    Source: Kirchhoff's laws.

    >>> seen_ohm(OutputStage.SYMMETRICAL, 100.0, grounds_cold=True, into_balanced=False)
    50.0
    """
    circuit = legs(stage, source_ohm, grounds_cold=grounds_cold)
    return circuit.hot_ohm + circuit.cold_ohm if into_balanced else circuit.hot_ohm


def _level_db(circuit: Legs, balanced_ohm: Sequence[float], unbalanced_ohm: Sequence[float], across: bool) -> float:
    between = 1 / parallel_ohm(balanced_ohm) if balanced_ohm else 0.0
    to_shield = 1 / parallel_ohm(unbalanced_ohm) if unbalanced_ohm else 0.0
    # Kirchhoff at each node, times the impedance of its driver, so that 0 ohm may stand there.
    hot_own = 1 + circuit.hot_ohm * (between + to_shield)
    cold_own = 1 + circuit.cold_ohm * between
    hot_other, cold_other = circuit.hot_ohm * between, circuit.cold_ohm * between
    determinant = hot_own * cold_own - hot_other * cold_other
    hot = (circuit.hot_share * cold_own + hot_other * circuit.cold_share) / determinant
    cold = (circuit.cold_share * hot_own + cold_other * circuit.hot_share) / determinant
    return voltage_ratio_db(hot - cold if across else hot, 1.0)
