"""Rooms of one building, of sizes S to M, on the demo catalogue: seeded, invented, every one a little different."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random

from planner.brief.records import Brief, Point
from planner.brief.write import write_brief
from tests.plan.demo import demo_brief

SMALL, MEDIUM = "small-5-1-2-two-subs", "cinema-7-1-4-four-mixed-subs"


def rooms(number: int, seed: int = 20261125) -> Iterator[Brief]:
    """So many briefs: half from that of S, half from that of M, each with a room, and often limits, of its own."""
    rng = Random(seed)
    for index in range(number):
        yield _varied(demo_brief((SMALL, MEDIUM)[index % 2]), index + 1, rng)


def write_rooms(number: int, folder: Path) -> None:
    """Writes them as files into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for index, brief in enumerate(rooms(number), 1):
        (folder / f"room-{index:03}.toml").write_text(write_brief(brief), encoding="utf-8")


def _varied(brief: Brief, number: int, rng: Random) -> Brief:
    """The room longer, wider and higher or less so, all that stands in it moved in proportion."""
    wider = tuple(rng.uniform(0.9, 1.1) for _ in range(3))
    room = brief.room

    def moved(point: Point) -> Point:
        return Point(*(round(at * by, 2) for at, by in zip((point.x_m, point.y_m, point.z_m), wider, strict=True)))

    limits = brief.limits
    if rng.random() < 0.3:
        limits = replace(limits, spare_outputs=rng.choice((1, 2)))
    if rng.random() < 0.3:
        limits = replace(limits, least_independent_subwoofers=2)
    return replace(
        brief,
        project=replace(brief.project, name=f"Room {number}", reference=f"ROOM-{number:03}"),
        room=replace(
            room,
            length_m=round(room.length_m * wider[0], 2),
            width_m=round(room.width_m * wider[1], 2),
            height_m=round(room.height_m * wider[2], 2),
        ),
        seats=tuple(replace(seat, position=moved(seat.position)) for seat in brief.seats),
        rack=replace(brief.rack, position=moved(brief.rack.position)),
        loudspeakers=tuple(
            replace(
                speakers,
                placements=tuple(
                    place if place.position is None else replace(place, position=moved(place.position))
                    for place in speakers.placements
                ),
            )
            for speakers in brief.loudspeakers
        ),
        subwoofers=tuple(replace(subs, positions=tuple(map(moved, subs.positions))) for subs in brief.subwoofers),
        limits=limits,
    )
