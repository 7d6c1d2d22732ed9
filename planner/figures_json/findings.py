"""A finding as JSON: the parts of its sentence one by one, and the sentence."""

from collections.abc import Callable

from planner.design import Figure, Finding, Place
from planner.figures_json.ports import port_words
from planner.figures_json.rounding import significant

Json = dict[str, object]
LeadMark = Callable[[Place], str | None]


def finding_tree(finding: Finding, lead_mark: LeadMark) -> Json:
    """One finding; `lead_mark` tells the mark of a place that is a lead."""
    return {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "subject": finding.subject,
        "heading": finding.heading,
        "figures": [_figure(figure) for figure in finding.figures],
        "places": [_place(place, lead_mark(place)) for place in finding.places],
        "remedies": list(finding.remedies),
        "caution": finding.caution,
        "message": finding.message,
    }


def _figure(figure: Figure) -> Json:
    return {
        "of": figure.of,
        "value": significant(figure.value),
        "unit": figure.unit.value,
        "limit": significant(figure.limit),
        "beyond": significant(figure.beyond),
    }


def _place(place: Place, mark: str | None) -> Json:
    return {
        "kind": place.kind.value,
        "name": place.name,
        "lead": mark,
        "jacks": [{"device": jack.unit, "port": port_words(jack)} for jack in place.jacks],
    }
