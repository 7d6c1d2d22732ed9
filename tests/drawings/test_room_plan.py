"""The room read back from its pictures: everything stands where the brief puts it, to scale, and no words overlap."""

import random
import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import cache

import pytest

from planner.brief.records import Brief, LoudspeakerSet, Placement, Point, Room, Seat, SubwooferSet
from planner.channels import CHANNELS
from planner.design import Design, UnitKind
from planner.drawings.room_plan import room_plan, room_section
from planner.placement import member_positions
from planner.wiring.labels import lead_marks
from tests.checks import good_designs
from tests.checks.drawing import Drawing, stocked
from tests.checks.good_designs import ALL
from tests.drawings.parsed import SVG, Area, Picture, overlapping, rect_area
from tests.plan.demo import NAMES, demo_brief, demo_result

_LABELS = [channel.label for channel in CHANNELS if not channel.label.startswith("LFE")]
_DEMO = [name for name in NAMES if not name.startswith("impossible")]
EVERY = (*(drawn.__name__ for drawn in ALL), *_DEMO, "crowded:1", "crowded:2", "crowded:3", "corner", "hall")


def crowded(seed: int) -> tuple[Design, Brief]:
    """22 loudspeakers, 4 subwoofers and 9 seats with long names, anywhere in a small room."""
    rng = random.Random(seed)

    def somewhere() -> Point:
        return Point(round(rng.uniform(0, 4.1), 2), round(rng.uniform(0, 3.3), 2), round(rng.uniform(0, 2.4), 2))

    drawing = Drawing()
    drawing.unit(UnitKind.PROCESSOR, "Proc", "P-LINE")
    for index, label in enumerate(_LABELS[:22]):
        drawing.loudspeaker(label, "LS-ACT", "Front", index)
        drawing.link(label, f"Proc/MAIN/{index + 1}", f"{label}/XLR/1", stocked("L-XLR-5", 4.0))
    drawing.subwoofers("SW-ACT", 4)
    for index in range(4):
        drawing.link("LFE1", f"Proc/AUX/{index + 1}", f"Sub {index + 1}/XLR/1", stocked("L-XLR-5", 4.0))
    fronts = LoudspeakerSet(
        name="Front", placements=tuple(Placement(channel=label, position=somewhere()) for label in _LABELS[:22])
    )
    bass = SubwooferSet(name="Bass", least=4, most=4, positions=tuple(somewhere() for _ in range(4)))
    seats = tuple(Seat(name=f"Großmütterchens Sessel Nr. {n}", position=somewhere()) for n in range(9))
    room = Room(length_m=4.1, width_m=3.3, height_m=2.4)
    base = good_designs.brief()
    return drawing.design(), replace(base, room=room, loudspeakers=(fronts,), subwoofers=(bass,), seats=seats)


def corner() -> tuple[Design, Brief]:
    """Everything in one corner, on one spot."""
    design, brief = good_designs.dedicated()
    spot = Point(0.0, 0.0, 0.0)
    fronts = replace(
        brief.loudspeakers[0], placements=tuple(replace(p, position=spot) for p in brief.loudspeakers[0].placements)
    )
    bass = replace(brief.subwoofers[0], positions=(spot, spot))
    return design, replace(
        brief, loudspeakers=(fronts,), subwoofers=(bass,), rack=replace(brief.rack, position=spot)
    )  # fmt: skip


def hall() -> tuple[Design, Brief]:
    """As large as a room may be."""
    design, brief = good_designs.dedicated()
    return design, replace(brief, room=Room(length_m=100.0, width_m=100.0, height_m=30.0))


def drawn(name: str) -> tuple[Design, Brief]:
    if name in _DEMO:
        return demo_result(name).options[0].design, demo_brief(name)
    kind, _, seed = name.partition(":")
    if kind == "crowded":
        return crowded(int(seed))
    if name in ("corner", "hall"):
        return corner() if name == "corner" else hall()
    return next(make for make in ALL if make.__name__ == name)()


@cache
def plan(name: str) -> Picture:
    return Picture(room_plan(*drawn(name), "Room plan", name))


@cache
def section(name: str) -> Picture:
    return Picture(room_section(*drawn(name), "Section", name))


def room_of(found: Picture) -> Area:
    (group,) = found.groups("room")
    rect = group.find(f"{SVG}rect")
    assert rect is not None
    return rect_area(rect)


def middle(shape: ET.Element) -> tuple[float, float]:
    """The middle of a sign: of its rectangle or circle, or of a wedge, halfway from its back to its mouth."""
    if shape.tag == f"{SVG}circle":
        return float(shape.attrib["cx"]), float(shape.attrib["cy"])
    if shape.tag == f"{SVG}polygon":
        corners = wedge(shape)
        back, mouth = (corners[0], corners[5]), (corners[2], corners[3])
        xs, ys = zip(*back, *mouth, strict=True)
        return sum(xs) / 4, sum(ys) / 4
    area = rect_area(shape)
    return (area.left + area.right) / 2, (area.top + area.bottom) / 2


def wedge(shape: ET.Element) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in shape.attrib["points"].split())]


@pytest.mark.parametrize("name", EVERY)
def test_the_room_and_the_scale_bar_have_one_scale(name: str) -> None:
    brief = drawn(name)[1]
    for found, across_m, down_m in (
        (plan(name), brief.room.width_m, brief.room.length_m),
        (section(name), brief.room.length_m, brief.room.height_m),
    ):
        room = room_of(found)
        unit = (room.right - room.left) / across_m
        assert (room.bottom - room.top) / down_m == pytest.approx(unit, rel=1e-3)
        (scale,) = found.groups("scale")
        bars = [rect_area(rect) for rect in scale.iter(f"{SVG}rect")]
        none, *marks = (text.text or "" for text in scale.iter(f"{SVG}text"))
        lengths_m = [float(mark.removesuffix(" m")) for mark in marks]
        assert none == "0"
        assert [bar.right - bars[0].left for bar in bars] == pytest.approx([m * unit for m in lengths_m], rel=1e-3)


