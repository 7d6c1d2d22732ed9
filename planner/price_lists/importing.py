"""Rows of a price list to offers: what is taken, what changed, what is refused, and what nobody knows.

Every row is told of: none is dropped in silence, and none is guessed at.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from enum import Enum

from planner.catalogue.cells import Currency, Unreadable, Whole, quoted
from planner.catalogue.records import Catalogue, Offer
from planner.catalogue.tables import Broken, Cell, Row
from planner.errors import BadInput, Fault
from planner.house import House
from planner.money import has_rate
from planner.price_lists.figures import CURRENCIES_OF_SIGN, read_amount, read_day, read_figure
from planner.price_lists.reading import NEEDED, Entry, Reading
from planner.price_lists.sheet import PriceSheet, shown

LARGE_CHANGE_PERCENT = 30
"""A change beyond this is pointed out, since it may be a slip of the decimal point; common practice, no source."""

_STOCK, _LEAST = Whole(0, 10_000_000), Whole(1, 10_000_000)


class News(Enum):
    """What a row brings that the catalogue did not have from this supplier."""

    NEW = "new"
    DEARER = "dearer"
    CHEAPER = "cheaper"
    OTHER_CURRENCY = "other currency"
    SAME = "same"


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """A row that was taken: its offer, and the offer of the same supplier that it replaces."""

    row: int
    offer: Offer
    before: Offer | None

    @property
    def news(self) -> News:
        """What is new about it."""
        if self.before is None:
            return News.NEW
        if self.before.currency != self.offer.currency:
            return News.OTHER_CURRENCY
        if self.offer.price == self.before.price:
            return News.SAME
        return News.DEARER if self.offer.price > self.before.price else News.CHEAPER

    @property
    def change_percent(self) -> Decimal | None:
        """By how much the price changed, to a tenth of a percent; None where that has no meaning."""
        if self.before is None or self.before.currency != self.offer.currency or not self.before.price:
            return None
        change = (self.offer.price - self.before.price) / self.before.price * 100
        return change.quantize(Decimal("0.1"), ROUND_HALF_UP)

    @property
    def large(self) -> bool:
        """Whether the price changed so much that somebody should look."""
        return self.change_percent is not None and abs(self.change_percent) > LARGE_CHANGE_PERCENT


@dataclass(frozen=True, kw_only=True, slots=True)
class Unknown:
    """A row whose code is no sku of the catalogue, and for which nobody has said which gear it is."""

    row: int
    code: str
    name: str
    price: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PriceImport:
    """What came of one list. `missing` are offers of this supplier that the list no longer has."""

    supplier: str
    lines: tuple[Line, ...]
    rejected: tuple[Fault, ...]
    unknown: tuple[Unknown, ...]
    missing: tuple[Offer, ...]


def import_prices(
    sheet: PriceSheet, reading: Reading, supplier: str, dated: date, catalogue: Catalogue, house: House
) -> PriceImport:
    """Every row of the sheet, in order. `dated` is the date of rows that have none.

    Raises BadInput where the reading itself does not fit the sheet.
    """
    _check(sheet, reading, supplier)
    before = {sku: offer for sku, offers in catalogue.offers.items() for offer in offers if offer.supplier == supplier}
    sku_by_code = {item.sku.casefold(): item.sku for item in catalogue.items()}
    sku_by_code |= {code.casefold(): sku for code, sku in reading.sku_of.items() if sku.casefold() in sku_by_code}
    reader = _RowReader(sheet, reading, supplier, dated, house)
    lines: dict[str, Line] = {}
    unknown: list[Unknown] = []
    for row in sheet.rows:
        code = reader.code(row)
        sku = sku_by_code.get(code.casefold())
        if sku is None and code:
            unknown.append(reader.unknown(row, code))
        elif (offer := reader.offer(row, sku)) is not None:
            line = Line(row=row.number, offer=offer, before=before.get(offer.sku))
            first = lines.setdefault(offer.sku, line)
            if first.offer != offer:
                reader.reject_second(row, first)
    return PriceImport(
        supplier=supplier,
        lines=tuple(lines.values()),
        rejected=tuple(reader.faults),
        unknown=tuple(unknown),
        missing=tuple(offer for sku, offer in sorted(before.items()) if sku not in lines),
    )


def _check(sheet: PriceSheet, reading: Reading, supplier: str) -> None:
    """Raises BadInput with everything that keeps the reading from being used at all."""
    titles = ", ".join(map(quoted, sheet.titles[:12]))
    header = f"{sheet.where} row {sheet.header_row}"
    faults = []
    if not supplier.strip():
        faults.append(Fault(where="supplier", value="nothing", expected="a name", remedy="Say whose list it is."))
    for entry in NEEDED:
        if entry not in reading.columns:
            value = f"no column chosen for the {entry.value}"
            faults.append(Fault(where=header, value=value, expected=f"one of {titles}", remedy="Choose it."))
    for entry, title in reading.columns.items():
        if title not in sheet.titles:
            value, expected = f"no column {quoted(title)} for the {entry.value}", f"one of {titles}"
            faults.append(Fault(where=header, value=value, expected=expected, remedy="Choose another column."))
    if Entry.CURRENCY not in reading.columns and not reading.currency:
        remedy = "State it, or choose the column that has it."
        faults.append(Fault(where="currency", value="nothing", expected="a code such as EUR", remedy=remedy))
    if faults:
        raise BadInput(tuple(faults))


class _RowReader:
    """Reads row after row; whatever is wrong goes into one list, all faults of a row together."""

    def __init__(self, sheet: PriceSheet, reading: Reading, supplier: str, dated: date, house: House) -> None:
        self._sheet, self._reading, self._supplier, self._dated, self._house = sheet, reading, supplier, dated, house
        self.faults: list[Fault] = []

    def code(self, row: Row) -> str:
        """The supplier's code in a row."""
        return shown(self._cell(row, Entry.CODE)).strip()

    def unknown(self, row: Row, code: str) -> Unknown:
        """A row that nobody knows, with what helps to recognise it."""
        name, price = (shown(self._cell(row, entry)) for entry in (Entry.NAME, Entry.PRICE))
        return Unknown(row=row.number, code=code, name=name, price=price)

    def offer(self, row: Row, sku: str | None) -> Offer | None:
        """The offer in a row, or None with its faults noted."""
        known = len(self.faults)
        if sku is None:
            self._reject(row, Entry.CODE, "a code", "Fill it in, or delete the row.")
            return None
        values = {
            "price": self._read(row, Entry.PRICE, None),
            "currency": self._read(row, Entry.CURRENCY, self._reading.currency),
            "priced_on": self._read(row, Entry.DATED, self._dated),
            "stock": self._read(row, Entry.STOCK, None),
            "least_order": self._read(row, Entry.LEAST_ORDER, 1),
        }
        if len(self.faults) > known:
            return None
        price, currency, priced_on = values["price"], values["currency"], values["priced_on"]
        stock, least = values["stock"], values["least_order"]
        assert isinstance(price, Decimal)
        assert isinstance(currency, str)
        assert isinstance(priced_on, date)
        assert stock is None or isinstance(stock, int)
        assert isinstance(least, int)
        return Offer(
            sku=sku, supplier=self._supplier, currency=currency, price=price, priced_on=priced_on, stock=stock,
            least_order=least,
        )  # fmt: skip

    def reject_second(self, row: Row, first: Line) -> None:
        """Notes a second row for the same gear that says something else."""
        remedy = f"Keep one of the two; row {first.row} is used."
        self._reject(row, Entry.CODE, f"each code once, or with the same price as in row {first.row}", remedy)

    def _read(self, row: Row, entry: Entry, otherwise: object) -> object:
        """The value of one entry; an empty cell takes the other, if there may be one."""
        cell = self._cell(row, entry)
        try:
            if isinstance(cell, Broken):
                raise Unreadable(cell.expected, cell.remedy)
            if not cell.strip() and entry is not Entry.PRICE:
                return self._with_rate(otherwise) if entry is Entry.CURRENCY else otherwise
            return self._value(row, entry, cell.strip())
        except Unreadable as error:
            self._reject(row, entry, error.expected, error.remedy)
            return None

    def _value(self, row: Row, entry: Entry, text: str) -> object:
        match entry:
            case Entry.PRICE:
                return self._price(row, text)
            case Entry.CURRENCY:
                return self._with_rate(Currency().read(text))
            case Entry.DATED:
                return read_day(text, self._reading.days)
            case Entry.STOCK | Entry.LEAST_ORDER:
                kind = _STOCK if entry is Entry.STOCK else _LEAST
                whole = read_figure(text, self._reading.figures)
                return kind.read(str(int(whole)) if whole == int(whole) else text)
        raise AssertionError(entry)

    def _price(self, row: Row, text: str) -> Decimal:
        if not text:
            raise Unreadable("a price", "Fill it in, or delete the row.")
        amount = read_amount(text, self._reading.figures)
        stated = shown(self._cell(row, Entry.CURRENCY)).strip().upper() or self._reading.currency
        meant = CURRENCIES_OF_SIGN.get(amount.currency, (amount.currency.upper(),))
        if amount.currency and stated not in meant:
            raise Unreadable(f"a price in {stated}", f"It says {amount.currency}: state that currency for the row.")
        return amount.value

    def _with_rate(self, currency: object) -> str:
        """The currency, if prices in it can be converted."""
        assert isinstance(currency, str)
        if not has_rate(currency, self._house):
            known = ", ".join(sorted({self._house.currency, *self._house.rates}))
            raise Unreadable(f"a currency with an exchange rate: {known}", f"Add a rate for {currency} first.")
        return currency

    def _cell(self, row: Row, entry: Entry) -> Cell:
        title = self._reading.columns.get(entry)
        return "" if title is None else self._sheet.cell(row, title)

    def _reject(self, row: Row, entry: Entry, expected: str, remedy: str) -> None:
        column = self._reading.columns.get(entry)
        where = f"{self._sheet.where} row {row.number}" + (f", column {column}" if column else "")
        cell = self._cell(row, entry)
        value = cell.value if isinstance(cell, Broken) else quoted(cell)
        self.faults.append(Fault(where=where, value=value, expected=expected, remedy=remedy))


def news_counts(found: PriceImport) -> Mapping[News, int]:
    """How many rows bring which news."""
    return {news: sum(1 for line in found.lines if line.news is news) for news in News}


def large_changes(found: PriceImport) -> Iterator[Line]:
    """The rows whose price changed so much that somebody should look."""
    return (line for line in found.lines if line.large)
