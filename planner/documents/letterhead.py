"""What stands at the head and foot of every paper: the firm, the project, the option, the date."""

from planner.documents.dates import long_date
from planner.documents.job import Job
from planner.documents.typeset import Data, FileBeside, is_printable
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


def _logo(job: Job) -> FileBeside | None:
    """The picture, named by what it is. Raises BadInput."""
    logo = job.house.stationery.logo
    if logo is None:
        return None
    picture = FileBeside(f"logo.{logo.format.value}", logo.content)
    if not is_printable(picture):
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
    return picture
