"""Inputs for the subwoofer sets: how many, which, and where."""

import streamlit as st

from planner.brief.records import SubwooferSet
from planner.channels import CHANNELS, display_name, is_bass
from ui.widgets.items import ItemNames
from ui.widgets.keys import Keys
from ui.widgets.labels import LABELS
from ui.widgets.room import position_cells, position_columns, position_of
from ui.widgets.rows import Cell, Column, Row, edit_rows, with_unnamed

_POSITIONS = (
    Column(name="set", heading=LABELS["subwoofers.name"], cell=Cell.TEXT, help="The set that this place belongs to."),
)


def subwoofers(seed: tuple[SubwooferSet, ...], items: ItemNames, keys: Keys) -> tuple[SubwooferSet, ...]:
    """The subwoofer sets as they stand in the two tables, joined by the set's name."""
    st.markdown("**Sets**: how many, and which model")
    sets = edit_rows(
        _set_columns(items),
        (
            {
                "name": group.name,
                "least": group.least,
                "most": group.most,
                "candidates": list(group.candidates),
                "channel": group.channel,
                "target_spl_db": group.target_spl_db,
            }
            for group in seed
        ),
        key=keys("subwoofer_sets"),
        label="Subwoofer sets",
    )
    st.markdown("**Places**: in the order in which they are taken, as many as the set can have subwoofers")
    positions = edit_rows(
        (*_POSITIONS, *position_columns(keys.lengths)),
        ({"set": group.name, **position_cells(point, keys.lengths)} for group in seed for point in group.positions),
        key=keys("subwoofer_positions"),
        label="Places of subwoofers",
    )
    return _joined(sets, positions)


def _set_columns(items: ItemNames) -> tuple[Column, ...]:
    return (
        Column(name="name", heading=LABELS["subwoofers.name"], cell=Cell.TEXT),
        Column(
            name="least",
            heading=LABELS["subwoofers.least"],
            cell=Cell.WHOLE,
            help="The same number in both columns asks for just so many.",
            width=80,
        ),
        Column(name="most", heading=LABELS["subwoofers.most"], cell=Cell.WHOLE, width=80),
        Column(
            name="candidates",
            heading=LABELS["subwoofers.candidates"],
            cell=Cell.TEXTS,
            help="One fixes the model, several are candidates, none allows any in the catalogue.",
            choices=items.skus,
            words=items.words,
            width=220,
        ),
        Column(
            name="channel",
            heading=LABELS["subwoofers.channel"],
            cell=Cell.CHOICE,
            help="The second bass channel is for layouts that have one, such as 22.2.",
            choices=tuple(channel.label for channel in CHANNELS if is_bass(channel.label)),
            words=display_name,
            start="LFE1",
            width=100,
        ),
        Column(
            name="target_spl_db",
            heading=LABELS["subwoofers.target_spl_db"],
            cell=Cell.NUMBER,
            help="All subwoofers of the channel in phase, in free field, at each primary seat. Empty: none asked.",
            width=110,
        ),
    )


def _joined(sets: tuple[Row, ...], positions: tuple[Row, ...]) -> tuple[SubwooferSet, ...]:
    """One set a row of `sets`, and one for each further name in `positions`, so that no row is lost."""
    return tuple(
        SubwooferSet(
            name=row.text("name"),
            least=row.whole("least"),
            most=row.whole("most"),
            positions=tuple(position_of(place) for place in places),
            candidates=row.texts("candidates"),
            channel=row.text("channel") or "LFE1",
            target_spl_db=row.optional_number("target_spl_db"),
        )
        for row, places in with_unnamed(sets, positions)
    )
