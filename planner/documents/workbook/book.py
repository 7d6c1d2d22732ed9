"""The whole workbook, sheet by sheet."""

from collections.abc import Sequence
from datetime import datetime, time
from io import BytesIO

from xlsxwriter import Workbook

from planner.documents.job import Job
from planner.documents.workbook.bill import BillSheet, bill_columns
from planner.documents.workbook.blank import blank_book
from planner.documents.workbook.comparison import ComparisonSheet, comparison_columns
from planner.documents.workbook.labour import labour_columns, labour_sheet
from planner.documents.workbook.looks import Looks
from planner.documents.workbook.sheet import Column, Sheet
from planner.documents.workbook.tables import (
    FINDING_COLUMNS,
    LEAD_COLUMNS,
    LEDGER_COLUMNS,
    MAKE_UP_COLUMNS,
    OUTPUT_COLUMNS,
    findings_sheet,
    lead_sheet,
    ledger_sheet,
    make_up_rows,
    output_sheet,
)
from planner.documents.workbook.terms import TERMS_COLUMNS, terms_sheet
from planner.documents.workbook.why import WHY_COLUMNS, why_sheet


def workbook(job: Job) -> bytes:
    """The XLSX file of one option; the same job gives the same bytes."""
    content = BytesIO()
    book = blank_book(
        content,
        {
            "title": _one_line(job.brief.project.name),
            "subject": f"Option {job.option.id}",
            "company": _one_line(job.house.name),
            "created": datetime.combine(job.brief.project.dated, time()),
        },
    )
    _Sheets(book, job).fill()
    book.close()
    return content.getvalue()


class _Sheets:
    """The sheets in the order of their tabs; they are filled in the order in which they need one another."""

    def __init__(self, book: Workbook, job: Job) -> None:
        self._job, self._book, self._looks = job, book, Looks(book)
        project = job.brief.project
        named = (project.name, project.client, project.reference, project.dated.isoformat(), f"option {job.option.id}")
        self._of_what = ", ".join(part for part in named if part)

    def fill(self) -> None:
        job, currency = self._job, self._job.currency
        bill = self._sheet("Bill of materials", "Trade paper: it shows cost and margin.", bill_columns(currency))
        labour = self._sheet("Labour", "", labour_columns(currency))
        comparison = self._sheet(
            "Comparison",
            "As quoted, with tax: it does not follow figures changed on the sheet of terms.",
            comparison_columns(currency),
        )
        why = self._sheet("Why", "", WHY_COLUMNS) if job.why.sections else None
        ledger = self._sheet("Channel ledger", "", LEDGER_COLUMNS)
        outputs = self._sheet("Output map", "", OUTPUT_COLUMNS)
        leads = self._sheet("Lead schedule", "", LEAD_COLUMNS)
        make_up = self._sheet("Make-up", "", MAKE_UP_COLUMNS)
        findings = self._sheet("Findings", "Read them before you quote.", FINDING_COLUMNS)
        terms = self._sheet(
            "Terms", "Figures on a coloured ground may be changed: every price follows them.", TERMS_COLUMNS
        )
        where = terms_sheet(terms, self._looks, job)
        total_of_labour = labour_sheet(labour, job, where)
        BillSheet(bill, job, where, total_of_labour).fill()
        ComparisonSheet(comparison, job).fill()
        if why is not None:
            why_sheet(why, job.why)
            why.finish(self._of_what)
        ledger_sheet(ledger, job)
        output_sheet(outputs, job)
        lead_sheet(leads, job)
        make_up_rows(make_up, job)
        findings_sheet(findings, job)
        for sheet in (bill, labour, comparison, ledger, outputs, leads, make_up, findings, terms):
            sheet.finish(self._of_what)

    def _sheet(self, name: str, remark: str, columns: Sequence[Column]) -> Sheet:
        words = f"{self._of_what}. {remark}" if remark else self._of_what
        return Sheet(self._book, self._looks, name, (name, words), columns)


def _one_line(text: str) -> str:
    return " ".join(text.split())
