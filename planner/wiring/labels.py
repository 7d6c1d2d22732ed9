"""A mark for each lead, the same on drawing, schedule, sheets and label strip.

Marks follow the signal: first what leaves the processor and its cards, then DSP units, then
amplifiers, then the link outputs of subwoofers; within one device jack by jack. The legs of a
splitter count with the jack that it is plugged onto. What plugs on directly has no lead, and
no mark. The same design gets the same marks, in whatever order its connections are listed.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.design import Connection, Design, Jack, LeadMethod, UnitKind
from planner.words import carried_words

_STAGES = (
    (UnitKind.PROCESSOR, UnitKind.CARD),
    (UnitKind.DSP,),
    (UnitKind.AMPLIFIER,),
    (UnitKind.SUBWOOFER, UnitKind.LOUDSPEAKER),
)
_STAGE_BY_KIND = {kind: stage for stage, kinds in enumerate(_STAGES) for kind in kinds}

_Path = tuple[tuple[int, int, Jack], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class LeadLabel:
    """What is printed for one lead: its mark, both ends, and what it carries.

    The label at either end reads `mark`, `source`, `sink`, `carries`: who holds one end knows
    where the other belongs.
    """

    mark: str
    source: str
    sink: str
    carries: str


def lead_marks(design: Design) -> Mapping[Connection, str]:
    """The mark of every connection that has a lead, in the order of the marks: L001, L002 …

    All marks of a design are equally long, so that they sort as text.

    >>> lead_marks(Design(units=(), connections=(), routes=(), purchases=(), labour=(), currency="EUR"))
    {}
    """
    order = _Order(design)
    leads = [each for each in design.connections if each.lead.method is not LeadMethod.DIRECT]
    digits = max(3, len(str(len(leads))))
    return {
        connection: f"L{number:0{digits}}" for number, connection in enumerate(sorted(leads, key=order.key), start=1)
    }


def lead_labels(design: Design) -> tuple[LeadLabel, ...]:
    """The labels of all leads, in the order of their marks."""
    return tuple(
        LeadLabel(
            mark=mark,
            source=str(connection.source),
            sink=str(connection.sink),
            carries=carried_words(connection.channel, connection.way),
        )
        for connection, mark in lead_marks(design).items()
    )


class _Order:
    """Where a connection stands in the flow."""

    def __init__(self, design: Design) -> None:
        self._place = {unit.id: (_STAGE_BY_KIND.get(unit.kind), at) for at, unit in enumerate(design.units)}
        self._plugged_on = {each.sink.unit: each.source for each in design.connections}

    def key(self, connection: Connection) -> tuple[_Path, Jack]:
        return self._path(connection.source, frozenset()), connection.sink

    def _path(self, jack: Jack, passed: frozenset[str]) -> _Path:
        """The jack itself, or for a splitter's leg the jack it is plugged onto and then the leg."""
        stage, at = self._place.get(jack.unit, (len(_STAGES), 0))
        root = self._plugged_on.get(jack.unit)
        if stage is not None or root is None or jack.unit in passed:
            return ((len(_STAGES) if stage is None else stage, at, jack),)
        return (*self._path(root, passed | {jack.unit}), (0, at, jack))
