"""The sheet of labour: tasks, minutes and the rate, in live formulas."""

from fractions import Fraction

from planner.documents.job import Job
from planner.documents.workbook.looks import money_format
from planner.documents.workbook.pricing import Rounded
from planner.documents.workbook.sheet import FIRST_ROW, Column, Sheet, cell
from planner.documents.workbook.terms import Terms
from planner.money import converted, from_minor, minor_digits
from planner.words import TASK_WORDS, capital

_TASK, _MINUTES, _COUNT, _TOGETHER, _PRICE, _SUM = range(6)


def labour_columns(currency: str) -> tuple[Column, ...]:
    """The headings, with the quoting currency in those that hold its amounts."""
    return (
        Column("Task", 30),
        Column("Minutes each", 12, right=True),
        Column("Count", 10, right=True),
        Column("Minutes", 12, right=True),
        Column(f"Price each, {currency}", 18, right=True),
        Column(f"Price, {currency}", 18, right=True),
    )


def labour_sheet(sheet: Sheet, job: Job, terms: Terms) -> str:
    """Fills the sheet. Returns the cell of its sum, as formulas of other sheets name it."""
    looks, rounded = sheet.looks, Rounded.of(job.currency, job.house)
    money = looks.number(money_format(minor_digits(job.currency)))
    rate = f"{terms.labour_rate}*{terms.per_house_unit}"
    row, minutes_together = FIRST_ROW, 0.0
    for line in job.option.design.labour:
        minutes = float(job.house.minutes.get(line.task, 0))
        formula = _price(job, rounded, minutes, line.unit_price_minor, f"{cell(row, _MINUTES)}/60*{rate}")
        each = float(from_minor(line.unit_price_minor, job.currency))
        minutes_together += minutes * line.count
        sheet.text(row, _TASK, capital(TASK_WORDS[line.task]))
        sheet.number(row, _MINUTES, minutes, looks.number("0.##", typed=True))
        sheet.number(row, _COUNT, line.count, looks.count)
        sheet.formula(row, _TOGETHER, f"{cell(row, _MINUTES)}*{cell(row, _COUNT)}", minutes * line.count, looks.minutes)
        if formula is None:
            sheet.number(row, _PRICE, each, money)
        else:
            sheet.formula(row, _PRICE, formula, each, money)
        price = float(from_minor(line.count * line.unit_price_minor, job.currency))
        sheet.formula(row, _SUM, f"{cell(row, _COUNT)}*{cell(row, _PRICE)}", price, money)
        row += 1
    last = max(row - 1, FIRST_ROW)
    total = float(from_minor(job.option.quote.labour_minor, job.currency))
    bold = looks.number(money_format(minor_digits(job.currency)), bold=True)
    sheet.text(row + 1, _TASK, "Together", looks.bold)
    together = f"SUM({cell(FIRST_ROW, _TOGETHER)}:{cell(last, _TOGETHER)})"
    sheet.formula(row + 1, _TOGETHER, together, minutes_together, looks.minutes)
    sheet.formula(row + 1, _SUM, f"SUM({cell(FIRST_ROW, _SUM)}:{cell(last, _SUM)})", total, bold)
    return sheet.address(row + 1, _SUM)


def _price(job: Job, rounded: Rounded, minutes: float, minor: int, amount: str) -> str | None:
    """The formula of a task's price; None where it would not come to the very figure of the quote."""
    per_unit = converted(Fraction(1), job.house.currency, job.currency, job.house)
    price = minutes / 60 * float(job.house.labour_rate) * float(per_unit)
    return rounded.formula(amount) if rounded.comes_to(price, minor) else None
