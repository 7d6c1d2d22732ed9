"""Which output drives what: the paths of a design, traced jack by jack from the processor."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.design import Connection, Design, Jack, Unit, UnitKind


@dataclass(frozen=True, kw_only=True, slots=True)
class OutputLine:
    """One loudspeaker or subwoofer input, and the path that reaches it.

    `through` names the jacks on the way from which the signal leaves again, in order:
    DSP outputs, splitter legs, outputs of isolators and amplifiers, link outputs. `way` as in `Connection`.
    """

    output: Jack
    channel: str
    way: int | None
    through: tuple[Jack, ...]
    drives: Jack


def output_map(design: Design) -> tuple[OutputLine, ...]:
    """Every fed input with its processor or card output, in the order of the outputs."""
    return tuple(sorted(_Paths(design).lines(), key=lambda line: (line.output, line.through, line.drives)))


class _Paths:
    """The connections of a design, found by the unit that they leave."""

    def __init__(self, design: Design) -> None:
        self._design = design
        self._unit_by_id = {unit.id: unit for unit in design.units}
        self._leaving: dict[str, list[Connection]] = {unit.id: [] for unit in design.units}
        for connection in design.connections:
            self._leaving[connection.source.unit].append(connection)

    def lines(self) -> Iterator[OutputLine]:
        """Every path from a processor or card to an input."""
        for connection in self._design.connections:
            if self._unit_by_id[connection.source.unit].kind in (UnitKind.PROCESSOR, UnitKind.CARD):
                yield from self._from(connection, connection.source, ())

    def _from(self, connection: Connection, output: Jack, through: tuple[Jack, ...]) -> Iterator[OutputLine]:
        """The lines that one connection leads to, itself included where it ends at a feed."""
        unit = self._unit_by_id[connection.sink.unit]
        if unit.kind in (UnitKind.LOUDSPEAKER, UnitKind.SUBWOOFER):
            yield OutputLine(
                output=output,
                channel=connection.channel,
                way=connection.way,
                through=through,
                drives=connection.sink,
            )
        for onward in self._leaving[unit.id]:
            if self._continues(connection.sink, onward.source, unit):
                yield from self._from(onward, output, (*through, onward.source))

    def _continues(self, entered: Jack, left: Jack, unit: Unit) -> bool:
        """Whether a signal that enters a unit at one jack leaves it at the other."""
        match unit.kind:
            case UnitKind.DSP:
                return any(route.source == entered and route.sink == left for route in self._design.routes)
            case UnitKind.AMPLIFIER:
                return entered.index == left.index
            case UnitKind.SPLITTER | UnitKind.ISOLATOR | UnitKind.SUBWOOFER:
                return True
            case UnitKind.PROCESSOR | UnitKind.CARD | UnitKind.LOUDSPEAKER:
                return False
