"""What stands in the signal-flow diagram: a box for each device, a row for each jack, columns from left to right."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.checks.sockets import Level, Socket
from planner.contacts import Direction
from planner.design import Connection, Design, Jack, Unit, UnitKind
from planner.wiring.jacks import Jacks
from planner.words import carried_words

_LOADS = (UnitKind.LOUDSPEAKER, UnitKind.SUBWOOFER)


@dataclass(frozen=True, kw_only=True, slots=True)
class PortRow:
    """One jack in use with the signal it carries; or (`jack` None) the jacks of a group that are free.

    `group` is printed on the device and may be long; `number` says which of the group, in words.
    """

    group: str
    number: str
    signal: str = ""
    jack: Jack | None = None

    @property
    def words(self) -> str:
        """The whole row but its signal."""
        return f"{self.group} {self.number}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Box:
    """One device: inputs to the left, outputs to the right. `column` counts from 0.

    `compact`: one input and nothing else, drawn in two lines.
    """

    unit: Unit
    heading: str
    model: str
    inputs: tuple[PortRow, ...]
    outputs: tuple[PortRow, ...]
    column: int

    @property
    def compact(self) -> bool:
        """Whether it is a loudspeaker or subwoofer with one jack, in use."""
        return len(self.inputs) == 1 and not self.outputs and self.unit.kind in _LOADS


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """The words over a column, and its boxes in the order of the design."""

    heading: str
    boxes: tuple[Box, ...]


Rank = tuple[int, int]
"""Stage of the flow (processor, DSP unit, amplifier, loudspeaker), and depth within it: splitters, chains."""

_STAGE_BY_KIND: Mapping[UnitKind, int] = {
    UnitKind.PROCESSOR: 0,
    UnitKind.CARD: 0,
    UnitKind.DSP: 1,
    UnitKind.AMPLIFIER: 2,
    UnitKind.LOUDSPEAKER: 3,
    UnitKind.SUBWOOFER: 3,
}
_PASSIVE = (UnitKind.SPLITTER, UnitKind.ISOLATOR)
_HEADINGS = ("Processor", "DSP units", "Amplifiers", "Loudspeakers, subwoofers")


def flow_columns(design: Design, jacks: Jacks) -> tuple[Column, ...]:
    """The columns of a valid design, those without a device left out."""
    ranks = _ranks(design)
    order = sorted(set(ranks.values()))
    rows = _Rows(design, jacks)
    boxes = [_box(unit, order.index(ranks[unit.id]), jacks, rows) for unit in design.units]
    return tuple(
        Column(
            heading=_heading(rank, [box for box in boxes if box.column == at]),
            boxes=tuple(box for box in boxes if box.column == at),
        )
        for at, rank in enumerate(order)
    )


def _ranks(design: Design) -> dict[str, Rank]:
    """Where each unit stands: splitters and isolators behind what feeds them, chained subwoofers likewise."""
    source_of = {connection.sink.unit: connection.source.unit for connection in design.connections}
    kinds = {unit.id: unit.kind for unit in design.units}
    ranks: dict[str, Rank] = {}

    def rank(unit: str, passed: frozenset[str]) -> Rank:
        if unit not in ranks:
            before = source_of.get(unit)
            kind = kinds[unit]
            follows = before is not None and before not in passed and (
                kind in _PASSIVE or (kind is UnitKind.SUBWOOFER and kinds[before] is UnitKind.SUBWOOFER)
            )  # fmt: skip
            if follows and before is not None:
                stage, depth = rank(before, passed | {unit})
                ranks[unit] = (stage, depth + 1)
            else:
                ranks[unit] = (_STAGE_BY_KIND.get(kind, 0), 0)
        return ranks[unit]

    return {unit.id: rank(unit.id, frozenset()) for unit in design.units}


_PASSIVE_WORDS = ((UnitKind.SPLITTER, "splitters"), (UnitKind.ISOLATOR, "isolators"))


def _heading(rank: Rank, boxes: Sequence[Box]) -> str:
    stage, depth = rank
    kinds = {box.unit.kind for box in boxes}
    if depth:
        if stage == _STAGE_BY_KIND[UnitKind.SUBWOOFER]:
            return "Chained on"
        names = [words for kind, words in _PASSIVE_WORDS if kind in kinds]
        return ", ".join(names).capitalize()
    if kinds == {UnitKind.LOUDSPEAKER}:
        return "Loudspeakers"
    if kinds == {UnitKind.SUBWOOFER}:
        return "Subwoofers"
    return "Processor and cards" if UnitKind.CARD in kinds else _HEADINGS[stage]


def _box(unit: Unit, column: int, jacks: Jacks, rows: "_Rows") -> Box:
    return Box(
        unit=unit,
        heading=f"{unit.id} in {unit.host}" if unit.host else carried_words(unit.id, None),
        model=jacks.item(unit.id).name,
        inputs=rows.of(unit, Direction.IN),
        outputs=rows.of(unit, Direction.OUT),
        column=column,
    )


class _Rows:
    """The rows of every unit: jacks in use one by one, free ones summed up."""

    def __init__(self, design: Design, jacks: Jacks) -> None:
        self._jacks = jacks
        self._out: dict[Jack, Connection] = {each.source: each for each in design.connections}
        self._into: dict[Jack, Connection] = {each.sink: each for each in design.connections}
        self._route = {route.sink: route.source for route in design.routes}

    def of(self, unit: Unit, direction: Direction) -> tuple[PortRow, ...]:
        """The rows of one side of a unit, in the order of the catalogue; what is free comes last in its group."""
        found: list[PortRow] = []
        for socket in self._jacks.sockets(unit.id):
            if socket.direction is direction:
                found += self._group(unit, socket)
        return tuple(found)

    def _group(self, unit: Unit, socket: Socket) -> list[PortRow]:
        used = self._out if socket.direction is Direction.OUT else self._into
        rows, free = [], []
        for index in range(1, socket.count + 1):
            jack = Jack(unit.id, socket.name, index)
            if jack in used:
                rows.append(
                    PortRow(group=jack.group, number=str(index), signal=self._signal(unit, jack, used[jack]), jack=jack)
                )
            else:
                free.append(index)
        if free and unit.kind not in _LOADS:
            digital = ", digital" if socket.level is Level.DIGITAL else ""
            rows.append(PortRow(group=socket.name, number=f"{runs(free)} free{digital}"))
        return rows

    def _signal(self, unit: Unit, jack: Jack, connection: Connection) -> str:
        """What a jack of a processor or DSP unit carries, and inside a DSP unit where it comes from."""
        if unit.kind not in (UnitKind.PROCESSOR, UnitKind.CARD, UnitKind.DSP):
            return ""
        way = "" if connection.way is None else f" way {connection.way}"
        source = self._route.get(jack)
        origin = "" if source is None else f" from {source.group} {source.index}"
        return f"{connection.channel}{way}{origin}"


def runs(numbers: Sequence[int]) -> str:
    """Rising numbers, runs of them as a range.

    >>> runs([1, 3, 4, 5])
    '1, 3–5'
    """
    spans: list[list[int]] = []
    for number in numbers:
        if spans and number == spans[-1][-1] + 1:
            spans[-1].append(number)
        else:
            spans.append([number])
    return ", ".join(str(span[0]) if len(span) == 1 else f"{span[0]}–{span[-1]}" for span in spans)
