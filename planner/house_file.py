"""House settings as a TOML file, read and written: the firm, minutes for each task, exchange rates.

    [house]            name, currency, and margin_percent or markup_percent; address, tax_name,
                       tax_percent, rounding and labour_rate_per_hour may be left out
    [minutes]          minutes for one of each labour task; a task left out is not charged
    [rates.USD]        per_house_unit: units of that currency for one of the house's; dated
    [papers]           logo: a PNG, JPEG or SVG file beside this one; valid_days of a quote; prices:
                       "itemised" or "summarised"; terms: lines for the proposal. All may be left out

Amounts are exact decimals, in quotes or bare.
"""

import re
import tomllib
from collections.abc import Callable, Mapping
from datetime import date, datetime
from decimal import Decimal, InvalidOperation
from difflib import get_close_matches
from errno import ENOENT
from pathlib import Path
from typing import Any
from unicodedata import category

from planner.errors import BadInput, Fault
from planner.house import House, Logo, Rate, Rounding, Stationery, Task
from planner.logo import LARGEST_LOGO_BYTES, UnfitLogo, logo_of

HOUSE_FILE = "house.toml"
LARGEST_FILE_BYTES = 1_000_000
LONGEST_TEXT = 200

_HOUSE_KEYS = (
    "name", "address", "currency", "tax_name", "tax_percent", "rounding",
    "margin_percent", "markup_percent", "labour_rate_per_hour",
)  # fmt: skip
_TASK_KEYS = tuple(task.value for task in Task)
_RATE_KEYS = ("per_house_unit", "dated")
_PAPER_KEYS = ("logo", "valid_days", "prices", "terms")
_ITEMISED, _SUMMARISED = "itemised", "summarised"
MOST_VALID_DAYS = 3650

OpenBeside = Callable[[str], bytes]
"""Gives the content of a file that lies beside the settings. Raises OSError."""


