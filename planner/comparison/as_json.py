"""A comparison as JSON: the tree that `explain/explanation.schema.json` describes under `comparisons`."""

from planner.comparison.compared import Comparison
from planner.comparison.gear import GearChange, GearLine
from planner.comparison.moves import Path
from planner.comparison.price_split import Part
from planner.comparison.words import Names, client_words, comparison_sentence, difference_words
from planner.result_json import Json


def comparison_tree(found: Comparison, currency: str, name_by_sku: Names) -> Json:
    """One comparison, every sentence beside its numbers."""
    return {
        "before": found.before.id,
        "after": found.after.id,
        "over_minor": found.over_minor,
        "parts": [part_tree(part) for part in found.parts],
        "gear": change_tree(found.gear),
        "leads": [{"sku": lead.sku, "name": name_by_sku[lead.sku], "more": lead.more} for lead in found.leads],
        "moves": [
            {
                "set": move.member[0],
                "index": move.member[1],
                "way": move.way,
                "before": _path(move.before),
                "after": _path(move.after),
            }
            for move in found.moves
        ],
        "differences": [
            {
                "figure": d.figure.value,
                "before": round(d.before, 2),
                "after": round(d.after, 2),
                "better": d.gain > 0,
                "for_client": client_words(d),
                "for_designer": difference_words(d),
            }
            for d in found.differences
        ],
        "sentence": comparison_sentence(found, currency),
    }


def part_tree(part: Part) -> Json:
    """One cause of a price."""
    return {
        "cause": part.cause.value,
        "gear_minor": part.gear_minor,
        "labour_minor": part.labour_minor,
        "tax_minor": part.tax_minor,
        "total_minor": part.total_minor,
    }


def change_tree(change: GearChange) -> Json:
    """What comes in and what goes out."""
    return {
        "added": [line_tree(line) for line in change.added],
        "removed": [line_tree(line) for line in change.removed],
    }


def line_tree(line: GearLine) -> Json:
    """So many units of one article."""
    return {"sku": line.sku, "kind": line.kind.value, "count": line.count}


def _path(path: Path | None) -> list[str] | None:
    return None if path is None else [str(jack) for jack in path]
