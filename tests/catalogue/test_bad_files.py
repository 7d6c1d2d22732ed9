"""Files that cannot be taken up at all: one clear sentence each, quickly, and no traceback."""

import struct
import zipfile
from collections.abc import Mapping
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest

from planner.catalogue import read_catalogue, read_catalogue_bytes
from planner.errors import BadInput
from tests.catalogue.sample import SAMPLE, encoded, messages

SAVE_AS_CSV = 'Save the sheet as "CSV UTF-8, comma separated".'
PRICES = SAMPLE["prices.csv"]


def said_of(path: Path) -> str:
    with pytest.raises(BadInput) as caught:
        read_catalogue(path)
    (fault,) = caught.value.faults
    return str(fault)


def said_of_prices(content: bytes) -> str:
    (message,) = messages({**encoded(SAMPLE), "prices.csv": content})
    return message


BAD_CSV: Mapping[str, tuple[bytes, str]] = {
    "empty": (b"", "an empty file; expected a header row and data. Add the rows, or delete the file."),
    "blank": (b" \n\r\n\t", "an empty file; expected a header row and data. Add the rows, or delete the file."),
    # The Unicode Standard, section 23.8 (section from memory): FF FE and FE FF are the byte order marks of UTF-16.
    "utf-16": (PRICES.encode("utf-16"), f"text in UTF-16; expected text in UTF-8. {SAVE_AS_CSV}"),
    "utf-16 unmarked": (
        PRICES.encode("utf-16-le"),
        f"binary data or text in UTF-16; expected text in UTF-8. {SAVE_AS_CSV}",
    ),
    # ISO/IEC 8859-1: é is the one byte E9, which UTF-8 never follows with an ASCII letter.
    "latin-1": (
        PRICES.replace("Best", "Bést").encode("latin-1"),
        f"a byte 0xE9 in line 3 that is not UTF-8; expected text in UTF-8. {SAVE_AS_CSV}",
    ),
    "binary": (
        bytes(range(256)) * 20,
        f"binary data or text in UTF-16; expected text in UTF-8. {SAVE_AS_CSV}",
    ),
    "a workbook": (
        b"PK\x03\x04" + bytes(100),
        f"a workbook or an archive under the name of a CSV file; expected text in UTF-8. {SAVE_AS_CSV}",
    ),
    "an old workbook": (
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(100),
        f"a workbook or an archive under the name of a CSV file; expected text in UTF-8. {SAVE_AS_CSV}",
    ),
    "huge": (
        PRICES.encode() + b"x" * 20_000_000,
        "a file above 20 MB; expected at most 20 MB. Check that it is the right file, or remove what is not needed.",
    ),
    "too many rows": (
        PRICES.encode() + b"P1,a,EUR,1,2026-11-01,,\n" * 200_001,
        "more than 200000 rows; expected at most 200000 rows below the header. Remove the rows that are not needed.",
    ),
    "too many columns": (
        b",".join(b"c%d" % i for i in range(101)) + b"\n",
        "more than 100 columns in row 1; expected at most 100 columns. Remove the columns that are not needed.",
    ),
    "semicolons": (
        PRICES.replace(",", ";").encode(),
        f"columns separated by semicolons; expected columns separated by commas. {SAVE_AS_CSV}",
    ),
    "tabs": (
        PRICES.replace(",", "\t").encode(),
        f"columns separated by tabs; expected columns separated by commas. {SAVE_AS_CSV}",
    ),
    "an open quotation": (
        PRICES.replace("Best", '"Best', 1).encode(),
        'a broken row 3 (unexpected end of data); expected cells in plain text or between "…". '
        'Close every quotation mark, and write one within a cell as "".',
    ),
    "no header": (
        b"\n\n" + PRICES.encode(),
        "no header in row 1; expected the names of the columns in row 1. Insert them as the first row.",
    ),
}


@pytest.mark.parametrize("kind", BAD_CSV)
def test_a_bad_csv_file(kind: str) -> None:
    content, said = BAD_CSV[kind]
    assert said_of_prices(content) == f"prices.csv: found {said}"


def test_bad_files_are_told_beside_the_faults_of_good_ones() -> None:
    files = {**encoded(SAMPLE), "leads.csv": b"\xff\xfe\0", "cards.csv": b"sku,name,fits\nCARD,Card,P9\n"}
    assert [message.partition(":")[0] for message in messages(files)] == ["cards.csv row 2, column fits", "leads.csv"]


# Paths


def test_a_path_that_is_not_there(tmp_path: Path) -> None:
    assert said_of(tmp_path / "gear") == (
        f"{tmp_path / 'gear'}: found no such file or folder; expected a folder of CSV files or an .xlsx workbook. "
        "Check the path."
    )


def test_a_path_that_no_file_can_have() -> None:
    assert "found no such file or folder" in said_of(Path("a\0b"))
    assert "found no such file or folder" in said_of(Path("x" * 5000))


