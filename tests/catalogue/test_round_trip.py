"""What is written reads back the same, and no spreadsheet can take a text of it for a formula."""

import csv
from dataclasses import replace
from datetime import date
from decimal import Decimal
from io import BytesIO, StringIO
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.catalogue import (
    catalogue_csv_files,
    read_catalogue,
    read_catalogue_bytes,
    write_catalogue_csv,
    write_catalogue_xlsx,
)
from planner.catalogue.records import Amplifier, Catalogue, ConnectorPart, Offer
from planner.catalogue.schema import SHEETS
from planner.contacts import Connector, Contact, Gender
from tests.catalogue.sample import SAMPLE, encoded

DEMO = Path(__file__).resolve().parents[2] / "catalogue_demo"
PLUG = ConnectorPart(sku="X", name="Plug", contact=Contact(Connector.XLR, Gender.MALE))
FORMULAS = ('=HYPERLINK("http://example.org")', "+1+1", "-2+3", "@SUM(A1)", "'=1+1", "''x", "'quoted'")


def through_csv(catalogue: Catalogue) -> Catalogue:
    return read_catalogue_bytes(encoded(catalogue_csv_files(catalogue)))


def through_xlsx(catalogue: Catalogue) -> Catalogue:
    stream = BytesIO()
    write_catalogue_xlsx(catalogue, stream)
    return read_catalogue_bytes({"gear.xlsx": stream.getvalue()})


@pytest.fixture(params=["sample", "demo"])
def catalogue(request: pytest.FixtureRequest) -> Catalogue:
    return read_catalogue(DEMO) if request.param == "demo" else read_catalogue_bytes(encoded(SAMPLE))


def test_csv_round_trip(catalogue: Catalogue, tmp_path: Path) -> None:
    write_catalogue_csv(catalogue, tmp_path / "new" / "folder")
    assert read_catalogue(tmp_path / "new" / "folder") == catalogue


def test_xlsx_round_trip(catalogue: Catalogue, tmp_path: Path) -> None:
    write_catalogue_xlsx(catalogue, tmp_path / "gear.xlsx")
    assert read_catalogue(tmp_path / "gear.xlsx") == catalogue


def test_an_empty_catalogue_makes_the_round_trip() -> None:
    assert through_csv(Catalogue()) == through_xlsx(Catalogue()) == Catalogue()


def test_the_same_catalogue_gives_the_same_bytes(catalogue: Catalogue) -> None:
    streams = BytesIO(), BytesIO()
    for stream in streams:
        write_catalogue_xlsx(catalogue, stream)
    assert streams[0].getvalue() == streams[1].getvalue()
    assert catalogue_csv_files(catalogue) == catalogue_csv_files(through_csv(catalogue))


def test_a_price_keeps_its_digits() -> None:
    prices = ("1299.00", "1.2990", "0.125", "0.1", "12.345678", "9999999999.999999", "0", "1000.125", "999.999000")
    offers = tuple(
        Offer(sku="X", supplier=f"S{i}", currency="EUR", price=Decimal(text), priced_on=date(2026, 11, 1))
        for i, text in enumerate(prices)
    )
    catalogue = Catalogue(connectors=(PLUG,), offers={"X": offers})
    assert through_csv(catalogue) == catalogue
    assert through_xlsx(catalogue) == catalogue


# Formulas


def test_no_text_in_a_workbook_is_a_formula() -> None:
    named = tuple(replace(PLUG, sku=f"X{i}", name=text) for i, text in enumerate(FORMULAS))
    catalogue = Catalogue(connectors=named)
    stream = BytesIO()
    write_catalogue_xlsx(catalogue, stream)
    # openpyxl, a library of its own, says of each cell whether it holds a formula ("f") or text ("s").
    sheet = openpyxl.load_workbook(stream)["connectors"]
    assert [(row[1].value, row[1].data_type) for row in sheet.iter_rows(min_row=2)] == [
        (text, "s") for text in FORMULAS
    ]
    assert through_xlsx(catalogue) == catalogue