@pytest.mark.parametrize("name", EVERY)
def test_everything_stands_where_the_brief_puts_it(name: str) -> None:
    design, brief = drawn(name)
    room, positions = room_of(plan(name)), member_positions(brief)
    unit = (room.right - room.left) / brief.room.width_m
    wanted = {each.id: positions[each.member] for each in design.units if each.member is not None}
    wanted |= {seat.name: seat.position for seat in brief.seats} | {"Rack": brief.rack.position}
    found = {group.attrib["data-thing"]: group for group in plan(name).groups("thing") if _placed(group, plan(name))}
    assert set(found) == set(wanted)
    for thing, group in found.items():
        x, y = middle(next(shape for shape in group if shape.tag != f"{SVG}title"))
        assert x == pytest.approx(room.left + wanted[thing].y_m * unit, abs=0.02)
        assert y == pytest.approx(room.top + wanted[thing].x_m * unit, abs=0.02)


def _placed(group: ET.Element, found: Picture) -> bool:
    """Whether a sign is in the picture, not in its legend: only those have a label."""
    return group.attrib["data-thing"] in {label.attrib["data-thing"] for label in found.groups("label")}


@pytest.mark.parametrize("name", EVERY)
def test_no_words_overlap_nor_leave_the_page(name: str) -> None:
    for found in (plan(name), section(name)):
        level = [text for text in found.root.iter(f"{SVG}text") if "transform" not in text.attrib]
        areas = [area for text, area in zip(found.root.iter(f"{SVG}text"), found.texts, strict=True) if text in level]
        assert overlapping(areas) == []
        page = Area(0.0, 0.0, found.width, found.height)
        assert all(page.holds(area) for area in areas)


@pytest.mark.parametrize("name", EVERY)
def test_no_label_covers_a_sign_or_a_wall_or_another_label(name: str) -> None:
    found = plan(name)
    room = room_of(found)
    patches = []
    for group in found.groups("label"):
        rect = group.find(f"{SVG}rect")
        assert rect is not None
        patches.append(rect_area(rect))
    assert overlapping(patches) == []
    for patch in patches:
        inside = room.holds(patch)
        outside = not room.overlaps(patch)
        assert inside or outside


@pytest.mark.parametrize("name", EVERY)
def test_every_lead_that_leaves_the_rack_has_a_way_along_the_axes(name: str) -> None:
    design, brief = drawn(name)
    positions = member_positions(brief)
    at = {each.id: positions[each.member] if each.member else brief.rack.position for each in design.units}
    room = room_of(plan(name))
    unit = (room.right - room.left) / brief.room.width_m
    ends = [(at[each.source.unit], at[each.sink.unit]) for each in lead_marks(design)]
    wanted = [abs(a.x_m - b.x_m) + abs(a.y_m - b.y_m) for a, b in ends if a != b]
    ways = plan(name).lines("way")
    for way, length_m in zip(ways, wanted, strict=True):
        assert all(run.left == run.right or run.top == run.bottom for run in way.runs())
        length = sum(run.right - run.left + run.bottom - run.top for run in way.runs())
        assert length / unit == pytest.approx(length_m, abs=0.01)


def test_the_way_keeps_to_the_walls() -> None:
    """The rack of this brief is in the corner: every way starts along one of the two walls there."""
    room = room_of(plan("dedicated"))
    assert drawn("dedicated")[1].rack.position == Point(0, 0, 0)
    for way in plan("dedicated").lines("way"):
        assert way.points[1] in ((way.points[1][0], room.top), (room.left, way.points[1][1]))


def test_loudspeakers_point_at_the_primary_seat() -> None:
    """In this room the seat is at (4, 2): the left loudspeaker at (1, 1) looks backwards and to the right."""
    (left,) = [group for group in plan("dedicated").groups("thing") if group.attrib["data-thing"] == "Left"]
    shape = left.find(f"{SVG}polygon")
    assert shape is not None
    corners = wedge(shape)
    across = (corners[2][0] + corners[3][0]) - (corners[0][0] + corners[5][0])
    down = (corners[2][1] + corners[3][1]) - (corners[0][1] + corners[5][1])
    assert down / across == pytest.approx(3.0, rel=0.02)  # 3 m back, 1 m to the right


def test_labels_say_where_and_by_which_lead() -> None:
    words = {area.name for area in plan("crossed").texts}
    assert {"Centre", "L005, L006", "1.00, 2.00, 1.00", "width 4.00 m"} <= words


def test_what_hides_one_another_in_the_section_shares_a_label() -> None:
    words = {area.name for area in section("daisy_chain").texts}
    assert {"Left, Right, Centre", "Sub 1, Sub 2", "0.00 m up", "1.00 m up"} <= words


@pytest.mark.parametrize("name", ["cinema-7-1-4-four-mixed-subs", "desk-no-subwoofer"])
def test_what_hangs_overhead_brings_its_caution(name: str) -> None:
    said = " ".join(area.name for area in plan(name).texts)
    assert ("second, independent one" in said) is name.startswith("cinema")


@pytest.mark.parametrize("name", ["crowded:1", "corner"])
def test_the_same_room_gives_the_same_bytes(name: str) -> None:
    assert room_plan(*drawn(name), "Room plan", name) == plan(name).text
    assert room_section(*drawn(name), "Section", name) == section(name).text
