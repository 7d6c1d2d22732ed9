"""E1 as printed: a staircase an axis, drawn with bars, and the table of channels against subwoofers."""

from collections.abc import Iterator, Sequence

from planner.comparison.words import Names
from planner.explain.least import Answer, Settled
from planner.explain.price_steps import Axis, Drives, PriceSteps, Square, Staircase
from planner.explain.sentences import AXIS_TITLES, headlines, step_sentence
from planner.tables.amounts import difference, figure
from planner.tables.layout import Column, grid, paragraph, section

_BAR = 22


def step_sections(steps: PriceSteps, currency: str, name_by_sku: Names) -> Iterator[str]:
    """Every staircase with any drive and, where it differs, with an output for each subwoofer; then the table."""
    said = [line for text in headlines(steps, currency) for line in paragraph(text)]
    limits = "Every price is the least of its own brief: the limits stay as they are, the budget is left open."
    yield from section("Price steps", [*said, "", *paragraph(limits)])
    for stairs in steps.staircases:
        if stairs.drives is Drives.ANY or stairs.axis in (Axis.CHANNELS, Axis.SUBWOOFERS):
            yield from _staircase(stairs, currency, name_by_sku)
    yield from _table(steps.table, currency)


def _staircase(stairs: Staircase, currency: str, name_by_sku: Names) -> list[str]:
    columns = (
        Column("Count", right=True),
        Column("Change", right=True),
        Column(currency, right=True),
        Column("Over brief", right=True),
        Column("Step", right=True),
        Column(""),
    )
    most = max((step.answer.price_minor or 0 for step in stairs.steps), default=0)
    rows = [
        (
            str(step.count),
            f"{step.change:+d}" if step.change else "-",
            price_words(step.answer, currency),
            _difference(step.over_today_minor, currency),
            _difference(step.over_last_minor, currency),
            _bar(step.answer.price_minor, most),
        )
        for step in stairs.steps
    ]
    noted = stairs.drives is Drives.ANY
    told = [s for s in stairs.steps if (noted and s.note) or (s.gear is not None and s.gear.processor)]
    notes = [
        line for step in told for line in paragraph(step_sentence(step, stairs, currency, name_by_sku), "  ", "- ")
    ]
    every = ", every subwoofer on a processor output of its own" if stairs.drives is Drives.DEDICATED else ""
    return section(
        AXIS_TITLES[stairs.axis] + every, [*grid(columns, rows), "", *notes] if notes else grid(columns, rows)
    )


def price_words(answer: Answer, currency: str) -> str:
    """A least price, or why there is none."""
    match answer.settled:
        case Settled.FOUND if answer.price_minor is not None:
            return figure(answer.price_minor, currency)
        case Settled.NONE:
            return "no design"
    return "not settled" if answer.at_most_minor is None else f"at most {figure(answer.at_most_minor, currency)}"


def _difference(minor: int | None, currency: str) -> str:
    return difference(minor, currency) if minor else "-"


def _bar(price: int | None, most: int) -> str:
    """As long as the price is high, the dearest step being the longest."""
    return "" if price is None or not most else "#" * max(round(_BAR * price / most), 1)


def _table(squares: Sequence[Square], currency: str) -> list[str]:
    across = sorted({square.subwoofers_change for square in squares})
    if len(across) < 2:
        return []
    answer_at = {(s.channels_change, s.subwoofers_change): s.answer for s in squares}
    columns = (
        Column("Channels"),
        *(Column(f"{change:+d} sub" if change else "brief", right=True) for change in across),
    )
    rows = [
        (
            f"{channels:+d}" if channels else "brief",
            *(_whole(answer_at[channels, change], currency) for change in across),
        )
        for channels in sorted({square.channels_change for square in squares})
    ]
    title = f"Loudspeaker channels against subwoofers, {currency}, any drive"
    lines = grid(columns, rows)
    if any(answer.settled is Settled.OPEN for answer in answer_at.values()):
        lines += ["", *paragraph("<: at most; whether it can be less was not settled in time. ?: not settled in time.")]
    return section(title, lines)


def _whole(answer: Answer, currency: str) -> str:
    """A price without its minor units, so that seven stand side by side."""
    match answer.settled:
        case Settled.FOUND if answer.price_minor is not None:
            return figure(answer.price_minor, currency).split(".")[0]
        case Settled.NONE:
            return "-"
    return "?" if answer.at_most_minor is None else f"<{figure(answer.at_most_minor, currency).split('.')[0]}"
