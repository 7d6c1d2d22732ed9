"""Ways to begin: an example, a layout in an empty room, or a brief from a file."""

import math
import re
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

import streamlit as st

from planner.brief.records import Brief, Room
from planner.brief.start import MOST_SUBWOOFERS, starting_brief
from planner.layouts import LAYOUTS, layout
from planner.lengths import LengthStyle
from ui.widgets.labels import LABELS
from ui.widgets.numbers import length

_FIRST_LAYOUT = "4+7+0"
_FIRST_ROOM = Room(length_m=6.0, width_m=4.5, height_m=2.6)


@dataclass(frozen=True, slots=True)
class Opened:
    """A file that was just put into the field; `token` is a new one each time."""

    name: str
    content: bytes
    token: str


def chosen_example(paths: tuple[Path, ...]) -> Path | None:
    """The example brief that was asked for just now, if one was."""
    st.markdown("**An example**")
    chosen = st.selectbox(
        "Example brief",
        paths,
        format_func=example_words,
        key="example",
        placeholder="no examples here",
    )
    wanted = st.button("Load the example", key="load_example", disabled=chosen is None, width="stretch")
    return chosen if wanted else None


def example_words(path: Path) -> str:
    """What an example is called, from the name of its file.

    >>> example_words(Path("cinema-7-1-4-two-rca-subs.toml"))
    'Cinema 7.1.4 two RCA subs'
    """
    words = re.sub(r"(\d)-(?=\d)", r"\1.", path.stem).replace("-", " ").capitalize()
    return re.sub(r"\b(dsp|rca|xlr)\b", lambda found: found[0].upper(), words)


def empty_room(
    layout_name: str = _FIRST_LAYOUT, room: Room = _FIRST_ROOM, subwoofers: int = 4, currency: str = "EUR"
) -> Brief:
    """A brief for a layout in a room that holds nothing yet."""
    return starting_brief(layout(layout_name), room, subwoofers, currency=currency, dated=date.today())


def new_room(currency: str, lengths: LengthStyle) -> Brief | None:
    """A layout in an empty room, if it was asked for just now."""
    st.markdown("**A new room**")
    titles = {known.name: known.title for known in LAYOUTS}
    name = st.selectbox(
        LABELS["layout"],
        (*titles,),
        index=(*titles,).index(_FIRST_LAYOUT),
        format_func=titles.__getitem__,
        key="new_layout",
    )
    measured = partial(length, style=lengths)
    of_style = "" if lengths is LengthStyle.METRES else "_in_feet"
    room = Room(
        length_m=measured(LABELS["room.length_m"], _FIRST_ROOM.length_m, key=f"new_length_m{of_style}"),
        width_m=measured(LABELS["room.width_m"], _FIRST_ROOM.width_m, key=f"new_width_m{of_style}"),
        height_m=measured(LABELS["room.height_m"], _FIRST_ROOM.height_m, key=f"new_height_m{of_style}"),
    )
    subwoofers = st.number_input("Subwoofers", 0, MOST_SUBWOOFERS, 4, key="new_subwoofers")
    known = not any(map(math.isnan, (room.length_m, room.width_m, room.height_m)))
    if not known:
        st.warning("A length is typed such as 12' 3\", or 3.7 m.", icon=":material/straighten:")
    wanted = st.button("Begin with this room", key="new_room", disabled=not known, width="stretch")
    return empty_room(name, room, subwoofers, currency) if wanted else None


def opened_file() -> Opened | None:
    """The brief's file that is in the field now, if there is one."""
    st.markdown("**A brief from a file**")
    file = st.file_uploader("Brief, a TOML file", key="brief_file", max_upload_size=1)
    return None if file is None else Opened(name=file.name, content=file.getvalue(), token=file.file_id)
