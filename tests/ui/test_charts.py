"""The chart of price against a measure shows the figures of the options, in shape as well as colour."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from planner.brief.records import Measure
from planner.options import Option
from planner.words import MEASURE_WORDS
from tests.cli.example import CHEAPEST, DEARER
from ui.charts import FIGURE_BY_WORDS, MARGIN, SPREAD, price_against
from ui.markup import capital

OTHER = replace(DEARER, drives={"dedicated": 5})


def drawn(*options: Option, measure: Measure = Measure.SUBWOOFERS_LOST) -> Any:
    return price_against(options, capital(MEASURE_WORDS[measure])).to_dict()


def marks(chart: Any) -> list[Any]:
    (values,) = chart["datasets"].values()
    return list(values)


def test_every_measure_but_the_price_can_be_drawn_and_the_bass_spread() -> None:
    counts = {capital(MEASURE_WORDS[measure]) for measure in set(Measure) - {Measure.PRICE, Measure.LEAST_MARGIN}}
    assert set(FIGURE_BY_WORDS) == {*counts, MARGIN, SPREAD}
    assert f"{capital(MEASURE_WORDS[Measure.LEAST_MARGIN])}, dB" == MARGIN


def test_earth_loops_are_drawn_as_a_count_and_the_margin_in_decibels() -> None:
    known = replace(OTHER, measures=replace(OTHER.measures, earth_loops=4, least_margin_db=5.74))
    loops, margin = (price_against((CHEAPEST, known), words).to_dict() for words in ("Earth loops", MARGIN))
    assert [(mark["option"], mark["measure"]) for mark in marks(loops)] == [("2", 4)]
    assert [(mark["option"], mark["measure"]) for mark in marks(margin)] == [("2", 5.74)]
    axes = [chart["layer"][0]["encoding"]["x"]["axis"] for chart in (loops, margin)]
    assert axes == [{"format": "d", "tickMinStep": 1}, {"format": ".1f", "tickMinStep": 0.1}]


def test_an_option_without_a_spread_has_no_mark() -> None:
    predicted = replace(OTHER, measures=replace(OTHER.measures, bass_spread_db=1.14))
    found = marks(price_against((CHEAPEST, predicted), SPREAD).to_dict())
    assert [(mark["option"], mark["measure"]) for mark in found] == [("2", 1.14)]


def test_the_marks_are_the_options() -> None:
    found = marks(drawn(CHEAPEST, OTHER))
    assert [(mark["option"], mark["measure"]) for mark in found] == [("1", 3), ("2", 1)]
    assert [Decimal(str(mark["price"])) for mark in found] == [Decimal("8988.0"), Decimal("9818.0")]
    assert found[0]["words"] == "EUR 8,988.00"


def test_what_differs_in_colour_differs_in_shape() -> None:
    points = drawn(CHEAPEST, OTHER)["layer"][0]["encoding"]
    for name in ("shape", "color"):
        scale = points[name]["scale"]
        assert len(set(scale["range"])) == len(scale["domain"]) == 2
    assert points["shape"]["field"] == points["color"]["field"] == "drives"


def test_tooltips_speak_in_words() -> None:
    tips = drawn(CHEAPEST, OTHER)["layer"][0]["encoding"]["tooltip"]
    assert {tip["field"] for tip in tips} == {"option", "words", "measure", "drives", "offers"}


@pytest.mark.parametrize("count", [0, 1, 9])
def test_any_number_of_options_can_be_drawn(count: int) -> None:
    options = [replace(CHEAPEST, id=str(n), drives={"dsp": n}) for n in range(count)]
    assert drawn(*options, measure=Measure.JOINTS)["layer"]
