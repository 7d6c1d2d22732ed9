"""The bill of materials: from what a supplier asks to what the client pays, in live formulas."""

from fractions import Fraction

from planner.catalogue.records import Offer
from planner.documents.bill_groups import BillLine, bill_lines
from planner.documents.job import Job
from planner.documents.workbook.looks import money_format
from planner.documents.workbook.pricing import Rounded
from planner.documents.workbook.sheet import FIRST_ROW, Column, Sheet, cell
from planner.documents.workbook.terms import Terms
from planner.money import converted, from_minor, minor_digits

ITEM, NAME, SUPPLIER, DATED, COST, CURRENCY, COUNT, CONVERTED, PRICE, SUM, COST_SUM, MARGIN = range(12)


def bill_columns(currency: str) -> tuple[Column, ...]:
    """The headings, with the quoting currency in those that hold its amounts."""
    return (
        Column("Article", 25),
        Column("Description", 50),
        Column("Supplier", 20),
        Column("Priced on", 11),
        Column("Cost each", 12, right=True),
        Column("  in", 7),
        Column("Count", 8, right=True),
        Column(f"Cost each, {currency}", 15, right=True),
        Column(f"Price each, {currency}", 15, right=True),
        Column(f"Price, {currency}", 14, right=True),
        Column(f"Cost, {currency}", 14, right=True),
        Column("Margin", 9, right=True),
    )


