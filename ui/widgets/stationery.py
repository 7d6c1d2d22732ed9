"""Inputs for what the papers say of the firm: name, address, logo, validity, itemising, terms."""

from base64 import b64encode
from collections.abc import Mapping
from dataclasses import dataclass

import streamlit as st

from planner.house import House, Logo, LogoFormat
from planner.house_file import MOST_VALID_DAYS
from planner.logo import UnfitLogo, logo_of
from ui.markup import literal
from ui.widgets.keys import Keys

_MEDIA_TYPES = {LogoFormat.PNG: "image/png", LogoFormat.JPEG: "image/jpeg", LogoFormat.SVG: "image/svg+xml"}


@dataclass(frozen=True, kw_only=True, slots=True)
class StationeryInput:
    """What stands in the inputs, as entries of the settings' tables [house] and [papers], and the logo they name."""

    firm: Mapping[str, object]
    papers: Mapping[str, object]
    logo: Logo | None


def stationery(house: House, keys: Keys) -> StationeryInput:
    """Draws the inputs, filled with the settings as they are."""
    st.markdown("**On the papers**")
    left, right = st.columns(2)
    with left:
        name = st.text_input("Firm", house.name, key=keys("house_name"))
        address = st.text_area("Address, line by line", "\n".join(house.address), height=100, key=keys("house_address"))
    with right:
        logo = _logo(house.stationery.logo, keys)
    left, right = st.columns(2)
    with left:
        days = st.number_input(
            "A proposal stands for, days",
            min_value=1,
            max_value=MOST_VALID_DAYS,
            value=house.stationery.valid_days,
            step=1,
            key=keys("house_valid_days"),
        )
    with right:
        itemised = st.toggle(
            "The client sees each article",
            value=house.stationery.itemised,
            help="Else only the sums of groups: loudspeakers, leads, work.",
            key=keys("house_itemised"),
        )
    terms = st.text_area(
        "Terms for the proposal, one a line", "\n".join(house.stationery.terms), height=100, key=keys("house_terms")
    )
    return StationeryInput(
        firm={"name": name, "address": _lines(address)},
        papers={
            **({} if logo is None else {"logo": logo.file}),
            "valid_days": int(days),
            "prices": "itemised" if itemised else "summarised",
            "terms": _lines(terms),
        },
        logo=logo,
    )


def _logo(now: Logo | None, keys: Keys) -> Logo | None:
    """The picture uploaded, else the one there is unless it is to go."""
    uploaded = st.file_uploader("Logo", type=["png", "jpg", "jpeg", "svg"], key=keys("house_logo"))
    if uploaded is not None:
        content = uploaded.getvalue()
        try:
            found = logo_of(uploaded.name, content)
        except UnfitLogo as unfit:
            st.error(literal(f"{uploaded.name}: expected {unfit.expected}. {unfit.remedy}"), icon=":material/error:")
            return now
        # Named by what it is, whatever it was called: it is kept beside the settings and the price lists.
        return logo_of(f"logo.{found.format.value}", content)
    if now is None or st.checkbox("Print no logo", key=keys("house_no_logo")):
        return None
    _picture(now)
    return now


def _picture(logo: Logo) -> None:
    source = f"data:{_MEDIA_TYPES[logo.format]};base64,{b64encode(logo.content).decode('ascii')}"
    st.html(f'<img alt="The logo in use" src="{source}" style="max-height:56px;max-width:220px;background:#fff">')


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]
