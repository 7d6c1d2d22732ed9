"""Every paper of one option, in the order in which they are handed out."""

from collections.abc import Callable, Iterable, Sequence

from planner.documents.commissioning_sheet import commissioning_sheet
from planner.documents.job import Job
from planner.documents.lead_test_sheet import lead_test_sheet
from planner.documents.make_up_sheet import make_up_sheet
from planner.documents.paper import Paper
from planner.documents.papers_json import papers_json
from planner.documents.pictures import flow_picture, plan_picture, section_picture
from planner.documents.proposal import proposal
from planner.documents.wiring_paper import wiring_paper
from planner.documents.workbook.book import workbook

PDF = "application/pdf"
JSON = "application/json"
SVG = "image/svg+xml"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

_WRITERS: Sequence[tuple[str, str, Callable[[Job], bytes]]] = (
    ("proposal.pdf", PDF, proposal),
    ("trade-workbook.xlsx", XLSX, workbook),
    ("wiring.pdf", PDF, wiring_paper),
    ("signal-flow.svg", SVG, lambda job: flow_picture(job).encode()),
    ("room-plan.svg", SVG, lambda job: plan_picture(job).encode()),
    ("room-section.svg", SVG, lambda job: section_picture(job).encode()),
    ("make-up.pdf", PDF, make_up_sheet),
    ("tests.pdf", PDF, lead_test_sheet),
    ("commissioning.pdf", PDF, commissioning_sheet),
    ("option.json", JSON, papers_json),
)

PAPER_NAMES = tuple(name for name, _, _ in _WRITERS)
"""The names of all files that a set of papers can hold."""


def papers(job: Job, tell: Callable[[str], None] = lambda _: None) -> tuple[Paper, ...]:
    """All papers; `tell` is given the name of each before it is written.

    Raises BadInput where a text or the logo cannot be printed.
    """
    return tuple(_written(job, tell))


def _written(job: Job, tell: Callable[[str], None]) -> Iterable[Paper]:
    for name, media_type, write in _WRITERS:
        tell(name)
        yield Paper(name=name, media_type=media_type, content=write(job))
