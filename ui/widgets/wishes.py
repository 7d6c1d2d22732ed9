"""What is to be explained beside the option itself: prices that may move, what later money is worth, other rooms."""

from collections.abc import Callable, Mapping
from decimal import Decimal

import streamlit as st

from planner.brief.records import Brief
from planner.errors import Fault
from planner.explain.bands import MOST_BANDS, USUAL_RISE_PERCENT, WantedBand
from planner.explain.explanation import Wishes
from planner.explain.stages import USUAL_DISCOUNT_PERCENT
from ui.answers import Question, Refused, question
from ui.gear import Gear
from ui.markup import literal
from ui.widgets.faults import brief_faults
from ui.widgets.numbers import optional_decimal
from ui.widgets.rows import Cell, Column, Row, edit_rows

_LEAST_PERCENT, _MOST_PERCENT = -100, 1000


def wishes(
    option_id: str, gear: Gear, titles: Mapping[str, str], brief_of: Callable[[str], Brief | None], *, staged: bool
) -> Wishes | Refused:
    """The wishes as they stand in the inputs, or what is wrong with them.

    `titles` are the projects that can be other rooms, by id, and `brief_of` opens one. What money later is
    worth matters only where the brief is `staged`.
    """
    with st.expander("Prices that may move, money later, other rooms"):
        bands = _bands(gear)
        discount = _discount() if staged else USUAL_DISCOUNT_PERCENT
        rooms = _rooms(gear, titles, brief_of)
    faults = [part for part in (bands, rooms) if isinstance(part, Refused)]
    if faults or isinstance(bands, Refused) or isinstance(rooms, Refused):
        return Refused(tuple(fault for part in faults for fault in part.faults))
    return Wishes(option_id=option_id or None, bands=bands, discount_percent=discount, rooms=rooms)


def _bands(gear: Gear) -> tuple[WantedBand, ...] | Refused:
    suppliers = {offer.supplier for of_sku in gear.catalogue.offers.values() for offer in of_sku}
    columns = (
        Column(
            name="name",
            heading="Exchange rate, or supplier",
            cell=Cell.CHOICE,
            choices=(*sorted(gear.house.rates), *sorted(suppliers)),
            width=220,
        ),
        Column(name="low", heading="From, %", cell=Cell.NUMBER, help="Below zero: cheaper than today.", width=90),
        Column(name="high", heading="To, %", cell=Cell.NUMBER, help="Above zero: dearer than today.", width=90),
    )
    st.markdown("**Prices that may move**")
    rows = edit_rows(columns, (), key="why_bands", label="Prices that may move")
    st.caption(f"Up to {MOST_BANDS}. Without any row, what most of the money hangs on moves by {USUAL_RISE_PERCENT} %.")
    faults = [_unfit(number, row) for number, row in enumerate(rows, 1) if not _fits(row)]
    if faults:
        return Refused(tuple(faults))
    return tuple((row.text("name"), _percent(row.number("low")), _percent(row.number("high"))) for row in rows)


def _fits(row: Row) -> bool:
    """A name with two percentages; a comparison with an empty cell is never true."""
    return bool(row.text("name")) and _LEAST_PERCENT < row.number("low") <= row.number("high") <= _MOST_PERCENT


def _percent(typed: float) -> Decimal:
    """The digits that were typed, without the ".0" of a whole number."""
    return Decimal(f"{typed:.12g}")


def _unfit(number: int, row: Row) -> Fault:
    percents = (row.optional_number(end) for end in ("low", "high"))
    found = (row.text("name") or "no name", *("no percentage" if each is None else f"{each:g} %" for each in percents))
    return Fault(
        where=f"Prices that may move {number}",
        value=", ".join(found),
        expected=f"a rate or supplier and two percentages above {_LEAST_PERCENT}, the lower first",
        remedy="Fill in the row, or remove it.",
    )


def _discount() -> Decimal:
    typed = optional_decimal(
        "Money a year later counts for less by, %",
        USUAL_DISCOUNT_PERCENT,
        key="why_discount",
        empty=f"{USUAL_DISCOUNT_PERCENT}",
        help="For weighing what is bought now against what the later stages will cost.",
    )
    return USUAL_DISCOUNT_PERCENT if typed is None or not 0 <= typed <= _MOST_PERCENT else _percent(float(typed))


def _rooms(
    gear: Gear, titles: Mapping[str, str], brief_of: Callable[[str], Brief | None]
) -> tuple[Brief, ...] | Refused:
    chosen = st.multiselect(
        "Other rooms in the same order",
        list(titles),
        format_func=titles.__getitem__,
        key="why_rooms",
        placeholder="none",
        help="Projects that are kept here. All rooms are bought with this project's gear and prices.",
    )
    rooms: list[Brief] = []
    for project in chosen:
        draft = brief_of(project)
        asked = Refused(()) if draft is None else question(draft, gear)
        if not isinstance(asked, Question):
            st.markdown(f"The brief of **{literal(titles[project])}** is not sound yet.")
            if asked.faults:
                brief_faults(asked.faults)
            return Refused(())
        rooms.append(asked.brief)
    return tuple(rooms)
