"""One sheet of the catalogue as a table to edit; what is wrong is told as for a file."""

import csv
from collections.abc import Mapping
from io import StringIO

import pandas as pd
import streamlit as st

from planner.catalogue import catalogue_csv_files, read_catalogue_bytes
from planner.catalogue.records import Catalogue
from planner.errors import BadInput
from ui.markup import capital
from ui.widgets.faults import file_faults
from ui.widgets.keys import Keys

_EXPLAINED = (
    "One row for each thing, as in the sheets of a catalogue. Connectors and genders, yes or no and the like are words;"
    " figures have a decimal point. A row is added in the last, empty one."
)

_HEADINGS: Mapping[str, str] = {
    "sku": "Article",
    "class_ii": "Class II",
    "sensitivity_at_2v83": "Sensitivity at 2.83 V",
}
_UNITS: Mapping[str, str] = {
    "pf_per_m": "pF/m",
    "mohm_per_m": "mΩ/m",
    "mm2": "mm²",
    "ohm": "ohm",
    "dbu": "dBu",
    "db": "dB",
    "hz": "Hz",
    "ms": "ms",
    "w": "W",
    "v": "V",
    "m": "m",
}


def edited_catalogue(catalogue: Catalogue, keys: Keys) -> Catalogue | None:
    """The catalogue with the sheet as it stands in the table; None while nothing differs or something is wrong."""
    texts = catalogue_csv_files(catalogue)
    name = st.selectbox("Sheet", list(texts), format_func=_title, key="gear_sheet")
    st.caption(_EXPLAINED)
    header, *rows = csv.reader(StringIO(texts[name]))
    frame = pd.DataFrame(rows, columns=header, dtype="object")
    edited = st.data_editor(
        frame,
        key=keys(f"gear_table.{name}"),
        num_rows="dynamic",
        hide_index=True,
        width="stretch",
        column_config={column: column_heading(column) for column in header},
        alt=f"The sheet {_title(name)}",
        placeholder="",
    )
    text = _csv(header, edited)
    if text == texts[name]:
        return None
    try:
        changed = read_catalogue_bytes(_files({**texts, name: text}))
    except BadInput as error:
        file_faults(error.faults, key="gear_table")
        return None
    return None if changed == catalogue else changed


def column_heading(column: str) -> str:
    """What a column of a sheet is called on the screen, with its unit.

    >>> [column_heading(name) for name in ("max_delay_ms", "power_8ohm_w", "capacitance_pf_per_m", "sku")]
    ['Max delay, ms', 'Power 8 ohm, W', 'Capacitance, pF/m', 'Article']
    """
    if column in _HEADINGS:
        return _HEADINGS[column]
    unit = next((unit for unit in _UNITS if column.endswith(f"_{unit}")), "")
    words = capital(column.removesuffix(f"_{unit}").replace("_", " ").replace("8ohm", "8 ohm").replace("4ohm", "4 ohm"))
    return f"{words}, {_UNITS[unit]}" if unit else words


def _title(name: str) -> str:
    return capital(name.removesuffix(".csv").replace("_", " ")).replace("Dsp", "DSP")


def _csv(header: list[str], frame: pd.DataFrame) -> str:
    """The rows that hold something, as a file."""
    stream = StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(header)
    for row in frame.itertuples(index=False):
        cells = [cell if isinstance(cell, str) else "" for cell in row]
        if any(cell.strip() for cell in cells):
            writer.writerow(cells)
    return stream.getvalue()


def _files(texts: Mapping[str, str]) -> dict[str, bytes]:
    return {name: text.encode() for name, text in texts.items()}