def read_house(path: Path) -> House:
    """The settings in a file; a folder stands for the house.toml in it. Raises BadInput with every fault."""
    try:
        file = path / HOUSE_FILE if path.is_dir() else path
        with file.open("rb") as stream:
            content = stream.read(LARGEST_FILE_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
        found = f"a file that cannot be opened ({reason.lower()})"
        raise _refusal(str(path), found, "a readable file", "Check the name and the folder.") from None
    return read_house_bytes(content, file.name, _opener(file.parent))


def read_house_bytes(content: bytes, name: str = HOUSE_FILE, beside: OpenBeside | None = None) -> House:
    """The settings in the content of a file. Raises BadInput with every fault.

    `beside` opens the files that the settings name, such as a logo.
    """
    faults: list[Fault] = []
    root = _Section(_tree(content, name), name, "", ("house", "minutes", "rates", "papers"), faults)
    house = root.section("house", _HOUSE_KEYS, required=True)
    minutes = root.section("minutes", _TASK_KEYS)
    currency = house.read("currency", _currency)
    settings = House(
        name=house.read("name", _text),
        currency=currency,
        address=house.read("address", _lines, ()),
        rates=_rates(root.section("rates", None), currency),
        margin_percent=house.read("margin_percent", _amount(0, 99), None),
        markup_percent=house.read("markup_percent", _amount(0, 10_000), None),
        labour_rate=house.read("labour_rate_per_hour", _amount(0, 1_000_000_000), Decimal(0)),
        minutes={task: minutes.read(task.value, _amount(0, 10_000)) for task in Task if task.value in minutes.keys},
        tax_name=house.read("tax_name", _text, "tax"),
        tax_percent=house.read("tax_percent", _amount(0, 100), Decimal(0)),
        rounding=house.read("rounding", _rounding, Rounding.HALF_UP),
        stationery=_stationery(root.section("papers", _PAPER_KEYS), beside or _nothing_beside),
    )
    _exactly_one_of_margin_and_markup(house)
    if faults:
        raise BadInput(tuple(faults))
    return settings


def already_read(house: House) -> OpenBeside:
    """Opens the files that settings were read with, for text that was made from them."""
    logo = house.stationery.logo

    def read(name: str) -> bytes:
        return logo.content if logo is not None and logo.file == name else _nothing_beside(name)

    return read


def write_house(house: House) -> str:
    """The TOML text that reads as these settings."""
    from tomli_w import dumps  # late: only where a file is written

    firm: dict[str, object] = {
        "name": house.name,
        "address": list(house.address),
        "currency": house.currency,
        "tax_name": house.tax_name,
        "tax_percent": format(house.tax_percent, "f"),
        "rounding": house.rounding.value,
        "labour_rate_per_hour": format(house.labour_rate, "f"),
    }
    if house.margin_percent is not None:
        firm["margin_percent"] = format(house.margin_percent, "f")
    if house.markup_percent is not None:
        firm["markup_percent"] = format(house.markup_percent, "f")
    minutes = {task.value: format(house.minutes[task], "f") for task in Task if task in house.minutes}
    rates = {
        code: {"per_house_unit": format(rate.per_house_unit, "f"), "dated": rate.dated}
        for code, rate in sorted(house.rates.items())
    }
    return dumps({"house": firm, "minutes": minutes, "rates": rates, "papers": _papers(house.stationery)})


def _papers(stationery: Stationery) -> dict[str, object]:
    logo = {} if stationery.logo is None else {"logo": stationery.logo.file}
    return logo | {
        "valid_days": stationery.valid_days,
        "prices": _ITEMISED if stationery.itemised else _SUMMARISED,
        "terms": list(stationery.terms),
    }


class _Unfit(Exception):
    """A value that cannot be used: what was expected, and how to mend it."""

    def __init__(self, expected: str, remedy: str) -> None:
        self.expected = expected
        self.remedy = remedy
        super().__init__(expected)


class _Section:
    """One table of the file. Its faults go into a list that all tables share.

    A value at fault comes back as None; the list then keeps the settings from being used.
    """

    def __init__(
        self, entries: Mapping[str, object], file: str, path: str, known: tuple[str, ...] | None, faults: list[Fault]
    ) -> None:
        self._entries, self._file, self._path, self._faults = entries, file, path, faults
        self.keys = tuple(entries)
        for key in self.keys:
            if known is not None and key not in known:
                near = get_close_matches(key, known, n=1)
                remedy = f"Did you mean {near[0]}?" if near else "Remove it."
                self.fault(key, "an unknown key", f"one of {', '.join(known)}", remedy)

    def fault(self, key: str, value: str, expected: str, remedy: str) -> None:
        """Notes a fault with the value of `key`."""
        path = f"{self._path}.{_visible(key)}" if self._path else _visible(key)
        self._faults.append(Fault(where=f"{self._file} {path}", value=value, expected=expected, remedy=remedy))

    def read(self, key: str, convert: Callable[[Any], Any], *default: object) -> Any:
        """The value of `key`, or the default; without a default it must be there."""
        if key not in self._entries and default:
            return default[0]
        try:
            return convert(self._entries.get(key))
        except _Unfit as unfit:
            self.fault(key, _shown(self._entries.get(key)), unfit.expected, unfit.remedy)
            return None

    def section(self, key: str, known: tuple[str, ...] | None, *, required: bool = False) -> "_Section":
        """The table [key]; an absent one is empty, and one fault if it is required."""
        found = self._entries.get(key)
        path = f"{self._path}.{_visible(key)}" if self._path else _visible(key)
        if isinstance(found, dict):
            return _Section(found, self._file, path, known, self._faults)
        if required or found is not None:
            self.fault(key, _shown(found), f"a table [{path}]", f"Begin it with the line [{path}].")
        return _Section({}, self._file, path, known, [])


def _rates(table: _Section, house_currency: str | None) -> dict[str, Rate]:
    rates: dict[str, Rate] = {}
    for code in table.keys:
        entry = table.section(code, _RATE_KEYS)
        try:
            currency = _currency(code)
        except _Unfit as unfit:
            table.fault(code, _shown(code), unfit.expected, unfit.remedy)
            continue
        if currency == house_currency:
            table.fault(code, "a rate of the house's own currency", "other currencies only", "Remove the table.")
        rates[currency] = Rate(
            per_house_unit=entry.read("per_house_unit", _rate), dated=entry.read("dated", _day)
        )  # fmt: skip
    return rates


def _stationery(papers: _Section, beside: OpenBeside) -> Stationery:
    usual = Stationery()
    return Stationery(
        logo=papers.read("logo", lambda value: _logo(value, beside), usual.logo),
        valid_days=papers.read("valid_days", _days, usual.valid_days),
        itemised=papers.read("prices", _itemised, usual.itemised),
        terms=papers.read("terms", _lines, usual.terms),
    )


def _opener(folder: Path) -> OpenBeside:
    def read(name: str) -> bytes:
        with (folder / name).open("rb") as stream:
            return stream.read(LARGEST_LOGO_BYTES + 1)

    return read


def _nothing_beside(name: str) -> bytes:
    raise FileNotFoundError(ENOENT, "no such file among those given")


def _exactly_one_of_margin_and_markup(house: _Section) -> None:
    given = [key for key in ("margin_percent", "markup_percent") if key in house.keys]
    if len(given) == 2:
        house.fault("markup_percent", "a margin_percent beside it", "one of the two", "Remove the other.")
    elif not given:
        house.fault("margin_percent", "neither this nor markup_percent", "one of the two",
                    'Add one, "0" where cost is passed on.')  # fmt: skip


# Values


def _text(value: object) -> str:
    if isinstance(value, str) and 0 < len(value.strip()) <= LONGEST_TEXT and not any(map(_breaks_a_line, value)):
        return value.strip()
    raise _Unfit(f"a line of text of at most {LONGEST_TEXT} characters", 'Write it in quotes, such as "My Firm".')


def _breaks_a_line(letter: str) -> bool:
    return category(letter) in ("Cc", "Zl", "Zp")


def _lines(value: object) -> tuple[str, ...]:
    if not isinstance(value, list):
        raise _Unfit("a list of lines", 'Write it in brackets, such as ["4 High Street", "Town"].')
    return tuple(_text(line) for line in value)


def _currency(value: object) -> str:
    from babel.core import get_global  # late: it loads the locale tables

    expected = "a currency code of ISO 4217, three capital letters"
    if not isinstance(value, str) or not re.fullmatch("[A-Z]{3}", value):
        raise _Unfit(expected, 'Write a code such as "EUR".')
    if value not in get_global("all_currencies"):
        raise _Unfit(expected, "There is no such currency.")
    return value


def _amount(least: int, most: int) -> Callable[[object], Decimal]:
    """A reader of exact amounts from `least` to `most`, both included."""

    def read(value: object) -> Decimal:
        amount = _decimal(value)
        if amount is None or not least <= amount <= most:
            raise _Unfit(f"an amount from {least} to {most}", 'Write it in plain digits, such as "12.5".')
        return amount

    return read


def _rate(value: object) -> Decimal:
    amount = _decimal(value)
    if amount is None or not 0 < amount <= 1_000_000_000:
        raise _Unfit("a rate above 0 and up to 1000000000", 'Write it in plain digits, such as "1.08".')
    return amount


def _decimal(value: object) -> Decimal | None:
    """A finite number of at most twelve decimals from text or a bare number, else None."""
    if isinstance(value, str) and not re.fullmatch(r"-?[0-9]{1,12}(\.[0-9]{1,12})?", value):
        return None
    if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
        return None
    amount = Decimal(value)
    exponent = amount.as_tuple().exponent
    return amount if isinstance(exponent, int) and exponent >= -12 and amount.adjusted() <= 12 else None


def _day(value: object) -> date:
    if isinstance(value, str) and re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        try:
            value = date.fromisoformat(value)
        except ValueError:
            raise _Unfit("a date such as 2026-11-01", "There is no such day.") from None
    if not isinstance(value, date) or isinstance(value, datetime):
        raise _Unfit("a date such as 2026-11-01", "Write year-month-day.")
    return value


def _logo(value: object, beside: OpenBeside) -> Logo:
    name = _text(value)
    try:
        return logo_of(name, beside(name))
    except UnfitLogo as unfit:
        raise _Unfit(unfit.expected, unfit.remedy) from None
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise _Unfit(
            "a picture file beside the settings", f"It cannot be opened ({reason.lower()}): check the name."
        ) from None


def _days(value: object) -> int:
    days = _decimal(value)
    if days is None or days != int(days) or not 1 <= days <= MOST_VALID_DAYS:
        raise _Unfit(f"a whole number of days from 1 to {MOST_VALID_DAYS}", "Write it in plain digits, such as 30.")
    return int(days)


def _itemised(value: object) -> bool:
    if value not in (_ITEMISED, _SUMMARISED):
        raise _Unfit(f"one of {_ITEMISED}, {_SUMMARISED}", "Write one of the two in quotes.")
    return value == _ITEMISED


def _rounding(value: object) -> Rounding:
    known = [rounding.value for rounding in Rounding]
    if value not in known:
        raise _Unfit(f"one of {', '.join(known)}", "Write one of the two in quotes.")
    return Rounding(value)


# The file as a whole, and values in messages


def _tree(content: bytes, name: str) -> dict[str, Any]:
    """The tables of a TOML file. Raises BadInput with one fault."""
    if len(content) > LARGEST_FILE_BYTES:
        raise _refusal(name, "a file above 1 MB", "a file of house settings", "Check that it is the right file.")
    try:
        return tomllib.loads(content.decode("utf-8-sig"), parse_float=_exact)
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        found = f"a byte 0x{content[error.start]:02X} in line {line}"
        raise _refusal(name, found, "text in UTF-8", "Save it as plain text in UTF-8.") from None
    except RecursionError:
        raise _refusal(name, "brackets nested too deeply", "a TOML file", "Remove the nested brackets.") from None
    except ValueError as error:
        raise _refusal(name, f"text that is not TOML: {error}", "a TOML file", "Mend that line.") from None


def _exact(text: str) -> Decimal:
    """A bare number exactly; one too large for that counts as not a number."""
    try:
        return Decimal(text)
    except InvalidOperation:
        return Decimal("NaN")


def _shown(value: object) -> str:
    match value:
        case None:
            return "nothing"
        case str():
            return f'"{_visible(value)}"'
        case bool():
            return str(value).lower()
        case dict():
            return "a table"
        case list():
            return "a list"
    try:
        return _visible(str(value))
    except ValueError:  # Python prints no whole number of thousands of digits
        return "a huge number"


def _visible(text: str) -> str:
    """Text for a message: shortened, control characters escaped."""
    cut = text if len(text) <= 60 else f"{text[:60]}…"
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in cut)


def _refusal(where: str, value: str, expected: str, remedy: str) -> BadInput:
    return BadInput((Fault(where=where, value=value, expected=expected, remedy=remedy),))
