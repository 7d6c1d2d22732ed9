"""Workbooks as spreadsheet programs leave them: typed cells read as the same text would."""

import csv
import re
import zipfile
from collections.abc import Callable, Mapping
from datetime import date, datetime
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter

from planner.catalogue import read_catalogue, read_catalogue_bytes
from planner.errors import BadInput
from tests.catalogue.sample import SAMPLE, encoded

LAST_PART = f"sheet{len(SAMPLE) + 1}.xml"  # the prices; the first sheet is the empty one of a new workbook


def typed(text: str) -> object:
    """A cell's text as a person who types it into a spreadsheet would have it stored."""
    if text in ("yes", "no"):
        return text == "yes"
    for convert in (int, float, date.fromisoformat):
        try:
            return convert(text)
        except ValueError:
            continue
    return text or None


def workbook(files: Mapping[str, str] = SAMPLE, cell: Callable[[str], object] = typed) -> openpyxl.Workbook:
    """The sheets of a catalogue, written by a library other than ours."""
    book = openpyxl.Workbook()
    for name, text in files.items():
        sheet = book.create_sheet(name.removesuffix(".csv"))
        for row in csv.reader(StringIO(text)):
            sheet.append([cell(value) for value in row])
    return book


def saved(book: openpyxl.Workbook) -> bytes:
    stream = BytesIO()
    book.save(stream)
    return stream.getvalue()


def patched(content: bytes, pattern: bytes, text: bytes, within: str = "") -> bytes:
    """A workbook with a pattern replaced, which must occur, in the parts whose name ends so."""
    stream = BytesIO()
    count = 0
    with zipfile.ZipFile(BytesIO(content)) as before, zipfile.ZipFile(stream, "w") as after:
        for name in before.namelist():
            part, found = re.subn(pattern if name.endswith(within) else rb"(?!)", text, before.read(name))
            count += found
            after.writestr(name, part)
    assert count
    return stream.getvalue()


def messages_of(content: bytes) -> list[str]:
    try:
        read_catalogue_bytes({"gear.xlsx": content})
    except BadInput as error:
        return [str(fault) for fault in error.faults]
    return []


def prices_of(book: openpyxl.Workbook) -> Any:
    return book["prices"]


@pytest.mark.parametrize("cell", [typed, str], ids=["typed cells", "text cells"])
def test_a_workbook_reads_as_the_csv_files_do(cell: Callable[[str], object], tmp_path: Path) -> None:
    file = tmp_path / "Gear.XLSX"
    file.write_bytes(saved(workbook(cell=cell)))
    assert read_catalogue(file) == read_catalogue_bytes(encoded(SAMPLE))


def test_a_date_stored_as_a_date_and_time() -> None:
    book = workbook()
    prices_of(book)["E2"] = datetime(2026, 11, 1, 0, 0)
    assert read_catalogue_bytes({"gear.xlsx": saved(book)}) == read_catalogue_bytes(encoded(SAMPLE))
    prices_of(book)["E2"] = datetime(2026, 11, 1, 9, 30)
    assert messages_of(saved(book)) == [
        'gear.xlsx sheet prices row 2, column priced_on: found "2026-11-01T09:30:00"; '
        "expected a date such as 2026-11-01, from 2000 to 2099. Write year-month-day."
    ]


def test_a_sum_that_binary_arithmetic_left_untidy() -> None:
    # IEEE 754: 0.1 + 0.2 is 0.30000000000000004 in double precision; spreadsheets show 0.3.
    book = workbook()
    prices_of(book)["D2"] = 0.1 + 0.2
    assert str(read_catalogue_bytes({"gear.xlsx": saved(book)}).offers["P1"][0].price) == "0.3"


def test_faults_name_the_workbook_the_sheet_and_the_row() -> None:
    book = workbook()
    prices_of(book)["D4"] = -19.9
    book["leads"]["E2"] = 1
    assert messages_of(saved(book)) == [
        'gear.xlsx sheet leads row 2, column balanced: found "1"; expected yes or no. Write one of the two.',
        'gear.xlsx sheet prices row 4, column price: found "-19.9"; expected a price such as 1299.00, '
        "zero or more and below 10000000000. A price cannot be negative.",
    ]


def test_blank_rows_and_other_sheets_are_passed_over() -> None:
    book = workbook()
    prices_of(book).insert_rows(3, amount=2)
    prices_of(book)["A40"] = "  "
    book.create_sheet("Notes of mine").append(["whatever"])
    assert read_catalogue_bytes({"gear.xlsx": saved(book)}) == read_catalogue_bytes(encoded(SAMPLE))


