"""Results as charts."""

from collections.abc import Callable, Mapping, Sequence

import altair as alt
import pandas as pd

from planner.brief.records import Measure
from planner.design import Measures
from planner.money import from_minor
from planner.options import Option
from planner.tables.amounts import amount
from planner.words import MEASURE_WORDS, drive_words, offers_words
from ui.ink import ON_LIGHT
from ui.markup import capital

_COUNT_OF: Mapping[Measure, Callable[[Measures], int | None]] = {
    Measure.INDEPENDENT_SUBWOOFERS: lambda measures: measures.independent_subs,
    Measure.SPARE_OUTPUTS: lambda measures: measures.spare_outputs,
    Measure.JOINTS: lambda measures: measures.joints,
    Measure.SUBWOOFERS_LOST: lambda measures: measures.subs_lost_worst,
    Measure.CONVERSIONS: lambda measures: measures.conversions,
    Measure.EARTH_LOOPS: lambda measures: measures.earth_loops,
}

MARGIN = f"{capital(MEASURE_WORDS[Measure.LEAST_MARGIN])}, dB"
SPREAD = "Predicted bass spread, dB"

WHERE_WEIGHED: Mapping[str, Measure] = {
    capital(MEASURE_WORDS[Measure.EARTH_LOOPS]): Measure.EARTH_LOOPS,
    MARGIN: Measure.LEAST_MARGIN,
}
"""The figures of the chart that are offered only where a brief weighs them."""

FIGURE_BY_WORDS: Mapping[str, Callable[[Measures], float | None]] = {
    **{capital(MEASURE_WORDS[measure]): count for measure, count in _COUNT_OF.items()},
    MARGIN: lambda measures: measures.least_margin_db,
    SPREAD: lambda measures: measures.bass_spread_db,
}
"""The figures that a price can be drawn against, by what they are called on the axis."""

_DIGITS_OF_DB = {MARGIN: 1, SPREAD: 2}

# Told apart by shape as well, and in lightness too; readable on the light and the dark ground.
COLOURS = ("#2f7f79", "#c0762b", "#6a6fb5", "#a8476a", "#7d8b2f", "#4d8fc4", "#8a6d5a", "#7a7a7a")
_ROOMY = alt.Scale(zero=False, nice=False, padding=30)
_SHAPES = ("circle", "square", "triangle-up", "diamond", "cross", "triangle-down", "triangle-left", "triangle-right")


def price_against(options: Sequence[Option], words: str, ink: str = ON_LIGHT) -> alt.LayerChart:
    """Every option as a mark: a figure across, its price upwards, its drives by shape and colour.

    `words` is one of `FIGURE_BY_WORDS`, `ink` the colour of the options' names. An option of which the
    figure is not known has no mark.
    """
    kinds = list(dict.fromkeys(drive_words(option.drives) for option in options))
    figures = [(option, FIGURE_BY_WORDS[words](option.measures)) for option in options]
    values = [_mark(option, figure) for option, figure in figures if figure is not None]
    currency = options[0].quote.currency if options else ""
    digits = _DIGITS_OF_DB.get(words, 0)
    form = f".{digits}f" if digits else "d"
    axis = alt.Axis(tickMinStep=10**-digits, format=form)
    base = alt.Chart(pd.DataFrame(values)).encode(
        x=alt.X("measure:Q", title=words, axis=axis, scale=_ROOMY),
        y=alt.Y("price:Q", title=f"Price with tax, {currency}", scale=_ROOMY),
        color=alt.Color("drives:N", title="Subwoofers", sort=kinds, scale=_cycled(kinds, COLOURS)),
        tooltip=[
            alt.Tooltip("option:N", title="Option"),
            alt.Tooltip("words:N", title="Price"),
            alt.Tooltip("measure:Q", title=words, format=form),
            alt.Tooltip("drives:N", title="Subwoofers"),
            alt.Tooltip("offers:N", title="Offers"),
        ],
    )
    marks = base.mark_point(size=130, filled=True, opacity=0.9).encode(
        shape=alt.Shape("drives:N", title="Subwoofers", sort=kinds, scale=_cycled(kinds, _SHAPES))
    )
    names = base.mark_text(align="left", dx=9, fontSize=12).encode(text="option:N", color=alt.value(ink))
    chart: alt.LayerChart = (
        (marks + names).properties(height=440).configure_legend(orient="bottom", columns=2, labelLimit=320)
    )
    return chart


def _mark(option: Option, measure: float) -> dict[str, str | int | float]:
    """One mark. Its height is a place on paper, so a float will do; the words keep the exact price."""
    currency = option.quote.currency
    return {
        "option": option.id,
        "measure": measure,
        "price": float(from_minor(option.measures.price_minor, currency)),
        "words": amount(option.measures.price_minor, currency),
        "drives": drive_words(option.drives),
        "offers": offers_words(option),
    }


def _cycled(kinds: Sequence[str], looks: Sequence[str]) -> alt.Scale:
    return alt.Scale(domain=list(kinds), range=[looks[n % len(looks)] for n in range(len(kinds))])
