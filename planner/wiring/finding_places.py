"""Where a finding is, by the marks that drawings, schedules and labels have."""

from planner.design import Design, Place, PlaceKind
from planner.wiring.labels import lead_marks


def lead_mark(place: Place, design: Design) -> str | None:
    """The mark of the lead that a place is; None for any other place, and for what plugs on without a lead."""
    if place.kind is not PlaceKind.LEAD:
        return None
    marks = lead_marks(design)
    return next((mark for each, mark in marks.items() if (each.source, each.sink) == place.jacks), None)


def marks_of(places: tuple[Place, ...], design: Design) -> tuple[str, ...]:
    """The marks of all leads among some places."""
    found = (lead_mark(place, design) for place in places)
    return tuple(sorted({mark for mark in found if mark is not None}))
