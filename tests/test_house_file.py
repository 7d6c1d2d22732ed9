"""The house settings: what is read, the sentence said of each fault, and the way back to text."""

import tomllib
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import BadInput
from planner.house import House, Rate, Rounding, Task
from planner.house_file import read_house, read_house_bytes, write_house

SETTINGS = """\
[house]
name = "Example Rooms"
address = ["1 Any Street", "Anytown"]
currency = "EUR"
tax_name = "VAT"
tax_percent = "20"
rounding = "half_even"
margin_percent = 35
labour_rate_per_hour = 62.50

[minutes]
fit_processor = "90"
run_lead = 12.5

[rates.USD]
per_house_unit = "1.08"
dated = 2026-11-01

[rates.JPY]
per_house_unit = 168.25
dated = "2026-10-31"
"""


def house_of(text: str) -> House:
    return read_house_bytes(text.encode())


def messages(content: str | bytes) -> list[str]:
    try:
        read_house_bytes(content.encode() if isinstance(content, str) else content)
    except BadInput as error:
        return [str(fault) for fault in error.faults]
    return []


def spoilt(old: str, new: str) -> str:
    assert SETTINGS.count(old) == 1
    return SETTINGS.replace(old, new)


def test_reads_every_setting() -> None:
    assert house_of(SETTINGS) == House(
        name="Example Rooms",
        currency="EUR",
        address=("1 Any Street", "Anytown"),
        rates={
            "USD": Rate(per_house_unit=Decimal("1.08"), dated=date(2026, 11, 1)),
            "JPY": Rate(per_house_unit=Decimal("168.25"), dated=date(2026, 10, 31)),
        },
        margin_percent=Decimal(35),
        labour_rate=Decimal("62.50"),
        minutes={Task.PROCESSOR: Decimal(90), Task.LEAD: Decimal("12.5")},
        tax_name="VAT",
        tax_percent=Decimal(20),
        rounding=Rounding.HALF_EVEN,
    )


def test_a_bare_number_stays_exact() -> None:
    # IEEE 754: no double is exactly 62.1, so a Decimal that came by way of one would differ.
    assert house_of(spoilt("62.50", "62.1")).labour_rate == Decimal("62.1")


def test_what_may_be_left_out() -> None:
    assert house_of('[house]\nname = "A"\ncurrency = "EUR"\nmarkup_percent = "0"\n') == House(
        name="A", currency="EUR", markup_percent=Decimal(0)
    )


TEXT = "a line of text of at most 200 characters. Write it in quotes"
CURRENCY = "a currency code of ISO 4217, three capital letters"
PERCENT = 'an amount from 0 to 100. Write it in plain digits, such as "12.5".'
LABOUR = "an amount from 0 to 1000000000"
MINUTES = "an amount from 0 to 10000"

# Text in the settings, text put in its place, where, what was found, and what was expected.
FAULTS = [
    ('name = "Example Rooms"\n', "", "house.name", "nothing", TEXT),
    ('"Example Rooms"', "12", "house.name", "12", TEXT),
    ('"Example Rooms"', '"  "', "house.name", '"  "', TEXT),
    ('"Example Rooms"', '"a\\nb"', "house.name", '"a\\nb"', TEXT),
    ('["1 Any Street", "Anytown"]', '"1 Any Street"', "house.address", '"1 Any Street"', "a list of lines"),
    ('["1 Any Street", "Anytown"]', "[1]", "house.address", "a list", TEXT),
    ('currency = "EUR"\n', "", "house.currency", "nothing", CURRENCY),
    ('"EUR"', '"€"', "house.currency", '"€"', CURRENCY),
    ('"EUR"', '"EUT"', "house.currency", '"EUT"', f"{CURRENCY}. There is no such currency."),
    ('tax_percent = "20"', 'tax_percent = "120"', "house.tax_percent", '"120"', PERCENT),
    ('tax_percent = "20"', 'tax_percent = "20,5"', "house.tax_percent", '"20,5"', PERCENT),
    ('tax_percent = "20"', "tax_percent = -1", "house.tax_percent", "-1", PERCENT),
    ("62.50", "nan", "house.labour_rate_per_hour", "NaN", LABOUR),
    ("62.50", "inf", "house.labour_rate_per_hour", "Infinity", LABOUR),
    ("62.50", "1e40", "house.labour_rate_per_hour", "1E+40", LABOUR),
    ("62.50", "true", "house.labour_rate_per_hour", "true", LABOUR),
    ("62.50", "{ a = 1 }", "house.labour_rate_per_hour", "a table", LABOUR),
    ("margin_percent = 35", "margin_percent = 100", "house.margin_percent", "100", "an amount from 0 to 99"),
    ("= 35", "= 35\nmarkup_percent = 5", "house.markup_percent", "a margin_percent beside it", "one of the two"),
    ("margin_percent = 35\n", "", "house.margin_percent", "neither this nor markup_percent", "one of the two"),
    ('"half_even"', '"up"', "house.rounding", '"up"', "one of half_up, half_even"),
    ('"half_even"', "[]", "house.rounding", "a list", "one of half_up, half_even"),
    ('tax_name = "VAT"', 'tax_nome = "VAT"', "house.tax_nome", "an unknown key", "one of name, address, currency"),
    ("run_lead = 12.5", "run_lead = -1", "minutes.run_lead", "-1", MINUTES),
    ("run_lead = 12.5", 'run_lead = "ten"', "minutes.run_lead", '"ten"', MINUTES),
    ("run_lead", "run_leads", "minutes.run_leads", "an unknown key", "one of fit_processor, fit_card"),
    (
        "[minutes]",
        "[minute]",
        "minute",
        "an unknown key",
        "one of house, minutes, rates, papers. Did you mean minutes?",
    ),
    ("[rates.USD]", "[rates.usd]", "rates.usd", '"usd"', CURRENCY),
    ("[rates.USD]", "[rates.EUR]", "rates.EUR", "a rate of the house's own currency", "other currencies only"),
    ('"1.08"', "0", "rates.USD.per_house_unit", "0", "a rate above 0"),
    ('per_house_unit = "1.08"\n', "", "rates.USD.per_house_unit", "nothing", "a rate above 0"),
    ("dated = 2026-11-01\n", "", "rates.USD.dated", "nothing", "a date such as 2026-11-01. Write year-month-day."),
    (
        '"2026-10-31"',
        '"2026-02-30"',
        "rates.JPY.dated",
        '"2026-02-30"',
        "a date such as 2026-11-01. There is no such day.",
    ),
    ("dated = 2026-11-01", "dated = 2026-11-01T10:00:00", "rates.USD.dated", "2026-11-01 10:00:00", "a date such as"),
    ("dated = 2026-11-01", "date = 1\ndated = 2026-11-01", "rates.USD.date", "an unknown key", "one of per_house_unit"),
]


