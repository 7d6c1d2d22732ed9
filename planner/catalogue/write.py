"""A catalogue to files that read back as the same catalogue, and that no spreadsheet can turn into formulas."""

import csv
from datetime import datetime
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

from planner.catalogue.cells import Shown, Unreadable
from planner.catalogue.records import Catalogue, Offer, PortGroup
from planner.catalogue.schema import PORTS, PRICES, SHEETS, Column, Sheet
from planner.catalogue.tables import guarded

_FIXED_DATE = datetime(2000, 1, 1)  # the same catalogue gives the same bytes


def catalogue_csv_files(catalogue: Catalogue) -> dict[str, str]:
    """The text of every CSV file by its name, sheets without rows included."""
    return {f"{sheet.name}.csv": _csv_text(sheet, _records(catalogue, sheet)) for sheet in SHEETS}


def write_catalogue_csv(catalogue: Catalogue, folder: Path) -> None:
    """Writes every sheet as a CSV file into a folder, which is made where it is missing."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in catalogue_csv_files(catalogue).items():
        (folder / name).write_text(text, encoding="utf-8", newline="")


def write_catalogue_xlsx(catalogue: Catalogue, path: Path | BytesIO) -> None:
    """Writes every sheet into one workbook: numbers and dates as such, text always as text."""
    from xlsxwriter import Workbook  # late: only for those who want a workbook

    with Workbook(path, {"in_memory": True}) as book:
        book.set_properties({"created": _FIXED_DATE})
        formats = {"head": book.add_format({"bold": True}), "date": book.add_format({"num_format": "yyyy-mm-dd"})}
        for sheet in SHEETS:
            page = book.add_worksheet(sheet.name)
            page.freeze_panes(1, 0)
            page.set_column(0, len(sheet.columns) - 1, 16)
            for place, column in enumerate(sheet.columns):
                page.write_string(0, place, column.name, formats["head"])
            for number, record in enumerate(_records(catalogue, sheet), start=1):
                for place, (column, value) in enumerate(zip(sheet.columns, sheet.values(record), strict=True)):
                    _write_cell(page, number, place, column, value, formats["date"])


def _records(catalogue: Catalogue, sheet: Sheet) -> tuple[Any, ...]:
    """The records of one sheet in the catalogue's own order."""
    groups: tuple[tuple[PortGroup | Offer, ...], ...]
    match sheet.name:
        case PORTS.name:
            groups = tuple(catalogue.ports[device] for device in sorted(catalogue.ports))
        case PRICES.name:
            groups = tuple(catalogue.offers[sku] for sku in sorted(catalogue.offers))
        case name:
            records: tuple[Any, ...] = getattr(catalogue, name)
            return records
    return tuple(record for group in groups for record in group)


def _text(column: Column, value: Any) -> str:
    return "" if value is None or value == () else column.kind.write(value)


def _csv_text(sheet: Sheet, records: tuple[Any, ...]) -> str:
    stream = StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(column.name for column in sheet.columns)
    for record in records:
        cells = zip(sheet.columns, sheet.values(record), strict=True)
        writer.writerow(_csv_cell(column, _text(column, value)) for column, value in cells)
    return stream.getvalue()


def _csv_cell(column: Column, text: str) -> str:
    return guarded(text) if column.kind.shown is Shown.TEXT else text


def _write_cell(page: Any, row: int, place: int, column: Column, value: Any, date_format: Any) -> None:
    text = _text(column, value)
    if not text:
        return
    if column.kind.shown is Shown.DATE:
        page.write_datetime(row, place, value, date_format)
    elif column.kind.shown is Shown.NUMBER and _survives(column, value, text):
        page.write_number(row, place, float(text))
    else:
        page.write_string(row, place, text)


def _survives(column: Column, value: Any, text: str) -> bool:
    """Whether fifteen digits, all that a spreadsheet keeps of a number, read as the same value."""
    try:
        return bool(column.kind.read(format(float(text), ".15g")) == value)
    except Unreadable:
        return False