class BillSheet:
    """Fills the bill of one option. `labour` is the cell that holds the sum of the labour sheet."""

    def __init__(self, sheet: Sheet, job: Job, terms: Terms, labour: str) -> None:
        self._sheet, self._job, self._terms, self._labour = sheet, job, terms, labour
        self._looks = sheet.looks
        self._rounded = Rounded.of(job.currency, job.house)
        self._money = self._looks.number(money_format(minor_digits(job.currency)))
        self._money_bold = self._looks.number(money_format(minor_digits(job.currency)), bold=True)
        self._prices = job.prices

    def fill(self) -> None:
        """Group after group, then the sums down to the total with tax, and what is left of them."""
        row, cost = FIRST_ROW, 0.0
        group = None
        for line in bill_lines(self._job.option.design, self._job.catalogue):
            if line.group is not group:
                group = line.group
                self._sheet.group(row, group.value)
                row += 1
            cost += self._line(row, line)
            row += 1
        self._sums(row + 1, (FIRST_ROW, max(row - 1, FIRST_ROW)), cost)

    def _line(self, row: int, line: BillLine) -> float:
        """One purchase; returns what it costs the firm, in the quoting currency."""
        sheet, purchase = self._sheet, line.purchase
        sheet.text(row, ITEM, line.item.sku)
        sheet.text(row, NAME, line.item.name)
        sheet.text(row, SUPPLIER, purchase.supplier)
        sheet.number(row, COUNT, purchase.count, self._looks.count)
        offer = self._offer(line)
        each = self._costs(row, offer) if offer is not None else 0.0
        if offer is None:
            for column in (COST, CONVERTED, PRICE):
                sheet.number(row, column, 0, self._money)
        else:
            self._price(row, each, purchase.unit_price_minor)
        amount = from_minor(purchase.count * purchase.unit_price_minor, self._job.currency)
        cost, price = each * purchase.count, float(amount)
        sheet.formula(row, SUM, f"{cell(row, COUNT)}*{cell(row, PRICE)}", price, self._money)
        sheet.formula(row, COST_SUM, f"{cell(row, COUNT)}*{cell(row, CONVERTED)}", cost, self._money)
        self._margin(row, price, cost)
        return cost

    def _costs(self, row: int, offer: Offer) -> float:
        """What the supplier asks, and the same in the quoting currency, unrounded; returns the latter."""
        sheet, terms, job = self._sheet, self._terms, self._job
        sheet.text(row, DATED, offer.priced_on.isoformat())
        sheet.text(row, CURRENCY, offer.currency, self._looks.indented)
        exponent = offer.price.as_tuple().exponent
        places = max(minor_digits(offer.currency), -exponent if isinstance(exponent, int) else 0)
        sheet.number(row, COST, float(offer.price), self._looks.number(money_format(places)))
        per_unit = f"VLOOKUP({cell(row, CURRENCY)},{terms.rates},2,FALSE)"
        cost = float(converted(Fraction(offer.price), offer.currency, job.currency, job.house))
        formula = f"{cell(row, COST)}/{per_unit}*{terms.per_house_unit}"
        sheet.formula(row, CONVERTED, formula, cost, self._money)
        return cost

    def _price(self, row: int, cost: float, minor: int) -> None:
        """The selling price: a formula, where it comes to the very figure of the quote."""
        house, margin, each = self._job.house, self._terms.margin, cell(row, CONVERTED)
        if house.margin_percent is not None:
            sold, formula = cost / (1 - float(house.margin_percent) / 100), f"{each}/(1-{margin})"
        else:
            sold, formula = cost * (1 + float(house.markup_percent or 0) / 100), f"{each}*(1+{margin})"
        price = float(from_minor(minor, self._job.currency))
        if self._rounded.comes_to(sold, minor):
            self._sheet.formula(row, PRICE, self._rounded.formula(formula), price, self._money)
        else:
            self._sheet.number(row, PRICE, price, self._money)

    def _offer(self, line: BillLine) -> Offer | None:
        """The offer that a purchase was made of; None for owned gear."""
        purchase = line.purchase
        return next(
            (
                offer
                for unit_price_minor, offer in self._prices.offers(purchase.sku)
                if offer.supplier == purchase.supplier and unit_price_minor == purchase.unit_price_minor
            ),
            None,
        )

    def _sums(self, row: int, lines: tuple[int, int], cost: float) -> None:
        sheet, currency, quote = self._sheet, self._job.currency, self._job.option.quote
        first, last = lines
        gear, labour, subtotal, tax = (cell(row + at, SUM) for at in range(4))
        for at, (words, formula, minor) in enumerate(
            (
                ("Gear and leads", f"SUM({cell(first, SUM)}:{cell(last, SUM)})", quote.gear_minor),
                ("Labour", self._labour, quote.labour_minor),
                ("Subtotal", f"{gear}+{labour}", quote.subtotal_minor),
                (self._job.house.tax_name, self._tax_formula(subtotal), quote.tax_minor),
            )
        ):
            value = float(from_minor(minor, currency))
            sheet.text(row + at, PRICE, words, self._looks.label)
            if formula is None:
                sheet.number(row + at, SUM, value, self._money)
            else:
                sheet.formula(row + at, SUM, formula, value, self._money)
        total = float(from_minor(quote.total_minor, currency))
        sheet.text(row + 4, PRICE, f"Total, {currency}", self._looks.bold_label)
        sheet.formula(row + 4, SUM, f"{subtotal}+{tax}", total, self._money_bold)
        sheet.formula(row, COST_SUM, f"SUM({cell(first, COST_SUM)}:{cell(last, COST_SUM)})", cost, self._money)
        self._margin(row, float(from_minor(quote.gear_minor, currency)), cost)

    def _tax_formula(self, subtotal: str) -> str | None:
        """The formula of the tax; None where it would not come to the very figure of the quote."""
        quote = self._job.option.quote
        tax = float(from_minor(quote.subtotal_minor, self._job.currency)) * float(self._job.tax_percent / 100)
        if not self._rounded.comes_to(tax, quote.tax_minor):
            return None
        return self._rounded.formula(f"{subtotal}*{self._terms.tax}")

    def _margin(self, row: int, price: float, cost: float) -> None:
        """The share of the price that is left of it; nothing where there is no price."""
        if not price:
            return
        each, of = cell(row, SUM), cell(row, COST_SUM)
        self._sheet.formula(row, MARGIN, f"IF({each}=0,0,1-{of}/{each})", 1 - cost / price, self._looks.percent)
