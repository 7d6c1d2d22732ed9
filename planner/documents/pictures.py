"""The pictures of a job, as SVG: the same in the papers, as files of their own, and in the form."""

from planner.documents.job import Job
from planner.drawings.room_plan import room_plan, room_section
from planner.drawings.signal_flow import signal_flow


def flow_picture(job: Job) -> str:
    """The signal flow from processor to loudspeakers."""
    return signal_flow(job.option.design, job.catalogue, f"{job.brief.project.name}: signal flow", _detail(job))


def plan_picture(job: Job) -> str:
    """The room from above, with cable ways and lead marks."""
    return room_plan(job.option.design, job.brief, f"{job.brief.project.name}: room plan", _detail(job))


def section_picture(job: Job) -> str:
    """The room from the side."""
    return room_section(job.option.design, job.brief, f"{job.brief.project.name}: section", _detail(job))


def _detail(job: Job) -> str:
    project = job.brief.project
    named = (project.client, project.reference, project.dated.isoformat(), f"option {job.option.id}")
    return ", ".join(part for part in named if part)
