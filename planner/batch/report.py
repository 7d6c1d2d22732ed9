"""What a batch prints at its end: a line for each brief, and under it why it has no proven answer."""

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from planner.batch.rooms import OUTCOME_WORDS, Room
from planner.batch.store import SUMMARY
from planner.options import Question
from planner.tables.amounts import amount
from planner.tables.layout import Column, grid, paragraph
from planner.words import counted

_COLUMNS = (
    Column("Brief", flexible=True),
    Column("Answer"),
    Column("Options", right=True),
    Column("Concerns", right=True),
    Column("Cheapest", right=True),
)


def batch_report(rooms: Sequence[Room], folder: Path) -> str:
    """The text; a line of it may be longer than the page where a path is."""
    counts = Counter(OUTCOME_WORDS[room.outcome] for room in rooms)
    lines = grid(_COLUMNS, [_cells(room) for room in rooms])
    for room in rooms:
        if room.words:
            lines += ["", *paragraph(f"{room.brief}: {OUTCOME_WORDS[room.outcome]}")]
            for sentence in room.words:
                lines += paragraph(sentence, indent="  ", first="- ")
    told_of = ", ".join(f"{counts[words]} {words}" for words in OUTCOME_WORDS.values() if counts[words])
    lines += ["", f"{counted(len(rooms), 'brief')}: {told_of}.", f"Results are in {folder}, all rooms in {SUMMARY}."]
    return "\n".join(lines) + "\n"


def _cells(room: Room) -> tuple[str, ...]:
    price = room.price_by_question.get(Question.CHEAPEST)
    return (
        room.brief,
        OUTCOME_WORDS[room.outcome],
        str(room.options) if room.options else "",
        str(len(room.concerns)) if room.options else "",
        "" if price is None else amount(price, room.currency),
    )
