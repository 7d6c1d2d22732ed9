"""What stands at the head and foot of every paper: the firm, the project, the option, the date."""

from planner.documents.dates import long_date
from planner.documents.job import Job
from planner.documents.typeset import Data
from planner.house import LogoFormat


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
    """The picture as numbers from 0 to 255, the one form in which data can carry it."""
    logo = job.house.stationery.logo
    if logo is None:
        return None
    return {"format": {LogoFormat.PNG: "png", LogoFormat.JPEG: "jpg", LogoFormat.SVG: "svg"}[logo.format], "bytes": [*logo.content]}
