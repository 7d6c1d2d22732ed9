"""The sheet of terms: margin, tax, labour rate and exchange rates, from which the other sheets count."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from xlsxwriter.format import Format

from planner.documents.job import Job
from planner.documents.workbook.looks import Looks
from planner.documents.workbook.sheet import FIRST_ROW, Column, Sheet, absolute
from planner.house import House, Rounding

_ROUNDING_WORDS: Mapping[Rounding, str] = {
    Rounding.HALF_UP: "half away from zero",
    Rounding.HALF_EVEN: "half to the even one",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Terms:
    """Where the terms stand, as formulas of other sheets name them.

    `per_house_unit` is of the quoting currency; `rates` is the table that a supplier's currency is
    looked up in.
    """

    margin: str
    tax: str
    labour_rate: str
    per_house_unit: str
    rates: str


def terms_sheet(sheet: Sheet, looks: Looks, job: Job) -> Terms:
    """Fills the sheet. Cells on a coloured ground are meant to be changed: all prices follow them."""
    house, typed = job.house, looks.number("0.00##%", typed=True)
    percent = looks.number("#,##0.00####", typed=True)
    row = FIRST_ROW
    for words, text in (
        ("Firm", house.name),
        ("Currency of the quote", job.currency),
        ("Currency of the firm", house.currency),
        ("A price is rounded", f"to the minor unit, {_ROUNDING_WORDS[house.rounding]}; tax once, on the subtotal"),
    ):
        sheet.text(row, 0, words)
        sheet.text(row, 1, text)
        row += 1
    margin = _typed(sheet, row, _margin_words(house), _share(_margin_percent(house)), typed)
    tax = _typed(sheet, row + 1, f"{house.tax_name}, of the subtotal", _share(job.tax_percent), typed)
    labour = _typed(sheet, row + 2, f"Labour, {house.currency} an hour", float(house.labour_rate), percent)
    first = row + 5
    sheet.text(first - 1, 0, "Currency", looks.heading)
    sheet.text(first - 1, 1, f"Units for one {house.currency}", looks.heading_right)
    sheet.text(first - 1, 2, "  Rate of", looks.heading)
    rates = [(house.currency, Decimal(1), "")]
    rates += [(code, rate.per_house_unit, rate.dated.isoformat()) for code, rate in sorted(house.rates.items())]
    for at, (code, units, dated) in enumerate(rates, start=first):
        sheet.text(at, 0, code)
        sheet.number(at, 1, float(units), percent)
        sheet.text(at, 2, dated, looks.indented)
    quoting = first + [code for code, _, _ in rates].index(job.currency)
    last = first + len(rates) - 1
    return Terms(
        margin=margin,
        tax=tax,
        labour_rate=labour,
        per_house_unit=sheet.address(quoting, 1),
        rates=f"{sheet.address(first, 0)}:{absolute(last, 1)}",
    )


TERMS_COLUMNS = (Column("Term", 34), Column("Value", 40), Column("", 14))


def _typed(sheet: Sheet, row: int, words: str, value: float, look: Format) -> str:
    sheet.text(row, 0, words)
    sheet.number(row, 1, value, look)
    return sheet.address(row, 1)


def _margin_words(house: House) -> str:
    return "Mark-up, of the cost" if house.margin_percent is None else "Margin, of the price without tax"


def _margin_percent(house: House) -> Decimal:
    return house.margin_percent if house.margin_percent is not None else house.markup_percent or Decimal(0)


def _share(percent: Decimal) -> float:
    return float(percent / 100)
