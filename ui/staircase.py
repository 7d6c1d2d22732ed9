"""A staircase of least prices as a chart."""

from collections.abc import Sequence

import altair as alt
import pandas as pd

from planner.explain.price_steps import Staircase, Step
from planner.explain.report.staircases import price_words
from planner.money import from_minor
from planner.tables.amounts import amount, difference
from ui.charts import COLOURS
from ui.ink import ON_LIGHT
from ui.markup import capital


def staircase(stairs: Staircase, currency: str, ink: str = ON_LIGHT) -> alt.LayerChart:
    """A bar for each step, as high as its least price, with what it costs beyond the brief written on it.

    Steps at which another processor is needed have a look of their own; those without a design have no bar.
    `ink` is the colour of the words.
    """
    kinds = ["as in the brief", "the processor stays", "another processor"]
    values = [_bar(step, currency, kinds) for step in stairs.steps]
    base = alt.Chart(pd.DataFrame(values)).encode(
        x=alt.X("count:O", title=capital(stairs.axis.value.replace("_", " ")), axis=alt.Axis(labelAngle=0)),
        y=alt.Y("price:Q", title=f"Least price with tax, {currency}", scale=alt.Scale(zero=True)),
        tooltip=[alt.Tooltip("words:N", title="Price"), alt.Tooltip("over:N", title="Over the brief")],
    )
    colours = alt.Scale(domain=kinds, range=[COLOURS[1], COLOURS[0], COLOURS[2]])
    bars = base.mark_bar().encode(color=alt.Color("kind:N", title=None, sort=kinds, scale=colours))
    words = base.mark_text(dy=-8, fontSize=12, color=ink).encode(text="over:N")
    chart: alt.LayerChart = (bars + words).properties(height=360).configure_legend(orient="bottom", labelLimit=320)
    return chart


def _bar(step: Step, currency: str, kinds: Sequence[str]) -> dict[str, str | int | float | None]:
    """One bar; its height is a place on paper, its words keep the exact price."""
    price, over = step.answer.price_minor, step.over_today_minor
    if price is None:
        words = price_words(step.answer, currency)  # no design, or not settled
        return {"count": step.count, "price": None, "words": words, "over": words, "kind": kinds[1]}
    other = step.gear is not None and step.gear.processor
    return {
        "count": step.count,
        "price": float(from_minor(price, currency)),
        "words": amount(price, currency),
        "over": difference(over, currency) if over else "as briefed",
        "kind": kinds[0] if not over and not step.change else kinds[2] if other else kinds[1],
    }