def test_titles_of_sheets_in_capitals_are_known() -> None:
    book = workbook()
    prices_of(book).title = "Prices "
    book["dsp_units"].title = "DSP units"
    assert read_catalogue_bytes({"gear.xlsx": saved(book)}) == read_catalogue_bytes(encoded(SAMPLE))


def test_a_misspelt_sheet_is_told_once() -> None:
    book = workbook()
    prices_of(book).title = "price"
    (message,) = messages_of(saved(book))
    assert message.startswith("price: found an unknown sheet;")
    assert message.endswith('Did you mean "prices"?')


def test_a_wrong_size_in_the_sheet_does_not_hide_rows() -> None:
    """Some programs write <dimension ref="A1"/> whatever the size."""
    content = patched(saved(workbook()), rb'<dimension ref="[^"]*"', b'<dimension ref="A1"')
    assert read_catalogue_bytes({"gear.xlsx": content}) == read_catalogue_bytes(encoded(SAMPLE))


def test_a_row_number_beyond_any_sheet_is_not_counted_up_to() -> None:
    content = patched(saved(workbook()), rb'<row r="2"', b'<row r="99999999999"', LAST_PART)
    (message,) = messages_of(content)
    assert "sheet prices: found cells as far as row 1048577, column 0; expected at most 200000 rows" in message


def test_an_empty_last_row_of_the_sheet_is_passed_over() -> None:
    """Some programs write the last row of all, 1048576, for its height alone."""
    last = b'<row r="1048576" ht="12.8" customHeight="1"></row></sheetData>'
    content = patched(saved(workbook()), rb"</sheetData>", last, LAST_PART)
    assert read_catalogue_bytes({"gear.xlsx": content}) == read_catalogue_bytes(encoded(SAMPLE))


# Formulas


def with_price_formula(value: object) -> bytes:
    """The sample with a formula as its first price, and `value` saved beside it (None: nothing)."""
    stream = BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        for name, text in SAMPLE.items():
            sheet = book.add_worksheet(name.removesuffix(".csv"))
            for number, row in enumerate(csv.reader(StringIO(text))):
                for place, cell in enumerate(row):
                    if cell == "4999.00":
                        sheet.write_formula(number, place, "=5000-1", None, value)
                    elif cell:
                        sheet.write_string(number, place, cell)
    return stream.getvalue()


def test_a_formula_reads_as_its_saved_value() -> None:
    assert read_catalogue_bytes({"gear.xlsx": with_price_formula(4999)}) == read_catalogue_bytes(encoded(SAMPLE))


def test_a_formula_without_a_saved_value() -> None:
    book = workbook()
    prices_of(book)["D2"] = "=5000-1"  # openpyxl never works out a formula, so it saves no value
    assert messages_of(saved(book)) == [
        "gear.xlsx sheet prices row 2, column price: found a formula without a saved value; expected a value. "
        "Open the workbook, let it calculate and save it, or write the value itself."
    ]


def test_a_formula_that_came_to_an_empty_text_is_an_empty_cell() -> None:
    # ECMA-376 part 1, 18.18.11 (section from memory): the type "str" marks the text that a formula came to.
    content = patched(with_price_formula("TEXT"), rb"<v>TEXT</v>", b"<v></v>")
    (message,) = messages_of(content)
    assert "row 2, column price: found nothing; expected a value." in message


def test_a_formula_that_failed() -> None:
    (message,) = messages_of(with_price_formula("#DIV/0!"))
    assert 'row 2, column price: found "#DIV/0!"; expected a price' in message


@pytest.mark.parametrize("word", ["#N/A", "#REF!"])
def test_a_failed_formula_in_a_text_column(word: str) -> None:
    book = workbook()
    book["connectors"]["B2"] = word
    (message,) = messages_of(saved(book))
    assert message == (
        f'gear.xlsx sheet connectors row 2, column name: found "{word}"; expected a value. '
        "Mend the formula that failed, or write the value itself."
    )


def test_text_that_only_looks_like_a_formula_is_text() -> None:
    stream = BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        for name, text in SAMPLE.items():
            sheet = book.add_worksheet(name.removesuffix(".csv"))
            for number, row in enumerate(csv.reader(StringIO(text.replace("XLR plug", "=1+1")))):
                for place, cell in enumerate(row):
                    sheet.write_string(number, place, cell)
        book.add_worksheet("sums").write_formula(0, 0, "=1+1", None, 2)
    assert read_catalogue_bytes({"gear.xlsx": stream.getvalue()}).connectors[0].name == "=1+1"
