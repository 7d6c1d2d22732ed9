"""The pictures of the bass: every figure in them is the study's, and each says that it is a prediction."""

import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest

from planner.bass import BassStudy, bass_study
from planner.bass.outcome import seat_differences_db
from planner.drawings.axes import Axes
from planner.drawings.bass_curves import apart, seat_curves_svg
from planner.drawings.bass_plan import bass_plan_svg, colour, signed
from planner.drawings.bass_spread import spread_svg
from tests.bass.example import BRIEF, CATALOGUE, FRONT

SVG = "{http://www.w3.org/2000/svg}"
STUDY = bass_study(replace(BRIEF, subwoofers=(FRONT,)), CATALOGUE)
PICTURES = (seat_curves_svg, spread_svg, bass_plan_svg)
Picture = Callable[[BassStudy], str]


def words(svg: str) -> list[str]:
    return [text.text or "" for text in ET.fromstring(svg).iter(f"{SVG}text")]


def groups(svg: str, name: str) -> list[ET.Element]:
    return [group for group in ET.fromstring(svg).iter(f"{SVG}g") if group.get("class") == name]


def points(group: ET.Element) -> list[tuple[float, float]]:
    line = next(group.iter(f"{SVG}polyline"))
    return [(float(x), float(y)) for x, _, y in (pair.partition(",") for pair in line.attrib["points"].split())]


@pytest.mark.parametrize("picture", PICTURES)
def test_each_says_that_it_is_a_prediction_and_asks_for_no_file(picture: Picture) -> None:
    svg = picture(STUDY)
    assert "to be confirmed by measurement" in " ".join(words(svg))
    assert "href" not in svg
    assert "Source Sans 3" in svg
    assert svg == picture(STUDY)


@pytest.mark.parametrize("picture", PICTURES)
def test_a_name_is_text_and_never_markup(picture: Picture) -> None:
    seats = (replace(STUDY.seats[0], name="<b>&\x00 'Sofa'"), *STUDY.seats[1:])
    ET.fromstring(picture(replace(STUDY, seats=seats)))


def test_one_seat_differs_from_no_other_and_is_drawn() -> None:
    study = bass_study(replace(BRIEF, seats=BRIEF.seats[:1], subwoofers=(FRONT,)), CATALOGUE)
    for picture in PICTURES:
        ET.fromstring(picture(study))


def test_there_is_a_curve_for_each_seat_before_and_after() -> None:
    found = groups(seat_curves_svg(STUDY), "seat")
    assert [group.get("data-seat") for group in found] == [seat.name for seat in STUDY.seats] * 2
    first = [y for _, y in points(found[0])]
    level = STUDY.before.by_seat[0].level_db
    assert len(first) == len(STUDY.frequency_hz)
    assert first.index(min(first)) == level.index(max(level))


def test_heights_of_the_spread_are_in_proportion_to_the_deviation() -> None:
    (before, after) = groups(spread_svg(STUDY), "spread")
    for group, outcome in ((before, STUDY.before), (after, STUDY.ways[-1].outcome)):
        heights = [230.0 - y for _, y in points(group)]
        deviations = [one.deviation_db for one in outcome.by_frequency]
        per_db = max(heights) / max(deviations)
        assert heights == pytest.approx([per_db * one for one in deviations], abs=0.02)


def test_the_plan_writes_the_difference_of_each_seat_before_and_after() -> None:
    svg = bass_plan_svg(STUDY, 40.0, 40.0)
    expected = [
        signed(value)
        for outcome in (STUDY.before, STUDY.ways[-1].outcome)
        for value in seat_differences_db(outcome, 40.0, 40.0)
    ]
    shown = [next(group.iter(f"{SVG}text")).text for group in groups(svg, "seat")]
    assert shown == expected
    assert "40 Hz, dB against the mean of the seats" in words(svg)


def test_the_differences_add_up_to_nothing_by_weight() -> None:
    """The mean that they are against is weighted as the seats are."""
    weights = [2.0 if seat.primary else 1.0 for seat in STUDY.seats]
    for low, high in ((20.0, 80.0), (50.0, 50.0), (33.3, 33.4)):
        values = seat_differences_db(STUDY.before, low, high)
        assert sum(w * value for w, value in zip(weights, values, strict=True)) == pytest.approx(0.0, abs=1e-9)


def test_the_plan_is_to_scale_with_the_front_at_the_top() -> None:
    seats = groups(bass_plan_svg(STUDY), "seat")[: len(STUDY.seats)]
    circles = [list(group.iter(f"{SVG}circle"))[-1] for group in seats]
    across = [float(circle.attrib["cx"]) for circle in circles]
    down = [float(circle.attrib["cy"]) for circle in circles]
    first, last = STUDY.seats[0].position, STUDY.seats[-1].position
    scale = (across[-1] - across[0]) / (last.y_m - first.y_m)
    assert (down[-1] - down[0]) / (last.x_m - first.x_m) == pytest.approx(scale, rel=1e-3)
    assert scale > 0


def test_one_subwoofer_has_one_panel() -> None:
    alone = bass_study(replace(BRIEF, subwoofers=(replace(FRONT, least=1, most=1),)), CATALOGUE)
    assert len(groups(seat_curves_svg(alone), "axes")) == len(groups(spread_svg(alone), "spread")) == 1
    assert len(groups(bass_plan_svg(alone), "seat")) == len(alone.seats)


def test_louder_and_softer_differ_in_colour_and_in_sign() -> None:
    assert colour(0.0) == "#ffffff"
    assert colour(3.0) != colour(-3.0) != colour(0.0)
    assert (signed(3.0), signed(-3.0), signed(0.04)) == ("+3.0", "\N{MINUS SIGN}3.0", "0.0")


def test_labels_keep_their_order_and_their_distance_within_the_range() -> None:
    moved = apart([9.0, 1.0, 1.0, 9.5, 9.6], 2.0, 0.0, 10.0)
    ordered = sorted(moved)
    assert all(b - a >= 2.0 - 1e-9 for a, b in pairwise(ordered))
    assert (min(moved) >= 0.0, max(moved) <= 10.0) == (True, True)
    assert moved[1] < moved[2] < moved[0] < moved[3] < moved[4]


def test_a_value_beyond_the_scale_is_drawn_at_its_edge() -> None:
    axes = Axes(left=0.0, upper=0.0, width=10.0, height=10.0, low=0.0, high=1.0, bottom=-1.0, top=1.0)
    assert axes.spot(0.5, 9.0) == (5.0, 0.0)
    assert axes.spot(0.5, -9.0) == (5.0, 10.0)
