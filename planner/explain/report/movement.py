"""E5 as printed: bands, spans, flips and advice."""

from planner.comparison.words import Names
from planner.explain.robust import Robust
from planner.explain.robust_words import advice, band_words, flip_sentence, span_sentence
from planner.tables.layout import paragraph, section
from planner.words import listed

_MOST_SPANS = 6


def movement_section(found: Robust, currency: str, name_by_sku: Names) -> list[str]:
    """What prices that move do to an option and to its rivals."""
    lines = paragraph(f"Bands: {listed(tuple(band_words(band) for band in found.bands)) or 'none'}.")
    rate = "A rate is the units of foreign currency for one of the house: the higher, the cheaper what is bought in it."
    lines += paragraph(rate)
    for text in advice(found, currency):
        lines += paragraph(text)
    lines.append("")
    for span in found.spans[:_MOST_SPANS]:
        lines += paragraph(span_sentence(span, currency), "  ", "- ")
    if len(found.spans) > _MOST_SPANS:
        lines += paragraph(f"{len(found.spans) - _MOST_SPANS} more options in the JSON result (--json FILE).")
    for flip in found.flips:
        lines += paragraph(flip_sentence(flip, name_by_sku), "  ", "- ")
    return section("If rates and prices move", lines)
