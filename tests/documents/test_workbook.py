"""The trade workbook: it recalculates to the planner's very figures, and no text becomes a formula."""

import io
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from planner.costing import PriceList
from planner.documents.job import Job
from planner.documents.workbook.book import workbook
from planner.house import Rate, Rounding
from planner.money import from_minor
from tests.documents.jobs import LARGE, QUICK, SMALL, demo_job, quoted_in
from tests.documents.recalculated import Cells, recalculated
from tests.plan.demo import demo_house

DAY = date(2026, 11, 2)
BILL, LABOUR, TERMS = "Bill of materials", "Labour", "Terms"
TOTALS = ("Gear and leads", "Labour", "Subtotal", "VAT")


def opened(job: Job, *, values: bool = False) -> openpyxl.Workbook:
    return openpyxl.load_workbook(io.BytesIO(workbook(job)), data_only=values)


def address_of(sheet: Worksheet, words: str, right: int) -> str:
    """The address of the cell so many columns to the right of a text."""
    found = [cell for row in sheet.iter_rows() for cell in row if cell.value == words]
    assert len(found) == 1, words
    return str(sheet.cell(found[0].row, found[0].column + right).coordinate)


def sums(job: Job, cells: Cells) -> tuple[Decimal, ...]:
    """Gear, labour, subtotal, tax and total as a set of recalculated cells has them, to the minor unit."""
    sheet = opened(job)[BILL]
    exact = from_minor(1, job.currency)
    return tuple(
        Decimal(cells[BILL, address_of(sheet, words, 1)]).quantize(exact)
        for words in (*TOTALS, f"Total, {job.currency}")
    )


def quoted(job: Job) -> tuple[Decimal, ...]:
    quote = job.option.quote
    return tuple(
        from_minor(minor, job.currency)
        for minor in (quote.gear_minor, quote.labour_minor, quote.subtotal_minor, quote.tax_minor, quote.total_minor)
    )


CASES = {
    "pounds, margin, half up": demo_job(SMALL),
    "yen, no minor unit, half even": quoted_in(SMALL, "JPY", replace(demo_house(), rounding=Rounding.HALF_EVEN)),
    "dinars, three places": quoted_in(
        SMALL,
        "KWD",
        replace(demo_house(), rates={**demo_house().rates, "KWD": Rate(per_house_unit=Decimal("0.3341"), dated=DAY)}),
    ),
    "dollars on a mark-up": quoted_in(
        SMALL, "USD", replace(demo_house(), margin_percent=None, markup_percent=Decimal("42.5"))
    ),
}


@cache
def case_recalculated(case: str) -> Cells:
    with TemporaryDirectory() as folder:
        return recalculated(workbook(CASES[case]), Path(folder))


@pytest.mark.parametrize("case", CASES)
def test_an_independent_engine_comes_to_the_quote(case: str) -> None:
    assert sums(CASES[case], case_recalculated(case)) == quoted(CASES[case])


def test_the_values_beside_the_formulas_are_the_quote() -> None:
    for name in QUICK:
        job = demo_job(name)
        sheet = opened(job, values=True)[BILL]
        cells = {(BILL, cell.coordinate): cell.value for row in sheet.iter_rows() for cell in row}
        assert sums(job, cells) == quoted(job), name


def test_another_margin_and_tax_typed_in_give_the_quote_on_those_terms(tmp_path: Path) -> None:
    job = demo_job(SMALL)
    sheet = opened(job)[TERMS]
    typed = {
        (TERMS, address_of(sheet, "Margin, of the price without tax", 1)): 0.35,
        (TERMS, address_of(sheet, "VAT, of the subtotal", 1)): 0.155,
        (TERMS, address_of(sheet, "Labour, EUR an hour", 1)): 72.35,
    }
    cells = recalculated(workbook(job), tmp_path, typed)
    house = replace(job.house, margin_percent=Decimal(35), labour_rate=Decimal("72.35"))
    brief = replace(job.brief, project=replace(job.brief.project, tax_percent=Decimal("15.5")))
    prices = PriceList(brief, job.catalogue, house)
    design = job.option.design
    bought = [
        replace(
            line,
            unit_price_minor=min(price for price, offer in prices.offers(line.sku) if offer.supplier == line.supplier),
        )
        for line in design.purchases
        if line.supplier != "owned"
    ]
    work = [replace(line, unit_price_minor=prices.labour_minor(line.task)) for line in design.labour]
    again = replace(job, option=replace(job.option, quote=prices.quote(bought, work)))
    assert sums(job, cells) == quoted(again) != quoted(job)


