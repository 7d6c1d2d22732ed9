"""What stands at the head and foot of every paper: the firm, the project, the option, the date."""

from planner.documents.dates import long_date
from planner.documents.job import Job
from planner.documents.typeset import Data, is_printable
from planner.errors import BadInput, Fault


def letterhead(job: Job, title: str) -> Data:
    """The firm's name, address and logo, and what the paper is of."""
    project, house = job.brief.project, job.house
    return {
        "title": title,
        "house": house.name,
        "address": house.address,
        "logo": _logo(job),
        "project": project.name,
        "client": project.client,
        "reference": project.reference,
        "dated": long_date(project.dated),
        "option": job.option.id,
    }


def _logo(job: Job) -> Data | None:
    """The picture as numbers from 0 to 255, the one form in which data can carry it. Raises BadInput."""
    logo = job.house.stationery.logo
    if logo is None:
        return None
    if not is_printable(logo.content, logo.format.value):
        raise BadInput(
            (
                Fault(
                    where="the house settings, papers.logo",
                    value=f'"{logo.file}", a picture that cannot be drawn',
                    expected="a sound PNG, JPEG or SVG file",
                    remedy="Save the logo anew.",
                ),
            )
        )
    return {"format": logo.format.value, "bytes": [*logo.content]}
