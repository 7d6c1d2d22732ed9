"""E2 as printed: what one option costs and buys beyond another, and what changes."""

from collections.abc import Iterator

from planner.comparison.compared import Comparison
from planner.comparison.moves import Move, path_words
from planner.comparison.words import CAUSE_WORDS, Names, change_words, comparison_sentence, difference_words
from planner.tables.amounts import difference
from planner.tables.layout import Column, grid, paragraph, section


def comparison_section(comparison: Comparison, currency: str, name_by_sku: Names) -> list[str]:
    """One comparison: a sentence for the client, the price by causes, and what the designer changes."""
    lines = paragraph(comparison_sentence(comparison, currency))
    lines += ["", *_causes(comparison, currency), ""]
    lines += paragraph(f"Gear: {change_words(comparison.gear, name_by_sku)}.", "  ", "- ")
    for lead in comparison.leads:
        lines += paragraph(f"Leads: {lead.more:+d} {name_by_sku[lead.sku]}.", "  ", "- ")
    for found in comparison.differences:
        lines += paragraph(f"{difference_words(found)}.", "  ", "- ")
    lines += [line for text in _moves(comparison.moves) for line in paragraph(text, "  ", "- ")]
    return section(f"Option {comparison.before.id} against option {comparison.after.id}", lines)


def _causes(comparison: Comparison, currency: str) -> list[str]:
    columns = (
        Column("What the price difference is made of", flexible=True),
        Column("Gear", right=True),
        Column("Labour", right=True),
        Column("Tax", right=True),
        Column(f"Sum, {currency}", right=True),
    )
    rows = [
        (
            CAUSE_WORDS[part.cause],
            *(difference(m, currency) for m in (part.gear_minor, part.labour_minor, part.tax_minor, part.total_minor)),
        )
        for part in comparison.parts
    ]
    sums = [sum(column) for column in zip(*_figures(comparison), strict=True)] or [0, 0, 0, 0]
    return grid(columns, [*rows, ("together", *(difference(minor, currency) for minor in sums))])


def _figures(comparison: Comparison) -> list[tuple[int, int, int, int]]:
    return [(p.gear_minor, p.labour_minor, p.tax_minor, p.total_minor) for p in comparison.parts]


def _moves(moves: tuple[Move, ...]) -> Iterator[str]:
    for move in moves:
        way = f", way {move.way}" if move.way is not None else ""
        yield f"{move.member[0]} {move.member[1] + 1}{way}: {path_words(move.before)} becomes {path_words(move.after)}."
