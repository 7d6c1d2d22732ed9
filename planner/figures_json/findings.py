"""A finding as JSON: the parts of its sentence one by one, and the sentence."""

from planner.design import Design, Figure, Finding, Place
from planner.figures_json.ports import port_words
from planner.figures_json.rounding import significant
from planner.wiring.finding_places import lead_mark

Json = dict[str, object]


def finding_tree(finding: Finding, design: Design) -> Json:
    """One finding on a design, with the marks of the leads that it is of."""
    return {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "subject": finding.subject,
        "heading": finding.heading,
        "figures": [_figure(figure) for figure in finding.figures],
        "places": [_place(place, design) for place in finding.places],
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


def _place(place: Place, design: Design) -> Json:
    return {
        "kind": place.kind.value,
        "name": place.name,
        "lead": lead_mark(place, design),
        "jacks": [{"device": jack.unit, "port": port_words(jack)} for jack in place.jacks],
    }
