"""E2: which loudspeakers and subwoofers are reached another way in another design."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.design import Design, Jack
from planner.output_map import output_map

_Place = tuple[str, int, int | None]  # set, index within it, way


Path = tuple[Jack, ...]
"""How one input is reached: the processor's output jack, and those from which the signal leaves on the way."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Move:
    """One loudspeaker or subwoofer (`way` of it, where crossed) whose path differs; None: it is not there."""

    member: tuple[str, int]
    way: int | None
    before: Path | None
    after: Path | None


def moves(before: Design, after: Design) -> tuple[Move, ...]:
    """Every input that is reached another way, or in one of the two designs only."""
    old, new = _paths(before), _paths(after)
    places = sorted({*old, *new}, key=lambda place: (place[0], place[1], place[2] or 0))
    return tuple(
        Move(member=place[:2], way=place[2], before=old.get(place), after=new.get(place))
        for place in places
        if old.get(place) != new.get(place)
    )


def path_words(path: Path | None) -> str:
    """The jacks of a path in order."""
    return "not there" if path is None else ", then ".join(str(jack) for jack in path)


def _paths(design: Design) -> Mapping[_Place, Path]:
    member_by_id = {unit.id: unit.member for unit in design.units}
    paths: dict[_Place, Path] = {}
    for line in output_map(design):
        member = member_by_id[line.drives.unit]
        if member is not None:
            paths[(*member, line.way)] = (line.output, *line.through)
    return paths
