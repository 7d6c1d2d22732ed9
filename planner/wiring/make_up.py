"""Each lead as the person who makes it needs it: both ends pin by pin, what it is made of, how long, how much work."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.assembly.bill import ENDS_TO_MAKE
from planner.catalogue.records import BulkCable, Catalogue, Lead
from planner.design import Connection, Design, LeadMethod
from planner.house import House, Task
from planner.physics.gear import Gear
from planner.wiring.cores import Core, cold_open
from planner.wiring.ends import Joint, LeadEnd, LeadEnds, cores_of
from planner.wiring.labels import LeadLabel, lead_labels, lead_marks
from planner.wiring.remarks import remarks


class ShieldJoin(StrEnum):
    """Where the shield of a lead is joined. RETURN: at both ends, and the signal comes back by it."""

    BOTH_ENDS = "joined at both ends"
    RETURN = "joined at both ends; it is the signal's return"
    SOURCE_ONLY = "joined at the source only; the sink has no place for it"
    SINK_ONLY = "joined at the sink only; the source has no place for it"
    OPEN = "joined at neither end; there is no place for it"
    NONE = "none"


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """So many of one thing that goes into the lead. Of bulk cable the metres sold, in `metres`.

    A cut lead takes half of a made one: `count` is 1 all the same, and another tail may be its
    other half; see the cut list.
    """

    sku: str
    name: str
    count: int
    metres: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Work:
    """So many of one labour task, `minutes` in all."""

    task: Task
    count: int
    minutes: Decimal


@dataclass(frozen=True, kw_only=True, slots=True)
class MakeUp:
    """One lead.

    `length_m` is wanted; `sold_m` is what is sold for it: a lead, half a lead, or steps of cable.

    `cores` are the conductors of the cable; what becomes of each stands at the ends. `remarks`
    are whole sentences, in the order of doing.
    """

    mark: str
    connection: Connection
    label: LeadLabel
    source: LeadEnd
    sink: LeadEnd
    cable: str
    cable_name: str
    cores: tuple[Core, ...]
    shield: ShieldJoin
    length_m: float
    sold_m: float
    parts: tuple[Part, ...]
    work: tuple[Work, ...]
    remarks: tuple[str, ...]

    @property
    def method(self) -> LeadMethod:
        """How the lead is made."""
        return self.connection.lead.method

    @property
    def minutes(self) -> Decimal:
        """All labour on this lead, minutes."""
        return sum((work.minutes for work in self.work), Decimal(0))


def make_ups(design: Design, catalogue: Catalogue, house: House) -> tuple[MakeUp, ...]:
    """Every lead of a valid design, in the order of the marks."""
    gear = Gear(design, catalogue)
    ends = LeadEnds(design, catalogue, gear)
    labels = {label.mark: label for label in lead_labels(design)}
    return tuple(
        _make_up(connection, labels[mark], ends, gear, house) for connection, mark in lead_marks(design).items()
    )


def _make_up(connection: Connection, label: LeadLabel, ends: LeadEnds, gear: Gear, house: House) -> MakeUp:
    cable, joint = ends.cable(connection), ends.joint(connection)
    source, sink = ends.of(connection)
    cores = cores_of(cable, speaker=joint.speaker)
    return MakeUp(
        mark=label.mark,
        connection=connection,
        label=label,
        source=source,
        sink=sink,
        cable=cable.sku,
        cable_name=cable.name,
        cores=cores,
        shield=_shield(source, sink, cores, joint),
        length_m=connection.lead.length_m,
        sold_m=_sold_m(connection, cable),
        parts=tuple(_parts(connection, gear)),
        work=tuple(_work(connection, house)),
        remarks=remarks(connection, joint, source, sink),
    )


def _shield(source: LeadEnd, sink: LeadEnd, cores: tuple[Core, ...], joint: Joint) -> ShieldJoin:
    if Core.SHIELD not in cores:
        return ShieldJoin.NONE
    match Core.SHIELD in source.open_cores, Core.SHIELD in sink.open_cores:
        case False, False:
            return ShieldJoin.RETURN if _returns_by_shield(joint) else ShieldJoin.BOTH_ENDS
        case False, True:
            return ShieldJoin.SOURCE_ONLY
        case True, False:
            return ShieldJoin.SINK_ONLY
        case _:
            return ShieldJoin.OPEN


def _returns_by_shield(joint: Joint) -> bool:
    """Whether the signal has no core of its own to come back by, or one that lies in parallel to the shield."""
    if not joint.two_cores:
        return True
    return not joint.balanced_sink and (not joint.balanced_source or cold_open(joint.stage))


def _sold_m(connection: Connection, cable: Lead | BulkCable) -> float:
    if isinstance(cable, Lead):
        return cable.length_m / 2 if connection.lead.method is LeadMethod.CUT else cable.length_m
    return cable.step_m * sum(part.count for part in connection.lead.parts if part.sku == cable.sku)


def _parts(connection: Connection, gear: Gear) -> Iterator[Part]:
    for part in connection.lead.parts:
        item = gear.items[part.sku]
        metres = item.step_m * part.count if isinstance(item, BulkCable) else None
        yield Part(sku=part.sku, name=item.name, count=part.count, metres=metres)


def _work(connection: Connection, house: House) -> Iterator[Work]:
    for task, count in ((Task.LEAD, 1), (Task.TERMINATION, ENDS_TO_MAKE.get(connection.lead.method, 0))):
        if count:
            yield Work(task=task, count=count, minutes=house.minutes.get(task, Decimal(0)) * count)
