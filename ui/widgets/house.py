"""Inputs for the house settings: exchange rates with their dates, margin, labour, tax, and what the papers say."""

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pandas as pd
import streamlit as st
from streamlit.column_config import DateColumn, TextColumn
from tomli_w import dumps

from planner.errors import BadInput
from planner.house import House
from planner.house_file import already_read, read_house_bytes
from ui.markup import literal
from ui.widgets.faults import file_faults
from ui.widgets.keys import Keys
from ui.widgets.stationery import stationery

OLD_AFTER_DAYS = 30
"""Rates older than this are pointed out; common practice, no published source."""


def edited_house(house: House, text: str, on: date, keys: Keys) -> House | None:
    """The settings as they stand in the inputs; None while nothing differs or something is wrong.

    `text` is the settings' file, `on` the day that ages are reckoned to.
    """
    rates = _rates(house, keys)
    old = [code for code, rate in house.rates.items() if (on - rate.dated).days > OLD_AFTER_DAYS]
    if old:
        st.warning(
            f"Older than {OLD_AFTER_DAYS} days on {on.isoformat()}: the rates of {literal(', '.join(old))}.",
            icon=":material/event_busy:",
        )
    left, middle, right = st.columns(3)
    with left:
        is_margin = house.margin_percent is not None
        percent = house.margin_percent if is_margin else house.markup_percent
        words = "Margin, % of the price" if is_margin else "Mark-up, % on cost"
        earned = st.text_input(words, _plain(percent), key=keys("house_earned"))
    with middle:
        labour = st.text_input(
            f"Labour, {literal(house.currency)} an hour", _plain(house.labour_rate), key=keys("house_labour")
        )
    with right:
        tax = st.text_input(f"{literal(house.tax_name)}, %", _plain(house.tax_percent), key=keys("house_tax"))
    papers = stationery(house, keys)
    settings = {
        "margin_percent" if is_margin else "markup_percent": earned.strip(),
        "labour_rate_per_hour": labour.strip(),
        "tax_percent": tax.strip(),
    }
    changed = _changed(text, {**settings, **papers.firm}, rates, papers.papers)
    with_logo = replace(house, stationery=replace(house.stationery, logo=papers.logo))
    try:
        read = read_house_bytes(changed.encode(), beside=already_read(with_logo))
    except BadInput as error:
        file_faults(error.faults, key="house")
        return None
    return None if read == house else read


def _rates(house: House, keys: Keys) -> dict[str, tuple[str, date | None]]:
    """Units of each currency for one of the house's, and the day, as they stand in the table."""
    frame = pd.DataFrame(
        {
            "currency": pd.Series(list(house.rates), dtype="object"),
            "rate": pd.Series([_plain(rate.per_house_unit) for rate in house.rates.values()], dtype="object"),
            "dated": pd.Series([rate.dated for rate in house.rates.values()], dtype="object"),
        }
    )
    edited = st.data_editor(
        frame,
        key=keys("house_rates"),
        num_rows="dynamic",
        hide_index=True,
        column_config={
            "currency": TextColumn("Currency", help="Three letters, such as USD.", width=100),
            "rate": TextColumn(f"For one {house.currency}", help="With a decimal point.", width=140),
            "dated": DateColumn("As of", format="YYYY-MM-DD", width=140),
        },
        alt="Exchange rates",
        placeholder="",
    )
    rows = edited.to_dict("records")
    return {
        row["currency"].strip().upper(): (row["rate"] if isinstance(row["rate"], str) else "", _day(row["dated"]))
        for row in rows
        if isinstance(row["currency"], str) and row["currency"].strip()
    }


def _changed(
    text: str,
    settings: Mapping[str, object],
    rates: Mapping[str, tuple[str, date | None]],
    papers: Mapping[str, object],
) -> str:
    """The settings' file with these entries in place of its own."""
    tree = tomllib.loads(text)
    tree["house"] |= settings
    tree["papers"] = papers
    tree["rates"] = {
        code: {"per_house_unit": rate.strip(), "dated": "" if dated is None else dated}
        for code, (rate, dated) in rates.items()
    }
    return dumps(tree)


def _day(value: object) -> date | None:
    """A typed day comes as text, one of the rows before as a date."""
    text = value.isoformat() if isinstance(value, date) else value
    return date.fromisoformat(text[:10]) if isinstance(text, str) and text else None


def _plain(value: Decimal | None) -> str:
    return "" if value is None else format(value, "f")
