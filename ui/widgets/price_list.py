"""Inputs for a supplier's price list: whose it is, which column is what, and how its cells are written."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

import streamlit as st

from planner.price_lists.figures import DayStyle, FigureStyle
from planner.price_lists.reading import NEEDED, Entry, Reading
from planner.price_lists.sheet import PriceSheet, read_price_sheet
from planner.price_lists.suggest import Suggestion, restyled
from ui.markup import literal

_LARGEST_MB = 20
_IN_A_ROW = 4
_NONE = "not in the list"

ENTRY_WORDS: Mapping[Entry, str] = {
    Entry.CODE: "Code of the gear",
    Entry.NAME: "Description",
    Entry.PRICE: "Price you pay, without tax",
    Entry.CURRENCY: "Currency",
    Entry.DATED: "Date of the price",
    Entry.STOCK: "Stock",
    Entry.LEAST_ORDER: "Least order",
}
_FIGURE_WORDS = {FigureStyle.POINT: "1,234.50 or 1234.50", FigureStyle.COMMA: "1.234,50 or 1234,50"}
_DAY_WORDS = {
    DayStyle.YEAR_FIRST: "year, month, day",
    DayStyle.DAY_FIRST: "day, month, year",
    DayStyle.MONTH_FIRST: "month, day, year",
}


@dataclass(frozen=True, slots=True)
class ListFile:
    """An uploaded file; `token` is a new one for each upload."""

    name: str
    content: bytes
    token: str


def supplier(known: Iterable[str]) -> str:
    """Whose list it is."""
    chosen = st.selectbox(
        "Supplier",
        sorted(set(known)),
        index=None,
        accept_new_options=True,
        placeholder="choose one, or type a new name",
        key="list_supplier",
        help="The prices of this supplier are replaced; those of others stay. How its list is read is remembered.",
    )
    return (chosen or "").strip()


def list_file() -> ListFile | None:
    """The file in the field."""
    file = st.file_uploader("Price list, CSV or XLSX", key="list_file", max_upload_size=_LARGEST_MB)
    return None if file is None else ListFile(file.name, file.getvalue(), file.file_id)


def sheet_of(file: ListFile) -> PriceSheet:
    """The sheet that the user means, and the row that names its columns. Raises BadInput."""
    found = read_price_sheet(file.name, file.content)
    left, right = st.columns(2)
    sheet = found.sheet
    if len(found.sheets) > 1:
        with left:
            sheet = st.selectbox(
                "Sheet", found.sheets, index=found.sheets.index(found.sheet), key=f"list_sheet.{file.token}"
            )
            found = read_price_sheet(file.name, file.content, sheet=sheet)
    with right:
        header = st.number_input(
            "Row that names the columns", 1, value=found.header_row, key=f"list_header.{file.token}.{sheet}"
        )
    if header == found.header_row:
        return found
    return read_price_sheet(file.name, file.content, sheet=sheet, header_row=header)


def columns(sheet: PriceSheet, suggested: Suggestion, key: str) -> Suggestion:
    """The columns as the user has chosen them, with the styles that these allow."""
    st.markdown("**Which column is what**")
    chosen: dict[Entry, str] = {}
    places = st.columns(_IN_A_ROW)
    for number, entry in enumerate(Entry):
        with places[number % _IN_A_ROW]:
            title = st.selectbox(
                ENTRY_WORDS[entry],
                (_NONE, *sheet.titles),
                index=_index(sheet, suggested.reading.columns.get(entry)),
                key=f"list_column_{entry.value}.{key}",
                help="Needed." if entry in NEEDED else None,
            )
            if title != _NONE:
                chosen[entry] = title
    same = chosen == dict(suggested.reading.columns)
    return suggested if same else restyled(sheet, replace(suggested.reading, columns=chosen), keep=True)


def styles(found: Suggestion, key: str) -> Reading | None:
    """The reading with what the file alone does not say; None until the user has said it."""
    reading = found.reading
    left, middle, right = st.columns(3)
    figures, days = reading.figures, reading.days
    if len(found.figure_styles) > 1:
        with left:
            said = st.radio(
                "How the prices are written",
                [*FigureStyle],
                index=None,
                format_func=_FIGURE_WORDS.__getitem__,
                key=f"list_figures.{key}",
                help="These prices could mean two things, such as 1.299.",
            )
        if said is None:
            st.warning("Say how the prices are written: the file alone does not tell.", icon=":material/help:")
            return None
        figures = said
    if len(found.day_styles) > 1:
        with middle:
            days = st.radio(
                "How dates are written",
                sorted(found.day_styles),
                format_func=_DAY_WORDS.__getitem__,
                key=f"list_days.{key}",
            )
    currency = reading.currency
    if Entry.CURRENCY not in reading.columns:
        with right:
            currency = st.text_input("Currency of the list", reading.currency, key=f"list_currency.{key}")
    return replace(reading, figures=figures, days=days, currency=currency.strip().upper())


def dated(today: date, key: str) -> date:
    """The date of the prices that name none."""
    return st.date_input("Date of the list", today, format="YYYY-MM-DD", key=f"list_dated.{key}")


def first_rows(sheet: PriceSheet) -> None:
    """The top of the list, to see that it was read aright."""
    with st.expander("The first rows of the file"):
        rows = [
            {literal(title): literal(str(sheet.cell(row, title))) for title in sheet.titles[:8]}
            for row in sheet.rows[:5]
        ]
        st.table(rows, border="horizontal", alt="The first rows of the file")


def _index(sheet: PriceSheet, title: str | None) -> int:
    return 1 + sheet.titles.index(title) if title in sheet.titles else 0
