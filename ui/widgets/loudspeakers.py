"""Inputs for the layout and the loudspeaker sets."""

import math

import streamlit as st

from planner.brief.records import LoudspeakerSet, Placement, Point
from planner.channels import CHANNELS, display_name, is_bass
from planner.layouts import LAYOUTS, find_layout
from ui.widgets.items import ItemNames
from ui.widgets.keys import Keys
from ui.widgets.labels import LABELS
from ui.widgets.room import position_cells, position_columns, position_of
from ui.widgets.rows import Cell, Column, Row, edit_rows, with_unnamed

_PLACEMENTS = (
    Column(
        name="set",
        heading=LABELS["loudspeakers.name"],
        cell=Cell.TEXT,
        help="Loudspeakers of one set are all the same model.",
    ),
    Column(
        name="channel",
        heading=LABELS["loudspeakers.channels"],
        cell=Cell.CHOICE,
        help="The label of ITU-R BS.2051, with plain words.",
        choices=tuple(channel.label for channel in CHANNELS if not is_bass(channel.label)),
        words=display_name,
    ),
)


def layout(seed: str, keys: Keys) -> str:
    """The name of the layout chosen."""
    chosen = find_layout(seed)
    titles = {seed if known is chosen else known.name: known.title for known in LAYOUTS}
    names = (*titles,) if chosen else (seed, *titles)
    return st.selectbox(
        LABELS["layout"],
        names,
        index=names.index(seed),
        format_func=lambda name: titles.get(name, name),
        key=keys("layout"),
        help="Its angles, from ITU-R BS.2051 where that has the layout, place every loudspeaker without a position.",
    )


def loudspeakers(seed: tuple[LoudspeakerSet, ...], items: ItemNames, keys: Keys) -> tuple[LoudspeakerSet, ...]:
    """The loudspeaker sets as they stand in the two tables, joined by the set's name."""
    st.markdown("**Sets**: which model, or what level to reach")
    sets = edit_rows(
        _set_columns(items),
        (
            {"name": group.name, "candidates": list(group.candidates), "target_spl_db": group.target_spl_db}
            for group in seed
        ),
        key=keys("loudspeaker_sets"),
        label="Loudspeaker sets",
    )
    st.markdown("**Loudspeakers**: one row each; leave x, y and z empty where the layout places it")
    placements = edit_rows(
        (*_PLACEMENTS, *position_columns(keys.lengths)),
        (
            {"set": group.name, "channel": placement.channel, **position_cells(placement.position, keys.lengths)}
            for group in seed
            for placement in group.placements
        ),
        key=keys("loudspeaker_placements"),
        label="Loudspeakers",
    )
    return _joined(sets, placements)


def _set_columns(items: ItemNames) -> tuple[Column, ...]:
    return (
        Column(name="name", heading=LABELS["loudspeakers.name"], cell=Cell.TEXT),
        Column(
            name="candidates",
            heading=LABELS["loudspeakers.candidates"],
            cell=Cell.TEXTS,
            help="One fixes the model, several are candidates, none allows any that reaches the level.",
            choices=items.skus,
            words=items.words,
            width=280,
        ),
        Column(
            name="target_spl_db",
            heading=LABELS["loudspeakers.target_spl_db"],
            cell=Cell.NUMBER,
            help="Peak sound pressure level at the primary seat.",
        ),
    )


def _joined(sets: tuple[Row, ...], placements: tuple[Row, ...]) -> tuple[LoudspeakerSet, ...]:
    """One set a row of `sets`, and one for each further name in `placements`, so that no row is lost."""
    rows = with_unnamed(sets, placements)
    return tuple(
        LoudspeakerSet(
            name=row.text("name"),
            placements=tuple(_placement(place) for place in places),
            candidates=row.texts("candidates"),
            target_spl_db=row.optional_number("target_spl_db"),
        )
        for row, places in rows
    )


def _placement(row: Row) -> Placement:
    return Placement(channel=row.text("channel"), position=_position(position_of(row)))


def _position(point: Point) -> Point | None:
    """None where all three cells are empty: the layout places it."""
    return None if all(math.isnan(value) for value in (point.x_m, point.y_m, point.z_m)) else point
