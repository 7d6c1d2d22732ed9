"""Every place in the brief that a loudspeaker or subwoofer can fill."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.brief.records import Brief, Point
from planner.design import UnitKind
from planner.placement import member_positions

MemberKey = tuple[UnitKind, str, int]


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """One place of a set: the channel it plays, and where it stands. `index` counts from 0."""

    kind: UnitKind
    set_name: str
    index: int
    channel: str
    position: Point

    @property
    def key(self) -> MemberKey:
        """What a unit's kind and `member` must be to stand here."""
        return (self.kind, self.set_name, self.index)

    def __str__(self) -> str:
        return f"{self.set_name} {self.index + 1} ({self.channel})"


def places_of(brief: Brief) -> Iterator[Place]:
    """The places of every loudspeaker set, then of every subwoofer set up to its `most`."""
    positions = member_positions(brief)
    for kind, set_name, index, channel in _members(brief):
        yield Place(
            kind=kind,
            set_name=set_name,
            index=index,
            channel=channel,
            position=positions[set_name, index],
        )  # fmt: skip


def _members(brief: Brief) -> Iterator[tuple[UnitKind, str, int, str]]:
    for loudspeakers in brief.loudspeakers:
        for index, placement in enumerate(loudspeakers.placements):
            yield UnitKind.LOUDSPEAKER, loudspeakers.name, index, placement.channel
    for subwoofers in brief.subwoofers:
        for index in range(min(subwoofers.most, len(subwoofers.positions))):
            yield UnitKind.SUBWOOFER, subwoofers.name, index, subwoofers.channel
