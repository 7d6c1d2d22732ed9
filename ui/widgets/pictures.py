"""The pictures of one option: signal flow, and the room in plan and section, with a button to save each."""

from base64 import b64encode
from html import escape
from xml.etree import ElementTree

import streamlit as st

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.documents.pictures import flow_picture, plan_picture, section_picture
from planner.options import Option

_LEAST_SCALE, _MOST_SCALE = 0.8, 1.5
"""Smaller than this a picture cannot be read, and its frame scrolls; larger it looks coarse."""


def signal_flow_picture(option: Option, brief: Brief, catalogue: Catalogue) -> None:
    """Every device, jack and lead from the processor to the loudspeakers."""
    words = f"Signal-flow diagram of option {option.id}: every lead is listed in the table of leads."
    picture(flow_picture(option, brief, catalogue), words, f"signal-flow-{option.id}.svg")


def room_pictures(option: Option, brief: Brief) -> None:
    """Where everything stands, from above and from the side."""
    picture(plan_picture(option, brief), f"Room plan of option {option.id}, to scale.", f"room-plan-{option.id}.svg")
    picture(
        section_picture(option, brief),
        f"Section of the room of option {option.id}, to scale.",
        f"section-{option.id}.svg",
    )


def picture(svg: str, words: str, file_name: str) -> None:
    """A picture as wide as the page, which scrolls where that would make it too small to read."""
    width = float(ElementTree.fromstring(svg).attrib["width"])
    source = b64encode(svg.encode()).decode("ascii")
    st.html(
        f'<div style="overflow-x:auto" tabindex="0" role="group" aria-label="{escape(words)}">'
        f'<img alt="{escape(words)}" src="data:image/svg+xml;base64,{source}" style="display:block;width:100%;'
        f'min-width:{_LEAST_SCALE * width:.0f}px;max-width:{_MOST_SCALE * width:.0f}px;border-radius:0.4rem"></div>'
    )
    st.download_button(
        "Save as SVG", svg, file_name=file_name, mime="image/svg+xml", on_click="ignore", key=f"save.{file_name}"
    )