@pytest.mark.parametrize(("old", "new", "where", "found", "expected"), FAULTS)
def test_one_fault_one_message(old: str, new: str, where: str, found: str, expected: str) -> None:
    (message,) = messages(spoilt(old, new))
    assert message.startswith(f"house.toml {where}: found {found}; expected {expected}")


def test_every_fault_is_told_at_once() -> None:
    text = '[house]\nname = ""\ncurrency = "euro"\n[minutes]\nrun_lead = "x"\n[rates]\nUSD = 1.08\n[taxes]\n'
    assert [message.partition(";")[0] for message in messages(text)] == [
        "house.toml taxes: found an unknown key",
        'house.toml house.currency: found "euro"',
        'house.toml house.name: found ""',
        "house.toml rates.USD: found 1.08",
        'house.toml minutes.run_lead: found "x"',
        "house.toml house.margin_percent: found neither this nor markup_percent",
    ]


def test_a_file_without_the_house() -> None:
    assert messages("") == [
        "house.toml house: found nothing; expected a table [house]. Begin it with the line [house]."
    ]


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (b"[house", "text that is not TOML: Expected ']' at the end of a table declaration (at end of document)"),
        (SETTINGS.encode("utf-16"), "a byte 0xFF in line 1"),
        (SETTINGS.replace("Rooms", "Räume").encode("latin-1"), "a byte 0xE4 in line 2"),
        (b"a = " + b"[" * 100_000, "brackets nested too deeply"),
        (b"a = " + b"9" * 5_000, "text that is not TOML: Exceeds the limit"),
        (b"#" * 1_000_001, "a file above 1 MB"),
        (b"PK\x03\x04" + bytes(30), "text that is not TOML"),
    ],
    ids=["broken", "utf-16", "latin-1", "deep", "long number", "huge", "binary"],
)
def test_a_file_that_cannot_be_taken_up(content: bytes, found: str) -> None:
    (message,) = messages(content)
    assert message.startswith(f"house.toml: found {found}")


def test_a_byte_order_mark_and_carriage_returns_are_accepted() -> None:
    assert read_house_bytes(("\ufeff" + SETTINGS.replace("\n", "\r\n")).encode()) == house_of(SETTINGS)


def test_a_file_or_its_folder_may_be_named(tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text(SETTINGS, encoding="utf-8")
    assert read_house(tmp_path) == read_house(tmp_path / "house.toml") == house_of(SETTINGS)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read_house(tmp_path / "home.toml")
    assert str(caught.value) == (
        f"{tmp_path / 'home.toml'}: found a file that cannot be opened (no such file or directory); "
        "expected a readable file. Check the name and the folder."
    )


# The way back

LINE = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=200).filter(
    lambda text: text == text.strip()
)
AMOUNT = st.decimals(0, 10_000, places=4) | st.integers(0, 10_000).map(Decimal)
HOUSES = st.builds(
    House,
    name=LINE,
    currency=st.just("EUR"),
    address=st.lists(LINE, max_size=3).map(tuple),
    rates=st.dictionaries(
        st.sampled_from(["USD", "GBP", "JPY"]),
        st.builds(Rate, per_house_unit=st.decimals("0.0001", 10_000, places=4), dated=st.dates(date(2000, 1, 1))),
    ),
    margin_percent=st.none(),
    markup_percent=AMOUNT,
    labour_rate=AMOUNT,
    minutes=st.dictionaries(st.sampled_from(Task), AMOUNT),
    tax_name=LINE,
    tax_percent=st.decimals(0, 100, places=3),
    rounding=st.sampled_from(Rounding),
)


@given(HOUSES)
def test_what_is_written_reads_the_same(house: House) -> None:
    text = write_house(house)
    assert house_of(text) == house
    assert write_house(house_of(text)) == text


def test_what_is_written_is_toml_with_amounts_as_texts() -> None:
    # tomllib of the standard library, by TOML 1.0, is the judge of what the text holds.
    tree = tomllib.loads(write_house(house_of(SETTINGS)))
    assert tree["house"]["margin_percent"] == "35"
    assert tree["house"]["labour_rate_per_hour"] == "62.50"
    assert tree["rates"]["USD"] == {"per_house_unit": "1.08", "dated": date(2026, 11, 1)}
    assert "markup_percent" not in tree["house"]
