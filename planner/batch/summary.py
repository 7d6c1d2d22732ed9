"""The workbook over all rooms of a batch: what each costs, what is proven, and what needs a word."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from io import BytesIO

from planner.batch.rooms import OUTCOME_WORDS, Room
from planner.documents.workbook.blank import blank_book
from planner.documents.workbook.looks import Looks, money_format
from planner.documents.workbook.sheet import FIRST_ROW, Column, Sheet, absolute, cell
from planner.money import from_minor
from planner.options import Question
from planner.words import counted

_SHORT_WORDS: Mapping[Question, str] = {
    Question.CHEAPEST: "Cheapest",
    Question.OUTPUT_EACH: "Output each",
    Question.INDEPENDENT: "All set independently",
    Question.ONE_LOST: "One lost at most",
    Question.NO_CONVERSION: "No conversion",
    Question.SPARE: "Spare outputs",
    Question.LEAST_SPREAD: "Least bass spread",
}
"""Headings for the questions of the shortlist; `planner.words.QUESTION_WORDS` has them in full."""

_BEFORE = (
    Column("Brief", 30),
    Column("Project", 26),
    Column("Client", 18),
    Column("Reference", 14),
    Column("Dated", 11),
    Column("Answer", 16),
    Column("Options", 9, right=True),
    Column("Concerns", 10, right=True),
    Column("  in", 7),
)
_CURRENCY = len(_BEFORE) - 1
_PRICES = len(_BEFORE)
_ROOM_COLUMNS = (*_BEFORE, *(Column(words, max(14, len(words) + 1), right=True) for words in _SHORT_WORDS.values()))
_WORD_COLUMNS = (Column("Brief", 32), Column("Answer", 16), Column("What to know", 120))
_CONCERN_COLUMNS = (Column("Brief", 32), Column("Rule", 8), Column("Of what", 30), Column("Finding", 110))


def summary(rooms: Sequence[Room]) -> bytes:
    """The XLSX file; the same results give the same bytes, however long they took."""
    dates = [date.fromisoformat(room.dated) for room in rooms if room.dated]
    content = BytesIO()
    created = datetime.combine(max(dates, default=date(2000, 1, 1)), time())
    book = blank_book(content, {"title": "Summary of all rooms", "created": created})
    looks = Looks(book)
    of_what = f"{counted(len(rooms), 'brief')}, prices with tax"
    room_sheet = Sheet(book, looks, "Rooms", ("Rooms", f"{of_what}. {_REMARK}"), _ROOM_COLUMNS)
    _fill_rooms(room_sheet, rooms)
    words = Sheet(book, looks, "To know", ("To know", "Why a brief has no answer, or not a proven one."), _WORD_COLUMNS)
    words.rows([(room.brief, OUTCOME_WORDS[room.outcome], line) for room in rooms for line in room.words])
    concerns = Sheet(book, looks, "Concerns", ("Concerns", "Of each cheapest option. Read them before you quote."),
                     _CONCERN_COLUMNS)  # fmt: skip
    concerns.rows([(room.brief, each.rule, each.subject, each.message) for room in rooms for each in room.concerns])
    for sheet in (room_sheet, words, concerns):
        sheet.finish(of_what)
    book.close()
    return content.getvalue()


_REMARK = "Each price is that of the cheapest option that answers the heading; none where no option does."


def _fill_rooms(sheet: Sheet, rooms: Sequence[Room]) -> None:
    for row, room in enumerate(rooms, start=FIRST_ROW):
        texts = (room.brief, room.project, room.client, room.reference, room.dated, OUTCOME_WORDS[room.outcome])
        for column, text in enumerate(texts):
            sheet.text(row, column, text)
        if room.options:
            sheet.number(row, len(texts), room.options, sheet.looks.count)
            sheet.number(row, len(texts) + 1, len(room.concerns), sheet.looks.count)
        sheet.text(row, _CURRENCY, room.currency, sheet.looks.indented)
        money = sheet.looks.number(money_format(room.minor_digits))
        for column, question in enumerate(_SHORT_WORDS, start=_PRICES):
            if (price := room.price_by_question.get(question)) is not None:
                sheet.number(row, column, float(from_minor(price, room.currency)), money)
    _fill_sums(sheet, rooms)


def _fill_sums(sheet: Sheet, rooms: Sequence[Room]) -> None:
    """What the cheapest options cost together, in each currency: a sum that follows the rows above."""
    priced = [room for room in rooms if Question.CHEAPEST in room.price_by_question]
    last = FIRST_ROW + len(rooms) - 1
    currencies, prices = (f"{absolute(FIRST_ROW, column)}:{absolute(last, column)}" for column in (_CURRENCY, _PRICES))
    for row, currency in enumerate(sorted({room.currency for room in priced}), start=last + 2):
        of_currency = [room for room in priced if room.currency == currency]
        total = sum(room.price_by_question[Question.CHEAPEST] for room in of_currency)
        words = f"Cheapest of {counted(len(of_currency), 'room')} together"
        look = sheet.looks.number(money_format(of_currency[0].minor_digits), bold=True)
        sheet.text(row, _CURRENCY - 1, words, sheet.looks.bold_label)
        sheet.text(row, _CURRENCY, currency, sheet.looks.indented)
        formula = f"SUMIF({currencies},{cell(row, _CURRENCY)},{prices})"
        sheet.formula(row, _PRICES, formula, float(from_minor(total, currency)), look)