def test_no_text_in_a_csv_file_begins_as_a_formula_does() -> None:
    # OWASP, "CSV Injection" (from memory): cells that begin with =, +, - or @ can run as formulas.
    named = tuple(replace(PLUG, sku=f"X{i}", name=text) for i, text in enumerate(FORMULAS))
    catalogue = Catalogue(connectors=named)
    names = [row[1] for row in csv.reader(StringIO(catalogue_csv_files(catalogue)["connectors.csv"]))]
    assert not [name for name in names if name.startswith(("=", "+", "-", "@"))]
    assert through_csv(catalogue) == catalogue


def test_a_negative_number_is_written_plainly() -> None:
    amplifier = Amplifier(sku="A", name="A", channels=1, power_8ohm_w=100.0, noise_dbu=-96.5)
    ports = SAMPLE["ports.csv"].splitlines()
    kept = [ports[0], *(line.replace("A2,", "A,") for line in ports if line.startswith("A2,"))]
    files = catalogue_csv_files(Catalogue(amplifiers=(amplifier,)))
    read = read_catalogue_bytes(encoded({**files, "ports.csv": "\n".join(kept)}))
    assert ",-96.5," in files["amplifiers.csv"]
    assert read.amplifiers == (amplifier,)


# Anything that a record can hold

TEXT = (
    st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"], exclude_characters="\ufffe\uffff"), min_size=1)
    .filter(lambda text: text == text.strip() and len(text) <= 200)
    .filter(lambda text: text not in ("#N/A", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!", "#REF!", "#VALUE!"))
    .filter(lambda text: "x005F_" not in text)  # openpyxl takes this for its own escape of a character
)
SKU = TEXT.filter(lambda text: ";" not in text)
NUMBER = st.floats(min_value=0, max_value=100_000, exclude_min=True)
PARTS = st.builds(
    ConnectorPart,
    sku=SKU,
    name=TEXT,
    contact=st.builds(
        Contact, st.sampled_from([c for c in Connector if c is not Connector.BARE]), st.sampled_from(Gender)
    ),
)
OFFERS = st.builds(
    Offer,
    sku=st.just("X"),
    supplier=TEXT,
    currency=st.text("ABCXYZ", min_size=3, max_size=3),
    price=st.decimals(0, 9_999_999_999, places=6)
    | st.decimals(0, 9_999, places=2)
    | st.integers(0, 9_999).map(Decimal),
    priced_on=st.dates(date(2000, 1, 1), date(2099, 12, 31)),
    stock=st.none() | st.integers(0, 10_000_000),
    least_order=st.integers(1, 10_000_000),
)


@settings(max_examples=20)  # a workbook of fourteen sheets takes its time
@given(
    parts=st.lists(PARTS, max_size=4, unique_by=lambda part: part.sku),
    offers=st.lists(OFFERS, max_size=4, unique_by=lambda offer: offer.supplier),
)
def test_any_text_and_any_price_make_the_round_trip(parts: list[ConnectorPart], offers: list[Offer]) -> None:
    others = [part for part in parts if part.sku != "X"]
    catalogue = Catalogue(
        connectors=tuple(sorted([PLUG, *others], key=lambda part: part.sku)),
        offers={"X": tuple(sorted(offers, key=lambda offer: offer.supplier))} if offers else {},
    )
    assert through_csv(catalogue) == catalogue
    assert through_xlsx(catalogue) == catalogue


@settings(max_examples=10)
@given(power_w=NUMBER, gain_db=st.floats(-20, 100), length=st.floats(1e-9, 1000))
def test_every_digit_of_a_number_makes_the_round_trip(power_w: float, gain_db: float, length: float) -> None:
    sample = read_catalogue_bytes(encoded(SAMPLE))
    catalogue = replace(
        sample,
        amplifiers=(replace(sample.amplifiers[0], power_8ohm_w=power_w, gain_db=gain_db),),
        leads=(replace(sample.leads[0], length_m=length),),
    )
    assert through_csv(catalogue) == catalogue
    assert through_xlsx(catalogue) == catalogue


def test_every_field_of_every_record_has_a_column() -> None:
    """A field that had no column would be lost on the way."""
    for sheet in SHEETS:
        held = {column.part or column.name for column in sheet.columns}
        assert held == set(sheet.record.__dataclass_fields__), sheet.name
