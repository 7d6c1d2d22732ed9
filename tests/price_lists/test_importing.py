"""Whole lists into the catalogue: suggestions, every fault at once, changes in percent, what is unknown or old."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from planner.catalogue import catalogue_csv_files, read_catalogue_bytes
from planner.catalogue.records import Catalogue, Offer
from planner.errors import BadInput
from planner.price_lists.figures import DayStyle, FigureStyle
from planner.price_lists.importing import News, PriceImport, import_prices, large_changes, news_counts
from planner.price_lists.offers import old_offers, with_prices
from planner.price_lists.reading import Entry, Reading, reading_of, reading_tree
from planner.price_lists.sheet import read_price_sheet
from planner.price_lists.suggest import suggest
from tests.price_lists.lists import CATALOGUE, DAY, ENGLISH, FAULTY, GERMAN, HOUSE, SKUS, workbook

TALLOW = "Tallow & Sons"


def imported(content: bytes, catalogue: Catalogue = CATALOGUE, supplier: str = TALLOW, **said: object) -> PriceImport:
    sheet = read_price_sheet("list.csv", content)
    reading = replace(suggest(sheet, SKUS).reading, **said)  # type: ignore[arg-type]
    return import_prices(sheet, reading, supplier, DAY, catalogue, HOUSE)


def offer(sku: str, price: str, currency: str = "EUR", **other: object) -> Offer:
    return Offer(sku=sku, supplier=TALLOW, currency=currency, price=Decimal(price), **{"priced_on": DAY, **other})  # type: ignore[arg-type]


def test_a_german_list_needs_no_help() -> None:
    found = suggest(read_price_sheet("liste.csv", GERMAN), SKUS)
    assert found.reading.columns == {
        Entry.CODE: "Art.-Nr.",
        Entry.NAME: "Bezeichnung",
        Entry.PRICE: "Einkaufspreis netto",
        Entry.STOCK: "Lager",
    }
    assert (found.reading.figures, found.ambiguous, found.reading.currency) == (FigureStyle.COMMA, False, "EUR")
    assert [line.offer for line in imported(GERMAN).lines] == [
        offer("receiver-7-mirrored", "631.00", stock=12),
        offer("amp-1-500-xlr", "1204.50", stock=0),
        offer("splitter-rca-y", "4", stock=2400),
    ]


def test_an_english_list_with_days_and_currencies_of_its_own() -> None:
    found = suggest(read_price_sheet("list.txt", ENGLISH), SKUS)
    assert (found.reading.figures, found.reading.days) == (FigureStyle.POINT, DayStyle.DAY_FIRST)
    assert [line.offer for line in imported(ENGLISH).lines] == [
        offer("receiver-7-mirrored", "1089.50", "GBP", priced_on=date(2026, 11, 3)),
        offer("amp-1-500-xlr", "849", "USD", priced_on=date(2026, 11, 25)),
    ]


def test_typed_cells_of_a_workbook_and_a_formula_without_a_value() -> None:
    content = workbook(
        ("Item no", "Net price", "Price date"),
        ("receiver-7-mirrored", 631.5, date(2026, 11, 2)),
        ("amp-1-500-xlr", "=B2*2", date(2026, 11, 2)),
    )
    found = imported(content, currency="EUR")
    assert [line.offer for line in found.lines] == [offer("receiver-7-mirrored", "631.5", priced_on=date(2026, 11, 2))]
    (fault,) = found.rejected
    assert "row 3, column Net price: found a formula without a saved value" in str(fault)


def test_figures_that_can_mean_two_things_are_asked_for() -> None:
    found = suggest(read_price_sheet("x.csv", b"sku;price\namp-1-500-xlr;1.299\n"), SKUS)
    assert found.ambiguous
    assert found.figure_styles == {FigureStyle.POINT, FigureStyle.COMMA}


def test_a_title_that_says_nothing_is_known_by_what_stands_below() -> None:
    content = b"zzz,qqq,price\nx,amp-1-500-xlr,5.00\ny,receiver-7-mirrored,6.00\n"
    assert suggest(read_price_sheet("x.csv", content), SKUS).reading.columns[Entry.CODE] == "qqq"


def test_every_bad_row_is_told_at_once_with_its_remedy() -> None:
    found = imported(FAULTY)
    assert [(str(fault).split(":")[0], fault.value) for fault in found.rejected] == [
        ("list.csv row 2, column price", '"abc"'),
        ("list.csv row 3, column price", '"-5"'),
        ("list.csv row 4, column code", "nothing"),
        ("list.csv row 5, column currency", '"QQQ"'),
        ("list.csv row 7, column code", '"adapter-rca-female-xlr-male"'),
        ("list.csv row 9, column min order", '"ten"'),
        ("list.csv row 10, column price", "nothing"),
        ("list.csv row 11, column price", '"$ 45.00"'),
    ]
    assert all(fault.expected and fault.remedy for fault in found.rejected)
    assert [line.offer for line in found.lines] == [offer("adapter-rca-female-xlr-male", "3.00")]
    assert [(one.row, one.code, one.price) for one in found.unknown] == [(8, "no-such-thing", "99.00")]


def test_every_row_is_accounted_for() -> None:
    found = imported(FAULTY)
    rows = {line.row for line in found.lines} | {one.row for one in found.unknown}
    rows |= {int(fault.where.split("row ")[1].split(",")[0]) for fault in found.rejected}
    assert rows == set(range(2, 12))


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"columns": {}}, ["no column chosen for the code", "no column chosen for the price"]),
        ({"columns": {Entry.CODE: "Art.-Nr.", Entry.PRICE: "gone"}}, ['no column "gone"']),
        ({"currency": ""}, ["state it"]),
    ],
)
def test_a_reading_that_does_not_fit_is_told(said: dict[str, Any], words: list[str]) -> None:
    with pytest.raises(BadInput) as caught:
        imported(GERMAN, **said)
    assert all(word in str(caught.value).lower() or word in str(caught.value) for word in words)
    assert len(caught.value.faults) == len(words)


def test_what_changed_since_last_time_in_percent() -> None:
    first = with_prices(CATALOGUE, imported(b"sku,price\namp-1-500-xlr,200.00\nreceiver-7-mirrored,600.00\n"
                                            b"splitter-rca-y,4.00\nisolator-rca,30\n", currency="EUR"))  # fmt: skip
    found = imported(b"sku,price\namp-1-500-xlr,205.00\nreceiver-7-mirrored,60.00\nsplitter-rca-y,4.00\n"
                     b"isolator-xlr,50\n", first, currency="EUR")  # fmt: skip
    assert {line.offer.sku: (line.news, line.change_percent) for line in found.lines} == {
        "amp-1-500-xlr": (News.DEARER, Decimal("2.5")),
        "receiver-7-mirrored": (News.CHEAPER, Decimal("-90.0")),
        "splitter-rca-y": (News.SAME, Decimal("0.0")),
        "isolator-xlr": (News.NEW, None),
    }
    assert news_counts(found)[News.DEARER] == 1
    assert [line.offer.sku for line in large_changes(found)] == ["receiver-7-mirrored"]
    assert [one.sku for one in found.missing] == ["isolator-rca"]


def test_another_currency_is_no_change_in_percent() -> None:
    first = with_prices(CATALOGUE, imported(b"sku,price\namp-1-500-xlr,200\n", currency="EUR"))
    (line,) = imported(b"sku,price\namp-1-500-xlr,200\n", first, currency="USD").lines
    assert (line.news, line.change_percent) == (News.OTHER_CURRENCY, None)


def test_only_this_supplier_s_offers_are_replaced_and_missing_ones_kept_unless_withdrawn() -> None:
    sku = "amp-1-500-xlr"
    others = CATALOGUE.offers[sku]
    first = with_prices(CATALOGUE, imported(b"sku,price\namp-1-500-xlr,1\nisolator-rca,2\n", currency="EUR"))
    second = imported(b"sku,price\namp-1-500-xlr,3\n", first, currency="EUR")
    kept, withdrawn = with_prices(first, second), with_prices(first, second, withdraw_missing=True)
    assert set(kept.offers[sku]) == {*others, offer(sku, "3")}
    assert offer("isolator-rca", "2") in kept.offers["isolator-rca"]
    assert offer("isolator-rca", "2") not in withdrawn.offers.get("isolator-rca", ())
    assert set(withdrawn.offers[sku]) == {*others, offer(sku, "3")}


def test_the_new_catalogue_reads_back_from_its_files_as_it_is() -> None:
    catalogue = with_prices(CATALOGUE, imported(GERMAN))
    files = {name: text.encode() for name, text in catalogue_csv_files(catalogue).items()}
    assert read_catalogue_bytes(files) == catalogue


def test_a_supplier_s_own_code_is_read_as_the_gear_that_was_named_for_it() -> None:
    content = b"sku,price\nTAL-500,210.00\n"
    assert imported(content, currency="EUR").unknown[0].code == "TAL-500"
    found = imported(content, currency="EUR", sku_of={"tal-500": "amp-1-500-xlr"})
    assert [line.offer for line in found.lines] == [offer("amp-1-500-xlr", "210.00")]


def test_a_reading_is_remembered_whole_and_what_is_not_understood_is_asked_again() -> None:
    reading = Reading(
        columns={Entry.CODE: "Art.-Nr.", Entry.PRICE: "Preis"},
        figures=FigureStyle.COMMA,
        days=DayStyle.DAY_FIRST,
        currency="CHF",
        sku_of={"TAL-500": "amp-1-500-xlr"},
    )
    assert reading_of(reading_tree(reading)) == reading
    assert reading_of({"columns": 5, "figures": "?", "days": None, "sku_of": {"a": 1}}) == Reading()


def test_what_was_remembered_comes_before_what_is_guessed() -> None:
    sheet = read_price_sheet("liste.csv", GERMAN)
    remembered = Reading(columns={Entry.PRICE: "UVP (inkl. MwSt.)", Entry.CODE: "gone"}, currency="CHF")
    found = suggest(sheet, SKUS, remembered).reading
    assert found.columns[Entry.PRICE] == "UVP (inkl. MwSt.)"
    assert found.columns[Entry.CODE] == "Art.-Nr."
    assert found.currency == "CHF"


def test_old_prices_are_told_by_age() -> None:
    catalogue = with_prices(CATALOGUE, imported(b"sku,price,date\namp-1-500-xlr,1,2026-08-01\n", currency="EUR"))
    assert old_offers(catalogue, date(2026, 10, 30)) == ()
    assert old_offers(catalogue, date(2026, 10, 31)) == (offer("amp-1-500-xlr", "1", priced_on=date(2026, 8, 1)),)


def test_formula_text_is_text() -> None:
    found = imported(b'sku,price,name\n=cmd|x,5.00,"=HYPERLINK(1)"\namp-1-500-xlr,=1+1,\n', currency="EUR")
    assert found.unknown[0].code == "=cmd|x"
    assert found.rejected[0].value == '"=1+1"'
