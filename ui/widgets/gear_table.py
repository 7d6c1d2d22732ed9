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
        alt=f"The sheet {_title(name)}",
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
