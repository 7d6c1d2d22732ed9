"""The sheet of reasons: price steps, why this gear, what moving prices do, what comes later, where these were asked."""

from planner.documents.why_told import WhyTold
from planner.documents.workbook.sheet import FIRST_ROW, Column, Sheet

WHY_COLUMNS = (Column("Every price is proven for a brief of its own, with tax unless said otherwise", 105),)


def why_sheet(sheet: Sheet, why: WhyTold) -> None:
    """Every section with its sentences, one a row."""
    row = FIRST_ROW
    for section in why.sections:
        sheet.group(row, section.title)
        for at, sentence in enumerate(section.sentences, start=row + 1):
            sheet.text(at, 0, sentence)
        row += 1 + len(section.sentences)
