"""Any supplier's file to rows: separators, encodings, letterheads, workbooks, and what is refused."""

import zipfile
from io import BytesIO

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from planner.catalogue.tables import LARGEST_FILE_BYTES
from planner.errors import BadInput, Fault
from planner.price_lists.sheet import read_price_sheet
from tests.price_lists.lists import ENGLISH, GERMAN, workbook


def test_semicolons_western_letters_and_a_letterhead() -> None:
    sheet = read_price_sheet("liste.csv", GERMAN)
    assert sheet.titles == ("Art.-Nr.", "Bezeichnung", "UVP (inkl. MwSt.)", "Einkaufspreis netto", "Lager")
    assert (sheet.header_row, [row.number for row in sheet.rows]) == (4, [5, 6, 7])
    assert sheet.column("Bezeichnung")[1:] == ("Verstärker", "Y-Adapter; vergoldet")


def test_tabs_in_utf_16() -> None:
    sheet = read_price_sheet("list.txt", ENGLISH)
    assert sheet.titles == ("SKU", "Description", "Unit Price", "Currency", "Price date")
    assert sheet.column("Unit Price") == ("1,089.50", "849")


@pytest.mark.parametrize("separator", [";", ",", "\t", "|", "~"])
def test_what_separates_cells_is_found_or_as_the_first_line_says(separator: str) -> None:
    said = "sep=~\n" if separator == "~" else ""
    rows = [("code", "name", "price"), ("a-1", "one, two", "1.50"), ("a-2", "three", "2.50")]
    text = said + "\n".join(separator.join(f'"{cell}"' for cell in row) for row in rows)
    assert read_price_sheet("x.csv", text.encode()).titles == rows[0]


def test_of_a_workbook_the_longest_sheet_unless_another_is_named() -> None:
    content = workbook(("Code", "Price"), ("a", 1), ("b", 2.5), letterhead="Tallow & Sons, spring")
    sheet = read_price_sheet("list.xlsx", content)
    assert (sheet.sheet, sheet.sheets, sheet.header_row) == ("Prices", ("Prices", "Notes"), 2)
    assert sheet.column("Price") == ("1", "2.5")
    with pytest.raises(BadInput, match="no row of names"):
        read_price_sheet("list.xlsx", content, sheet="Notes")


def test_the_row_of_names_can_be_said() -> None:
    content = b"a,b\nCode,Price\nx,1\n"
    assert read_price_sheet("x.csv", content).titles == ("a", "b")
    assert read_price_sheet("x.csv", content, header_row=2).titles == ("Code", "Price")
    with pytest.raises(BadInput, match="no names of columns in row 9"):
        read_price_sheet("x.csv", content, header_row=9)


def test_titles_are_told_apart() -> None:
    assert read_price_sheet("x.csv", b"price,price,,name\n1,2,3,x\n", header_row=1).titles == (
        "price",
        "price (column 2)",
        "column 3",
        "name",
    )


def zip_bomb() -> bytes:
    stream = BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b"0" * 150_000_000)
    return stream.getvalue()


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("x.csv", b"", "an empty file"),
        ("x.csv", b"a,b\n" * (LARGEST_FILE_BYTES // 4 + 1), "above 20 MB"),
        ("x.csv", b"\x00\x01" * 50, "binary data"),
        ("x.xls", b"\xd0\xcf\x11\xe0" + b"x" * 50, "old .xls format"),
        ("x.xlsx", b"PK\x03\x04 no workbook", "a damaged workbook"),
        ("x.csv", b"code,price\n" + b"a,1\n" * 200_001, "more than 200000 rows"),
        ("x.csv", b",".join([b"name"] * 101), "more than 100 columns"),
        ("x.csv", b'code,price\n"a,1\n' + b"x" * 200_000, "a broken row"),
        ("x.csv", b"1,2\n3,4\n", "no row of names"),
        ("../../etc/<b>.csv", b"1,2\n", "<b>.csv"),
    ],
)
def test_what_cannot_be_taken_up_has_one_fault(name: str, content: bytes, words: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_price_sheet(name, content)
    (fault,) = caught.value.faults
    assert words in str(fault)
    assert ".." not in fault.where


def test_a_workbook_that_unpacks_to_far_more_is_refused_unread() -> None:
    with pytest.raises(BadInput, match="unpacks to far more"):
        read_price_sheet("x.xlsx", zip_bomb())


@given(st.binary(max_size=300))
@example(b"\xff\xfe\x00")
@example(b'"')
@example(b"sep=\n")
def test_no_bytes_get_further_than_one_fault(content: bytes) -> None:
    faults: tuple[Fault, ...] = ()
    titles: tuple[str, ...] = ()
    try:
        titles = read_price_sheet("x.csv", content).titles
    except BadInput as error:
        faults = error.faults
    assert len(faults) == (0 if titles else 1)
    assert len({title for title in titles if title}) == len(titles)
