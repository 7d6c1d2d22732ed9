"""The signal-flow diagram read back: nothing overlaps, every line runs from its jack to its jack past every box."""

from collections.abc import Iterator
from functools import cache
from itertools import combinations

import pytest

from planner.catalogue.records import Catalogue
from planner.design import Connection, Design, Jack, Unit, UnitKind
from planner.drawings.signal_flow import signal_flow
from planner.drawings.signal_kinds import STROKES, SignalKind
from planner.wiring.labels import lead_marks
from tests.checks.drawing import stocked
from tests.checks.gear import CATALOGUE
from tests.checks.good_designs import ALL
from tests.drawings import large
from tests.drawings.parsed import SVG, Area, Picture, area_of, overlapping
from tests.plan.demo import NAMES, demo_catalogue, demo_result

A3_MM = (400.0, 277.0)  # ISO 216 A3 across, 10 mm of margin
X_HEIGHT_EM = 0.52  # Helvetica, Adobe Core 14 font metrics: 523 thousandths

_HAND_MADE: dict[str, tuple[Design, Catalogue]] = {
    **{drawn.__name__: (drawn()[0], CATALOGUE) for drawn in ALL},
    **{make.__name__: (make(), large.SHOP) for make in (large.forty_devices, large.no_subwoofer, large.crossed_over)},
    **{f"tangled:{seed}": (large.tangled(seed), large.SHOP) for seed in range(3)},
}
_DEMO = [f"{name}:{which}" for name in NAMES if not name.startswith("impossible") for which in ("first", "last")]
EVERY = (*_HAND_MADE, *_DEMO)


def drawn(name: str) -> tuple[Design, Catalogue]:
    if name in _HAND_MADE:
        return _HAND_MADE[name]
    brief, _, which = name.partition(":")
    return demo_result(brief).options[0 if which == "first" else -1].design, demo_catalogue()


@cache
def picture(name: str) -> Picture:
    design, catalogue = drawn(name)
    return Picture(signal_flow(design, catalogue, f"Signal flow of {name}", "Option 1, 25 November 2026"))


def ports(found: Picture) -> dict[str, tuple[float, float]]:
    spots = {}
    for group in found.groups("port"):
        circle = group.find(f"{SVG}circle")
        if circle is not None:
            spots[group.attrib["data-jack"]] = (float(circle.attrib["cx"]), float(circle.attrib["cy"]))
    return spots


@pytest.mark.parametrize("name", EVERY)
def test_every_device_has_a_box_and_no_two_overlap(name: str) -> None:
    boxes = picture(name).boxes()
    assert set(boxes) == {unit.id for unit in drawn(name)[0].units}
    assert overlapping(list(boxes.values())) == []
    page = Area(0.0, 0.0, picture(name).width, picture(name).height)
    assert all(page.holds(area) for area in (*boxes.values(), *picture(name).texts))


@pytest.mark.parametrize("name", EVERY)
def test_every_line_ends_on_its_jacks(name: str) -> None:
    spots = ports(picture(name))
    boxes = picture(name).boxes()
    lines = picture(name).lines()
    assert {(line.data["source"], line.data["sink"]) for line in lines} == {
        (str(each.source), str(each.sink)) for each in drawn(name)[0].connections
    }
    for line in lines:
        assert line.points[0] == spots[line.data["source"]]
        assert line.points[-1] == spots[line.data["sink"]]
        source, sink = (boxes[line.data[end].split(" / ")[0]] for end in ("source", "sink"))
        assert line.points[0][0] == pytest.approx(source.right, abs=0.02)  # an output is on the right
        assert line.points[-1][0] == pytest.approx(sink.left, abs=0.02)  # an input on the left


@pytest.mark.parametrize("name", EVERY)
def test_lines_are_upright_or_level_and_cross_no_box(name: str) -> None:
    boxes = picture(name).boxes().values()
    for line in picture(name).lines():
        for run in line.runs():
            assert run.left == run.right or run.top == run.bottom
        assert not any(line.crosses(box) for box in boxes)


@pytest.mark.parametrize("name", EVERY)
def test_no_two_lines_lie_on_one_another(name: str) -> None:
    pairs = combinations(picture(name).lines(), 2)
    assert [(one.data["mark"], other.data["mark"]) for one, other in pairs if one.lies_on(other)] == []


@pytest.mark.parametrize("name", EVERY)
def test_no_words_overlap_and_those_of_a_device_stay_in_its_box(name: str) -> None:
    found = picture(name)
    assert overlapping(found.texts) == []
    boxes = found.boxes()
    for group in found.groups("box"):
        box = boxes[group.attrib["data-unit"]]
        for words in group.iter(f"{SVG}text"):
            assert box.holds(area_of(words))


@pytest.mark.parametrize("name", EVERY)
def test_each_lead_has_its_mark_at_both_ends_and_no_other_line_runs_through_it(name: str) -> None:
    found = picture(name)
    marks = [group.attrib["data-mark"] for group in found.groups("mark")]
    assert sorted(marks) == sorted(2 * list(lead_marks(drawn(name)[0]).values()))
    patches = [area for area in found.texts if area.name in marks]
    for line in found.lines():
        others = [patch for patch in patches if patch.name != line.data["mark"]]
        assert not any(line.crosses(patch) for patch in others)


