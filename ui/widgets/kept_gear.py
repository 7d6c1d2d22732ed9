"""Inputs for gear that the client has, gear to leave out, and stages to come."""

import streamlit as st

from planner.brief.records import LaterStage, Owned
from ui.widgets.items import ItemNames
from ui.widgets.keys import Keys
from ui.widgets.labels import LABELS
from ui.widgets.rows import Cell, Column, edit_rows

_LATER = (
    Column(name="name", heading=LABELS["later.name"], cell=Cell.TEXT),
    Column(name="layout", heading=LABELS["later.layout"], cell=Cell.TEXT, help="A layout such as 7.1.4."),
    Column(name="subwoofers", heading=LABELS["later.subwoofers"], cell=Cell.WHOLE),
    Column(name="years", heading=LABELS["later.years"], cell=Cell.NUMBER),
)


def owned(seed: tuple[Owned, ...], items: ItemNames, keys: Keys) -> tuple[Owned, ...]:
    """The gear that the client has, as it stands in the table."""
    offered = items.with_skus(gear.sku for gear in seed)
    columns = (
        Column(
            name="sku",
            heading=LABELS["owned.sku"],
            cell=Cell.CHOICE,
            choices=offered.skus,
            words=offered.words,
            width=380,
        ),
        Column(name="count", heading=LABELS["owned.count"], cell=Cell.WHOLE, start=1, width=90),
        Column(
            name="must_use",
            heading=LABELS["owned.must_use"],
            cell=Cell.TICK,
            help="Every one of them has a place in the design.",
            width=110,
        ),
    )
    rows = edit_rows(
        columns,
        ({"sku": gear.sku, "count": gear.count, "must_use": gear.must_use} for gear in seed),
        key=keys("owned"),
        label="Gear that the client has",
    )
    return tuple(Owned(sku=row.text("sku"), count=row.whole("count"), must_use=row.tick("must_use")) for row in rows)


def excluded(seed: tuple[str, ...], items: ItemNames, keys: Keys) -> tuple[str, ...]:
    """The gear not to be used."""
    offered = items.with_skus(seed)
    chosen = st.multiselect(
        LABELS["excluded"],
        offered.skus,
        default=list(seed),
        format_func=offered.words,
        key=keys("excluded"),
        placeholder="nothing left out",
    )
    return tuple(chosen)


def later(seed: tuple[LaterStage, ...], keys: Keys) -> tuple[LaterStage, ...]:
    """Stages to come, as they stand in the table."""
    rows = edit_rows(
        _LATER,
        (
            {"name": stage.name, "layout": stage.layout, "subwoofers": stage.subwoofers, "years": stage.years}
            for stage in seed
        ),
        key=keys("later"),
        label="Stages to come",
    )
    return tuple(
        LaterStage(
            name=row.text("name"),
            layout=row.text("layout"),
            subwoofers=row.whole("subwoofers"),
            years=row.number("years"),
        )
        for row in rows
    )
