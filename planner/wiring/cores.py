"""Which core of a lead goes to which pin, for the output that drives it and the input it feeds.

Shields are joined at both ends, as AES48 wants of equipment, and as an unbalanced lead cannot
do without. The cold core follows `planner.formulas.balance.right_cold_cores`; open is taken
where open is right, and then the cold core is joined at neither end, so that nobody can short
it by a mistake at one. Unbalanced to balanced: two cores, cold joined to the shell at the source,
so that the input keeps its rejection (D. Self, Small Signal Audio Design, chapter on line
outputs). Unbalanced to unbalanced with two cores: the second core doubles the return, which
halves what the shield's resistance lets in (common practice, no published source).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planner.catalogue.records import OutputStage
from planner.contacts import PinRole
from planner.formulas.balance import ColdCore, right_cold_cores


class Core(StrEnum):
    """One conductor of a cable: two cores and a shield, one core and a shield, or loudspeaker cable."""

    HOT = "hot core"
    COLD = "cold core"
    SHIELD = "shield"
    PLUS = "+ core"
    MINUS = "- core"


@dataclass(frozen=True, kw_only=True, slots=True)
class EndWiring:
    """What is joined to the pins of each role at one end of a lead.

    `cold_to_shield`: the cold pin has no core, and is joined to the shield pin in the connector.
    """

    cores: Mapping[PinRole, tuple[Core, ...]] = field(default_factory=dict)
    cold_to_shield: bool = False


_STRAIGHT = EndWiring(
    cores={PinRole.HOT: (Core.HOT,), PinRole.COLD: (Core.COLD,), PinRole.SHIELD: (Core.SHIELD,)},
)
_COLD_IN_SHELL = EndWiring(cores={PinRole.HOT: (Core.HOT,), PinRole.SHIELD: (Core.COLD, Core.SHIELD)})
_COLD_OPEN = EndWiring(cores={PinRole.HOT: (Core.HOT,), PinRole.SHIELD: (Core.SHIELD,)})
_COLD_PIN_JOINED = EndWiring(cores=_COLD_OPEN.cores, cold_to_shield=True)

SPEAKER_WIRING = EndWiring(cores={PinRole.PLUS: (Core.PLUS,), PinRole.MINUS: (Core.MINUS,)})
"""Loudspeaker cable, the same at both ends: plus to plus, or the loudspeaker is out of polarity."""

STRAIGHT_WIRING = (_STRAIGHT, _STRAIGHT)
"""Each pin to its like."""


def line_wiring(
    stage: OutputStage, *, balanced_source: bool, balanced_sink: bool, two_cores: bool
) -> tuple[EndWiring, EndWiring]:
    """The wiring at the source and at the sink of a line-level lead.

    `stage` is the build of the output that drives the lead, splitters in between or not.

    >>> line_wiring(OutputStage.SERVO, balanced_source=True, balanced_sink=False, two_cores=True)[1] == _COLD_IN_SHELL
    True
    """
    if two_cores:
        return _two_cores(stage, balanced_source, balanced_sink)
    if balanced_source and not balanced_sink:
        return (_COLD_OPEN if cold_open(stage) else _COLD_PIN_JOINED), _COLD_OPEN
    return _COLD_OPEN, (_COLD_PIN_JOINED if balanced_sink else _COLD_OPEN)


def cold_open(stage: OutputStage) -> bool:
    """Whether the cold core stays open at an unbalanced input; else it is joined to the shell there."""
    return ColdCore.OPEN in right_cold_cores(stage)


def _two_cores(stage: OutputStage, balanced_source: bool, balanced_sink: bool) -> tuple[EndWiring, EndWiring]:
    if balanced_sink:
        return (_STRAIGHT if balanced_source else _COLD_IN_SHELL), _STRAIGHT
    if balanced_source:
        return (_COLD_OPEN, _COLD_OPEN) if cold_open(stage) else (_STRAIGHT, _COLD_IN_SHELL)
    return _COLD_IN_SHELL, _COLD_IN_SHELL
