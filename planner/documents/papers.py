"""Every paper of one option, in the order in which they are handed out."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from planner.documents.commissioning_sheet import commissioning_sheet
from planner.documents.job import Job
from planner.documents.lead_test_sheet import lead_test_sheet
from planner.documents.mains_sheet import mains_sheet
from planner.documents.make_up_sheet import make_up_sheet
from planner.documents.paper import Paper
from planner.documents.papers_json import papers_json
from planner.documents.pictures import flow_picture, plan_picture, section_picture
from planner.documents.proposal import proposal
from planner.documents.wiring_paper import wiring_paper
from planner.documents.workbook.book import workbook

PDF = "application/pdf"
SVG = "image/svg+xml"
JSON = "application/json"
_AT_ONCE = 3
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@dataclass(frozen=True, slots=True)
class _Writer:
    """How one paper is made. `words` say for whom it is, and what is in it."""

    name: str
    media_type: str
    words: str
    write: Callable[[Job], bytes]


_WRITERS: Sequence[_Writer] = (
    _Writer(
        "proposal.pdf", PDF, "For the client: options side by side, the room, the price, what it rests on", proposal
    ),
    _Writer(
        "trade-workbook.xlsx", XLSX, "For the office: bill with cost and margin, ledger, leads, findings", workbook
    ),
    _Writer("wiring.pdf", PDF, "For whoever wires: signal flow on A3, plan, lead schedule, labels", wiring_paper),
    _Writer("mains.pdf", PDF, "For the electrician: where mains is wanted, power, heat", mains_sheet),
    _Writer("make-up.pdf", PDF, "For the bench: what is cut, which core goes to which pin", make_up_sheet),
    _Writer("tests.pdf", PDF, "For the site: leads by meter, polarity, hum, one subwoofer at a time", lead_test_sheet),
    _Writer("commissioning.pdf", PDF, "For setting up: order of work, starting values, blanks", commissioning_sheet),
    _Writer(
        "signal-flow.svg",
        SVG,
        "The signal flow as a picture",
        lambda job: flow_picture(job.option, job.brief, job.catalogue).encode(),
    ),
    _Writer(
        "room-plan.svg",
        SVG,
        "The room from above as a picture",
        lambda job: plan_picture(job.option, job.brief).encode(),
    ),
    _Writer(
        "room-section.svg",
        SVG,
        "The room from the side as a picture",
        lambda job: section_picture(job.option, job.brief).encode(),
    ),
    _Writer("option.json", JSON, "The same for programs", papers_json),
)

PAPER_WORDS = {writer.name: writer.words for writer in _WRITERS}
"""The name of every file, with for whom it is and what is in it."""


def papers(job: Job) -> tuple[Paper, ...]:
    """All papers of a job, written side by side. Raises BadInput where a text or the logo cannot be printed."""
    with ThreadPoolExecutor(max_workers=_AT_ONCE) as pool:  # while a page is set, another paper is written
        return tuple(pool.map(lambda writer: _written(writer, job), _WRITERS))


def _written(writer: _Writer, job: Job) -> Paper:
    return Paper(name=writer.name, media_type=writer.media_type, content=writer.write(job))
