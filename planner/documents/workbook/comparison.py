"""The sheet of comparisons: what the price is made of, and each option beside it against this one, by causes."""

from collections.abc import Sequence

from planner.comparison.compared import compared
from planner.comparison.gear import names
from planner.comparison.price_split import Part, price_parts
from planner.comparison.words import CAUSE_WORDS, change_words, comparison_sentence, difference_words
from planner.documents.job import Job
from planner.documents.workbook.looks import money_format
from planner.documents.workbook.sheet import FIRST_ROW, Column, Sheet, cell
from planner.money import from_minor, minor_digits
from planner.words import capital

_WORDS, _GEAR, _LABOUR, _TAX, _SUM = range(5)


def comparison_columns(currency: str) -> tuple[Column, ...]:
    """The headings, with the quoting currency in those that hold its amounts."""
    return (
        Column("What it is made of", 84),
        Column(f"Gear, {currency}", 14, right=True),
        Column(f"Labour, {currency}", 14, right=True),
        Column(f"Tax, {currency}", 14, right=True),
        Column(f"Sum, {currency}", 14, right=True),
    )


class ComparisonSheet:
    """Fills the sheet of one job, from the top."""

    def __init__(self, sheet: Sheet, job: Job) -> None:
        self._sheet, self._job, self._row = sheet, job, FIRST_ROW
        digits = minor_digits(job.currency)
        self._money = sheet.looks.number(money_format(digits))
        self._money_bold = sheet.looks.number(money_format(digits), bold=True)

    def fill(self) -> None:
        """The price of the option by its causes, then every other option shown in the proposal against it."""
        job = self._job
        self._group(f"The price of option {job.option.id}")
        self._parts(price_parts(job.option.design, job.catalogue, job.prices))
        name_by_sku = names(job.catalogue)
        for other in (option for option in job.compared if option.id != job.option.id):
            found = compared(job.option, other, job.catalogue, job.prices)
            self._group(f"Option {other.id} against option {job.option.id}")
            self._text(comparison_sentence(found, job.currency))
            self._parts(found.parts)
            self._text(f"Gear: {change_words(found.gear, name_by_sku)}.")
            for lead in found.leads:
                self._text(f"Leads: {lead.more:+d} {name_by_sku[lead.sku]}.")
            for each in found.differences:
                self._text(f"{capital(difference_words(each))}.")
        if job.why.one_more:
            self._group("What a little more would cost")
            for sentence in job.why.one_more:
                self._text(sentence)

    def _group(self, words: str) -> None:
        self._sheet.group(self._row, words)
        self._row += 1

    def _text(self, text: str) -> None:
        self._sheet.text(self._row, _WORDS, text)
        self._row += 1

    def _parts(self, parts: Sequence[Part]) -> None:
        """A row a cause, added up across and down in live formulas."""
        sheet, first = self._sheet, self._row
        for part in parts:
            sheet.text(self._row, _WORDS, capital(CAUSE_WORDS[part.cause]))
            for column, minor in ((_GEAR, part.gear_minor), (_LABOUR, part.labour_minor), (_TAX, part.tax_minor)):
                sheet.number(self._row, column, self._amount(minor), self._money)
            across = f"SUM({cell(self._row, _GEAR)}:{cell(self._row, _TAX)})"
            sheet.formula(self._row, _SUM, across, self._amount(part.total_minor), self._money)
            self._row += 1
        if not parts:
            return
        sheet.text(self._row, _WORDS, "Together", sheet.looks.bold)
        for column, minor in (
            (_GEAR, sum(part.gear_minor for part in parts)),
            (_LABOUR, sum(part.labour_minor for part in parts)),
            (_TAX, sum(part.tax_minor for part in parts)),
            (_SUM, sum(part.total_minor for part in parts)),
        ):
            down = f"SUM({cell(first, column)}:{cell(self._row - 1, column)})"
            sheet.formula(self._row, column, down, self._amount(minor), self._money_bold)
        self._row += 1

    def _amount(self, minor: int) -> float:
        return float(from_minor(minor, self._job.currency))
