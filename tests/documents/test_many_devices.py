"""Papers of a system of near forty devices, and of one with names as long as they may be."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from planner.design import Connection, Design, Jack, Unit
from planner.documents.job import Job
from planner.documents.lead_test_sheet import lead_test_sheet
from planner.documents.make_up_sheet import make_up_sheet
from planner.documents.proposal import proposal
from planner.documents.wiring_paper import wiring_paper
from planner.wiring.labels import lead_marks
from tests.documents.jobs import LARGE, SMALL, demo_job
from tests.documents.pages import text_of


def doubled(design: Design) -> Design:
    """The design and its twin side by side: twice as many devices, jacks and leads."""

    def twin(name: str) -> str:
        return f"{name}b"

    def jack(one: Jack) -> Jack:
        return replace(one, unit=twin(one.unit))

    def unit(one: Unit) -> Unit:
        return replace(one, id=twin(one.id), host=twin(one.host) if one.host else None)

    def connection(one: Connection) -> Connection:
        return replace(one, source=jack(one.source), sink=jack(one.sink))

    return replace(
        design,
        units=(*design.units, *map(unit, design.units)),
        connections=(*design.connections, *map(connection, design.connections)),
        routes=(*design.routes, *(replace(one, source=jack(one.source), sink=jack(one.sink)) for one in design.routes)),
    )


def near_forty() -> Job:
    job = demo_job(LARGE, "4")
    design = doubled(job.option.design)
    assert len(design.units) == 2 * 19
    return replace(job, option=replace(job.option, design=design))


@pytest.mark.parametrize(("paper", "first"), [(wiring_paper, 4), (make_up_sheet, 1), (lead_test_sheet, 1)])
def test_every_lead_of_near_forty_devices_is_there(paper: Callable[[Job], bytes], first: int) -> None:
    job = near_forty()
    text = text_of(paper(job), first)
    marks = lead_marks(job.option.design)
    assert len(marks) == 2 * 18
    for mark in marks.values():
        assert mark in text


def test_names_as_long_as_they_may_be_run_over_several_lines_and_stay_whole() -> None:
    job = demo_job(SMALL)
    name = "Wohnzimmerlautsprecheranlage " * 6
    catalogue = replace(
        job.catalogue,
        loudspeakers=tuple(replace(one, name=name.strip()) for one in job.catalogue.loudspeakers),
    )
    long = replace(job, catalogue=catalogue)
    for paper, first in ((proposal, 2), (wiring_paper, 4)):
        assert name.strip() in text_of(paper(long), first)
