"""A supplier's price list into the project: read, mapped once, looked at, taken."""

from dataclasses import replace

import streamlit as st

from planner.errors import BadInput
from planner.price_lists.importing import PriceImport, import_prices
from planner.price_lists.offers import with_prices
from planner.price_lists.reading import Reading, reading_of, reading_tree
from planner.price_lists.sheet import PriceSheet
from planner.price_lists.suggest import suggest
from planner.projects import Work
from planner.words import counted
from ui.gear import Gear, own_files
from ui.session import Session
from ui.widgets import price_list as inputs
from ui.widgets import price_news as news
from ui.widgets.faults import file_faults
from ui.widgets.items import item_names


def render(session: Session, gear: Gear) -> None:
    """Draws the way from a file to new prices; nothing changes until the last button is pressed."""
    if session.price_note:
        st.success(f"{session.price_note} Undo takes it back.", icon=":material/check:")
    left, right = st.columns(2)
    with left:
        mappings = session.keeping.mappings()
        offers = (offer for of_sku in gear.catalogue.offers.values() for offer in of_sku)
        supplier = inputs.supplier((*mappings, *(offer.supplier for offer in offers)))
    with right:
        file = inputs.list_file()
    if file is None or not supplier:
        st.markdown(
            "Choose the supplier and its file, any CSV or XLSX as it came. Prices are what you pay, without tax;"
            " margin and tax are added by the house settings."
        )
        return
    remembered = reading_of(mappings[supplier]) if supplier in mappings else None
    try:
        sheet = inputs.sheet_of(file)
        key = f"{file.token}.{supplier}.{sheet.where}.{sheet.header_row}"
        suggested = suggest(sheet, [item.sku for item in gear.catalogue.items()], remembered)
        inputs.first_rows(sheet)
        reading = inputs.styles(inputs.columns(sheet, suggested, key), key)
        if reading is not None:
            _outcome(session, gear, sheet, reading, supplier, key)
    except BadInput as error:
        file_faults(error.faults, key="price_list")


def _outcome(session: Session, gear: Gear, sheet: PriceSheet, reading: Reading, supplier: str, key: str) -> None:
    """What the list brings. Raises BadInput where the reading does not fit."""
    names = item_names(gear.catalogue.items())
    day = inputs.dated(session.draft.project.dated, key)
    first = import_prices(sheet, reading, supplier, day, gear.catalogue, gear.house)
    top = st.container()
    taken, refused, unknown, gone = st.tabs(["Taken", "Refused", "Unknown", "No longer listed"], key="list_news")
    with unknown:
        reading = replace(reading, sku_of={**reading.sku_of, **news.unknown(first.unknown, names, key)})
    found = import_prices(sheet, reading, supplier, day, gear.catalogue, gear.house)
    with taken:
        news.lines(found, names)
    with refused:
        news.refused(found)
    with gone:
        withdraw = news.missing(found, names)
    with top:
        news.summary(found)
        st.button(
            f"Use {counted(len(found.lines), 'price')} of {supplier}",
            key="use_prices",
            type="primary",
            disabled=not found.lines and not withdraw,
            on_click=_use,
            args=(session, gear, found, reading, withdraw),
        )


def _use(session: Session, gear: Gear, found: PriceImport, reading: Reading, withdraw: bool) -> None:
    catalogue = with_prices(gear.catalogue, found, withdraw_missing=withdraw)
    session.take(Work(brief=session.draft, gear=own_files(catalogue, gear.house)))
    session.keeping.remember_mapping(found.supplier, reading_tree(reading))
    session.price_note = f"{counted(len(found.lines), 'price')} of {found.supplier} taken."
