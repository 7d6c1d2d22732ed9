"""Which output drives what: the paths of a design, traced jack by jack from the processor."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.design import Connection, Design, Jack, Unit, UnitKind


@dataclass(frozen=True, kw_only=True, slots=True)
class OutputLine:
    """One loudspeaker or subwoofer input, and the path that reaches it.

    `through` names the jacks on the way from which the signal leaves again, in order:
    DSP outputs, splitter legs, amplifier outputs, link outputs. `way` as in `Connection`.
    """

    output: Jack
    channel: str
    way: int | None
    through: tuple[Jack, ...]
    drives: Jack


def output_map(design: Design) -> tuple[OutputLine, ...]:
    """Every fed input with its processor or card output, in the order of the outputs."""
    unit_by_id = {unit.id: unit for unit in design.units}
    lines: list[OutputLine] = []
    for connection in design.connections:
        source = unit_by_id[connection.source.unit]
        if source.kind in (UnitKind.PROCESSOR, UnitKind.CARD):
            lines.extend(_lines_from(connection, connection.source, (), design, unit_by_id))
    return tuple(sorted(lines, key=lambda line: (line.output, line.through, line.drives)))


def _lines_from(
    connection: Connection,
    output: Jack,
    through: tuple[Jack, ...],
    design: Design,
    unit_by_id: dict[str, Unit],
) -> Iterator[OutputLine]:
    """The lines that one connection leads to, itself included where it ends at a feed."""
    unit = unit_by_id[connection.sink.unit]
    if unit.kind in (UnitKind.LOUDSPEAKER, UnitKind.SUBWOOFER):
        yield OutputLine(
            output=output,
            channel=connection.channel,
            way=connection.way,
            through=through,
            drives=connection.sink,
        )
    for onward in design.connections:
        if _continues(connection.sink, onward.source, unit, design):
            yield from _lines_from(onward, output, (*through, onward.source), design, unit_by_id)


def _continues(entered: Jack, left: Jack, unit: Unit, design: Design) -> bool:
    """Whether a signal that enters a unit at one jack leaves it at the other."""
    if left.unit != unit.id:
        return False
    match unit.kind:
        case UnitKind.DSP:
            return any(route.source == entered and route.sink == left for route in design.routes)
        case UnitKind.AMPLIFIER:
            return entered.index == left.index
        case UnitKind.SPLITTER | UnitKind.SUBWOOFER:
            return True
        case UnitKind.PROCESSOR | UnitKind.CARD | UnitKind.LOUDSPEAKER:
            return False