@pytest.mark.parametrize("case", CASES)
def test_the_causes_of_each_difference_add_up_to_it_in_an_independent_engine(case: str) -> None:
    job, cells = CASES[case], case_recalculated(case)
    sheet = opened(job)["Comparison"]
    sums = [cells["Comparison", f"E{row[0].row}"] for row in sheet.iter_rows(min_row=5) if row[0].value == "Together"]
    others = [option for option in job.compared if option.id != job.option.id]
    differences = [option.quote.total_minor - job.option.quote.total_minor for option in others]
    exact = from_minor(1, job.currency)
    assert [Decimal(found).quantize(exact) for found in sums] == [
        from_minor(minor, job.currency) for minor in (job.option.quote.total_minor, *differences)
    ]


def test_what_counts_down_to_the_total_are_formulas() -> None:
    sheet = opened(demo_job(SMALL))[BILL]
    for words in (*TOTALS, "Total, GBP"):
        assert str(sheet[address_of(sheet, words, 1)].value).startswith("=")
    prices = [row[8].value for row in sheet.iter_rows(min_row=5) if isinstance(row[4].value, int | float)]
    assert prices
    assert all(str(price).startswith("=ROUND(") for price in prices)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", '=HYPERLINK("x")', "{=1}", "http://example.invalid/"])
def test_text_of_users_stays_text(text: str) -> None:
    job = demo_job(SMALL)
    project = replace(job.brief.project, name=text, client=text, reference=text)
    catalogue = replace(job.catalogue, subwoofers=tuple(replace(one, name=text) for one in job.catalogue.subwoofers))
    named = replace(
        job,
        brief=replace(job.brief, project=project),
        catalogue=catalogue,
        house=replace(job.house, name=text, tax_name=text),
    )
    content = workbook(named)
    assert text in {cell.value for cell in cells_of(content)}
    assert {cell.value for cell in cells_of(content) if cell.data_type == "f"} == {
        cell.value for cell in cells_of(workbook(job)) if cell.data_type == "f"
    }
    assert all(cell.hyperlink is None for cell in cells_of(content))


def cells_of(content: bytes) -> Iterator[openpyxl.cell.Cell]:
    for sheet in openpyxl.load_workbook(io.BytesIO(content)):
        for row in sheet.iter_rows():
            yield from row


def test_amounts_have_the_number_format_of_their_currency() -> None:
    found = {}
    for job in CASES.values():
        sheet = opened(job)[BILL]
        found[job.currency] = sheet[address_of(sheet, f"Total, {job.currency}", 1)].number_format
    assert found == {"GBP": "#,##0.00", "JPY": "#,##0", "KWD": "#,##0.000", "USD": "#,##0.00"}


def test_every_sheet_keeps_its_heading_and_prints_a_page_wide() -> None:
    book = opened(demo_job(LARGE))
    for sheet in book:
        assert sheet.freeze_panes == "A5", sheet.title
        assert sheet.print_title_rows == "$4:$4"
        assert sheet.print_area
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.fitToWidth in (1, None)  # 1 where nothing is written, ECMA-376 part 1, 18.3.1.63
        assert int(sheet.page_setup.fitToHeight) == 0
        assert int(sheet.page_setup.paperSize) == 9  # A4


def test_the_same_job_gives_the_same_bytes() -> None:
    job = demo_job(SMALL)
    assert workbook(job) == workbook(job)
    dates = {entry.date_time for entry in zipfile.ZipFile(io.BytesIO(workbook(job))).infolist()}
    assert dates == {(1980, 1, 1, 0, 0, 0)}
