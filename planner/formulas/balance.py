"""A balanced output into an unbalanced input, and the other way round, by how the lead is wired.

What arrives depends on how the output is built and on where the cold core of the lead goes.
Sources: the wiring of symmetrical and impedance-balanced outputs follows D. Self, Small
Signal Audio Design, chapter on line outputs; that of cross-coupled (servo) and transformer
outputs D. A. Bohn, Unity Gain and Impedance Matching: Strange Bedfellows, appendix, and
B. Whitlock, Balanced Lines in Audio Systems, J. Audio Eng. Soc. 43 (6), 1995 (read at second
hand).
"""

import math
from enum import StrEnum
from typing import assert_never

from planner.catalogue.records import OutputStage
from planner.formulas.validity import require_positive

ONE_LEG_DB = 20 * math.log10(0.5)
"""One leg of a symmetrical pair against the pair, by definition half the voltage; -6.02 dB."""


class ColdCore(StrEnum):
    """Where the cold core goes at a joint of a balanced and an unbalanced end.

    OPEN                joined to nothing at the unbalanced end
    TO_SHELL_AT_SOURCE  joined to the shield at the source's end of the lead
    TO_SHELL_AT_SINK    joined to the shell at the sink's end of the lead
    """

    OPEN = "open"
    TO_SHELL_AT_SOURCE = "to_shell_at_source"
    TO_SHELL_AT_SINK = "to_shell_at_sink"


def into_unbalanced_db(stage: OutputStage, cold: ColdCore) -> tuple[float, float]:
    """The least and the greatest gain from an output, hot against cold, to an unbalanced input.

    The two are equal where the circuit settles it. Use the least to see whether the sink is
    driven enough, the greatest to see whether it is overdriven. Loading is apart.
    Raises ValueError for a transformer with its cold open: the current has no way back, and
    nothing but stray coupling arrives.
    Source: see the top of this file. A symmetrical output gives half its voltage whatever
    becomes of the cold; how far a servo output falls with its cold open differs by circuit,
    so that its range, and the unknown output's, is that of all other stages.

    >>> [round(gain, 2) for gain in into_unbalanced_db(OutputStage.SYMMETRICAL, ColdCore.OPEN)]
    [-6.02, -6.02]
    >>> into_unbalanced_db(OutputStage.SERVO, ColdCore.TO_SHELL_AT_SINK)
    (0.0, 0.0)
    """
    match stage:
        case OutputStage.UNBALANCED | OutputStage.IMPEDANCE_BALANCED:
            return 0.0, 0.0
        case OutputStage.SYMMETRICAL:
            return ONE_LEG_DB, ONE_LEG_DB
        case OutputStage.SERVO:
            return (ONE_LEG_DB, 0.0) if cold is ColdCore.OPEN else (0.0, 0.0)
        case OutputStage.TRANSFORMER:
            if cold is ColdCore.OPEN:
                raise ValueError("a transformer output with its cold core open has no defined level")
            return 0.0, 0.0
        case OutputStage.UNKNOWN:
            return ONE_LEG_DB, 0.0
    assert_never(stage)


def into_balanced_db(cold: ColdCore) -> tuple[float, float]:
    """The least and the greatest gain from an unbalanced output to a balanced input.

    The two are equal where the cold core is joined to the shield. With the cold input open, a
    one-amplifier difference input passes half the voltage and one with its inputs held to
    earth by resistors all of it, so both ends of that range are given. Loading is apart.
    Source: Kirchhoff's laws, for the two kinds of input.

    >>> into_balanced_db(ColdCore.TO_SHELL_AT_SOURCE)
    (0.0, 0.0)
    """
    return (ONE_LEG_DB, 0.0) if cold is ColdCore.OPEN else (0.0, 0.0)


def right_cold_cores(stage: OutputStage) -> frozenset[ColdCore]:
    """The right ways to wire the cold core from an output to an unbalanced input.

    For an output of unknown build, open is the one that harms none; ask its maker. An output
    that is not balanced has nothing on its cold contact, or earth.
    Source: see the top of this file.

    >>> right_cold_cores(OutputStage.TRANSFORMER) == {ColdCore.TO_SHELL_AT_SINK}
    True
    """
    match stage:
        case OutputStage.SYMMETRICAL | OutputStage.UNKNOWN:
            return frozenset({ColdCore.OPEN})
        case OutputStage.SERVO | OutputStage.TRANSFORMER:
            return frozenset({ColdCore.TO_SHELL_AT_SINK})
        case OutputStage.IMPEDANCE_BALANCED | OutputStage.UNBALANCED:
            return frozenset(ColdCore)
    assert_never(stage)


def may_short_the_cold_driver(stage: OutputStage, cold: ColdCore) -> bool:
    """Whether the lead joins to earth a cold leg that is, or may be, driven against it.

    Such a driver overheats, distorts, and lets crosstalk into its neighbours.
    Source: D. Self, Small Signal Audio Design, chapter on line outputs.

    >>> may_short_the_cold_driver(OutputStage.SYMMETRICAL, ColdCore.TO_SHELL_AT_SINK)
    True
    """
    return stage in (OutputStage.SYMMETRICAL, OutputStage.UNKNOWN) and cold is not ColdCore.OPEN


def one_leg_ohm(balanced_ohm: float) -> float:
    """The source impedance of one leg of a symmetrical output, whose two legs are in series.

    Above 0 ohm; raises ValueError otherwise.
    Source: definition; a balanced impedance is stated between hot and cold.

    >>> one_leg_ohm(100.0)
    50.0
    """
    require_positive(balanced_ohm=balanced_ohm)
    return balanced_ohm / 2