@pytest.mark.parametrize("name", EVERY)
def test_every_jack_in_use_is_named(name: str) -> None:
    named = {group.attrib["data-jack"]: group.findtext(f"{SVG}title") or "" for group in picture(name).groups("port")}
    for connection in drawn(name)[0].connections:
        for jack in (connection.source, connection.sink):
            assert named[str(jack)].startswith(f"{jack.group} {jack.index}")


def test_kinds_of_signal_are_told_apart_without_colour() -> None:
    looks = {(stroke.weight, stroke.dashes) for stroke in STROKES.values()}
    assert len(looks) == len(SignalKind)


@pytest.mark.parametrize(
    ("name", "sink", "kind"),
    [
        ("dedicated", "Sub 1 / RCA 1", "unbalanced"),
        ("dedicated", "Sub 2 / XLR 1", "balanced"),
        ("crossed", "Sub 1 / XLR 1", "converted"),
        ("amplified", "Left / POST 1", "speaker"),
    ],
)
def test_a_line_is_drawn_as_what_it_carries(name: str, sink: str, kind: str) -> None:
    (line,) = [line for line in picture(name).lines() if line.data["sink"] == sink]
    assert line.data["kind"] == kind
    assert kind in {group.attrib["data-kind"] for group in picture(name).groups("legend")}


def test_forty_devices_are_legible_on_a3() -> None:
    found = picture("forty_devices")
    assert len(found.boxes()) >= 40
    scale = min(A3_MM[0] / found.width, A3_MM[1] / found.height)
    smallest = min(float(text.attrib["font-size"]) for text in found.root.iter(f"{SVG}text"))
    # Regulation (EU) No 1169/2011, article 13(3): an x-height of 0.9 mm is the least for print on small packages;
    # from memory.
    assert smallest * scale * X_HEIGHT_EM >= 0.9


@pytest.mark.parametrize("name", ["small-5-1-2-two-subs:first", "stereo-one-sub:first", "stereo-one-sub:last"])
def test_ten_devices_are_legible_on_a_phone(name: str) -> None:
    """A page of 360 px takes in half of it at full size, where the smallest words have 8.5 px. Common practice."""
    found = picture(name)
    assert len(found.boxes()) <= 11
    assert min(float(text.attrib["font-size"]) for text in found.root.iter(f"{SVG}text")) >= 8.5
    assert found.width <= 2 * 360.0


def words_of(found: Picture) -> Iterator[str]:
    return (area.name for area in found.texts)


@pytest.mark.parametrize("name", ["tangled:0", "forty_devices", "sixteen-outputs-one-short:first"])
def test_channels_and_names_of_devices_are_never_cut(name: str) -> None:
    words = " ".join(words_of(picture(name)))
    assert all(unit.id in words for unit in drawn(name)[0].units)
    assert not [
        area.name for area in picture(name).texts if area.name.startswith(("M", "U", "B-", "B+")) and "…" in area.name
    ]


def test_long_names_are_cut_with_their_number_kept() -> None:
    words = list(words_of(picture("forty_devices")))
    assert any(text.endswith("… 18") and text.startswith("ASSIGNABLE") for text in words)
    assert any("17, 20–32 free" in text for text in words)
    full = picture("forty_devices").text
    assert large.LONG in full  # shown whole on pointing, and read aloud


def test_the_same_design_gives_the_same_bytes() -> None:
    design, catalogue = drawn("crossed_over")
    assert signal_flow(design, catalogue, "T") == signal_flow(design, catalogue, "T")


def test_it_has_a_title_and_a_description_and_asks_for_nothing_from_outside() -> None:
    found = picture("by_dsp_unit")
    assert found.root.get("role") == "img"
    assert found.root.findtext(f"{SVG}title") == "Signal flow of by_dsp_unit"
    assert "L001: Proc / AUX 1 to DSP 1 / IN 1" in (found.root.findtext(f"{SVG}desc") or "")
    assert "http" not in found.text.replace("http://www.w3.org/2000/svg", "")


def test_markup_in_names_stays_text() -> None:
    unit = Unit(id="<b>&\"'\x07", sku="P-LINE", kind=UnitKind.PROCESSOR)
    load = Unit(id="Left", sku="LS-ACT", kind=UnitKind.LOUDSPEAKER, member=("Front", 0))
    link = Connection(
        channel="M+030", source=Jack(unit.id, "MAIN", 1), sink=Jack("Left", "XLR", 1), lead=stocked("L-XLR-5", 1.0)
    )
    design = Design(units=(unit, load), connections=(link,), routes=(), purchases=(), labour=(), currency="EUR")
    assert "<b>&\"'" in set(words_of(Picture(signal_flow(design, CATALOGUE, "T"))))


def test_a_design_without_connections_is_a_row_of_boxes() -> None:
    unit = Unit(id="Proc", sku="P-LINE", kind=UnitKind.PROCESSOR)
    design = Design(units=(unit,), connections=(), routes=(), purchases=(), labour=(), currency="EUR")
    assert set(Picture(signal_flow(design, CATALOGUE, "T")).boxes()) == {"Proc"}