def test_a_folder_without_csv_files(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("", encoding="utf-8")
    assert said_of(tmp_path) == (
        f"{tmp_path.name}: found a folder without CSV files; expected a folder of CSV files or an .xlsx workbook. "
        "Check the path."
    )
    (tmp_path / "gear.xlsx").write_bytes(b"")
    assert said_of(tmp_path).endswith("Name the workbook itself: gear.xlsx.")


def test_a_csv_file_where_its_folder_is_meant(tmp_path: Path) -> None:
    file = tmp_path / "prices.csv"
    file.write_text(PRICES, encoding="utf-8")
    assert said_of(file) == (
        "prices.csv: found a single CSV file; expected a folder of CSV files or an .xlsx workbook. "
        "Name the folder that holds the file."
    )


def test_a_file_of_another_kind(tmp_path: Path) -> None:
    file = tmp_path / "gear.ods"
    file.write_bytes(b"PK")
    assert said_of(file) == (
        "gear.ods: found a file that is neither CSV nor .xlsx; expected a folder of CSV files or an .xlsx workbook. "
        "Save it as an .xlsx workbook."
    )


def test_a_folder_under_the_name_of_a_file(tmp_path: Path) -> None:
    for name, text in SAMPLE.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    (tmp_path / "leads.csv").unlink()
    (tmp_path / "leads.csv").mkdir()
    with pytest.raises(BadInput) as caught:
        read_catalogue(tmp_path)
    assert [str(fault) for fault in caught.value.faults] == [
        "leads.csv: found something else than a file; expected a file. Name an existing file."
    ]


# Uploads


def test_no_files() -> None:
    assert messages({}) == [
        "catalogue: found no files; expected either CSV files or one .xlsx workbook. Choose the files anew."
    ]


def test_a_workbook_among_csv_files() -> None:
    assert messages({**SAMPLE, "gear.xlsx": "PK"}) == [
        "catalogue: found a workbook among other files; expected either CSV files or one .xlsx workbook. "
        "Choose the files anew."
    ]


# Workbooks

SAVE_AS_XLSX = "Save it anew from a spreadsheet program as .xlsx."


def said_of_workbook(content: bytes) -> str:
    with pytest.raises(BadInput) as caught:
        read_catalogue_bytes({"gear.xlsx": content})
    (fault,) = caught.value.faults
    return str(fault)


def archive_of(parts: Mapping[str, bytes]) -> bytes:
    stream = BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return stream.getvalue()


def test_something_else_than_a_workbook() -> None:
    not_one = f"gear.xlsx: found something else than an .xlsx workbook; expected an .xlsx workbook. {SAVE_AS_XLSX}"
    assert said_of_workbook(PRICES.encode()) == not_one
    assert said_of_workbook(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(100)) == not_one


@pytest.mark.parametrize(
    "content",
    [
        b"PK\x03\x04" + bytes(50),
        archive_of({"notes.txt": b"nothing of a workbook"}),
        archive_of({"[Content_Types].xml": b"<Types", "xl/workbook.xml": b"<workbook/>"}),
    ],
)
def test_a_damaged_workbook(content: bytes) -> None:
    assert said_of_workbook(content) == (
        f"gear.xlsx: found a damaged workbook; expected an .xlsx workbook. {SAVE_AS_XLSX}"
    )


def test_an_empty_workbook_file() -> None:
    assert said_of_workbook(b"").startswith("gear.xlsx: found an empty file;")


def test_an_archive_that_unpacks_to_far_too_much() -> None:
    content = archive_of({"xl/worksheets/sheet1.xml": bytes(100_000_001)})
    assert len(content) < 200_000
    assert said_of_workbook(content) == (
        "gear.xlsx: found a workbook that unpacks to far more than a catalogue; expected at most 100 MB in 1000 parts. "
        "Check that it is the right file, or copy the sheets needed to a new workbook."
    )


def test_an_archive_that_lies_about_its_size() -> None:
    """The size in the directory is forged to a few bytes; the parser then never gets more than those."""
    content = bytearray(archive_of({"xl/workbook.xml": b" " * 1_000_000}))
    directory = content.rindex(b"PK\x01\x02")
    # APPNOTE.TXT, section 4.3.12 (from memory): the uncompressed size is at offset 24 of a directory entry.
    struct.pack_into("<I", content, directory + 24, 10)
    assert "found a damaged workbook" in said_of_workbook(bytes(content))


def test_an_archive_of_thousands_of_parts() -> None:
    content = archive_of({f"part{i}": b"" for i in range(1001)})
    assert "found a workbook that unpacks to far more than a catalogue" in said_of_workbook(content)


def test_entities_that_multiply_are_refused() -> None:
    entities = "".join(f'<!ENTITY e{i} "{f"&e{i - 1};" * 10}">' for i in range(1, 10))
    bomb = f'<!DOCTYPE w [<!ENTITY e0 "ha">{entities}]><workbook>&e9;</workbook>'.encode()
    book = openpyxl.Workbook()
    stream = BytesIO()
    book.save(stream)
    with zipfile.ZipFile(stream) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    assert "found a damaged workbook" in said_of_workbook(archive_of({**parts, "xl/workbook.xml": bomb}))


def test_a_workbook_without_the_sheets() -> None:
    stream = BytesIO()
    openpyxl.Workbook().save(stream)
    with pytest.raises(BadInput) as caught:
        read_catalogue_bytes({"gear.xlsx": stream.getvalue()})
    assert [fault.value for fault in caught.value.faults] == ["no processors", "no ports", "no prices"]
    assert {fault.where for fault in caught.value.faults} == {"gear.xlsx"}


def test_a_sheet_with_cells_far_out() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "prices"
    sheet["A1"] = "sku"
    sheet["ZZZ2"] = 1
    stream = BytesIO()
    book.save(stream)
    with pytest.raises(BadInput) as caught:
        read_catalogue_bytes({"gear.xlsx": stream.getvalue()})
    assert any(
        "gear.xlsx sheet prices: found cells as far as row 2, column 18278;" in str(f) for f in caught.value.faults
    )
