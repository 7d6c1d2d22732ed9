"""The pictures of an option, as SVG: the same in the papers, as files of their own, and in the form."""

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.drawings.room_plan import room_plan, room_section
from planner.drawings.signal_flow import signal_flow
from planner.options import Option


def flow_picture(option: Option, brief: Brief, catalogue: Catalogue) -> str:
    """The signal flow from processor to loudspeakers."""
    return signal_flow(option.design, catalogue, f"{brief.project.name}: signal flow", _detail(option, brief))


def plan_picture(option: Option, brief: Brief, called: str | None = None) -> str:
    """The room from above, with cable ways and lead marks; `called`: what the option goes by, if not by its number."""
    return room_plan(option.design, brief, f"{brief.project.name}: room plan", _detail(option, brief, called))


def section_picture(option: Option, brief: Brief) -> str:
    """The room from the side."""
    return room_section(option.design, brief, f"{brief.project.name}: section", _detail(option, brief))


def _detail(option: Option, brief: Brief, called: str | None = None) -> str:
    project = brief.project
    named = (
        project.client,
        project.reference,
        project.dated.isoformat(),
        f"option {option.id}" if called is None else called,
    )
    return ", ".join(part for part in named if part)
