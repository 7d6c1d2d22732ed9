"""The electrician's sheet: every mains cord with its place, and sums that are those of the rows."""

from dataclasses import replace
from typing import Any

import pytest

from planner.catalogue.records import Amplifier, Loudspeaker, Powering, Subwoofer
from planner.documents.job import Job
from planner.documents.mains_sheet import mains_data, mains_sheet
from planner.physics import examine
from tests.documents.jobs import LARGE, NONE, QUICK, SMALL, demo_job
from tests.documents.pages import pages, text_of


def supplies(job: Job) -> list[dict[str, Any]]:
    shown: Any = mains_data(job)["supplies"]
    return list(shown)


@pytest.mark.parametrize("name", QUICK)
def test_the_totals_are_the_sums_of_the_rows(name: str) -> None:
    job = demo_job(name)
    rows, totals = supplies(job), job.examination.mains
    for in_rack, total in ((True, totals.rack), (False, totals.room)):
        here = [row for row in rows if row["in_rack"] is in_rack and row["rated"] != "not stated"]
        assert sum(int(row["rated"]) for row in here) == pytest.approx(total.rated_w, abs=len(here) / 2)
        assert sum(int(row["idle"]) for row in here) == pytest.approx(total.idle_w, abs=len(here) / 2)


def test_what_is_active_has_its_place_and_what_is_passive_is_not_there() -> None:
    job = demo_job(LARGE)
    by_sku = {item.sku: item for item in job.catalogue.items()}
    active = {
        unit.id
        for unit in job.option.design.units
        if isinstance(item := by_sku[unit.sku], Loudspeaker | Subwoofer) and item.powering is Powering.ACTIVE
    }
    assert {row["device"] for row in supplies(job) if not row["in_rack"]} == active
    assert len(active) == 17
    left = next(row for row in supplies(job) if row["device"] == "M+030")
    assert left["place"] == "0.40, 0.50, 1.20"  # as in the brief
    passive = demo_job("upgrade-around-owned-gear")
    assert not any(row["device"].startswith("M+") for row in supplies(passive))


def test_a_device_without_stated_power_is_listed_as_not_stated() -> None:
    job = demo_job("upgrade-around-owned-gear")
    unstated = replace(job.catalogue, amplifiers=tuple(_without_power(one) for one in job.catalogue.amplifiers))
    changed = replace(job, catalogue=unstated, examination=examine(job.option.design, job.brief, unstated))
    (row,) = [row for row in supplies(changed) if row["device"] == "Amp 1"]
    assert (row["idle"], row["rated"], row["earth"]) == ("not stated",) * 3
    assert "gives no mains power for Amp 1" in text_of(mains_sheet(changed))


def _without_power(amplifier: Amplifier) -> Amplifier:
    return replace(amplifier, mains=replace(amplifier.mains, idle_w=0.0, rated_w=0.0))


@pytest.mark.parametrize("name", [SMALL, NONE])
def test_it_warns_refers_and_names_its_reader_on_the_first_page(name: str) -> None:
    read = pages(mains_sheet(demo_job(name)))
    assert "For the electrician" in read[0]
    assert "A protective earth is never lifted" in read[0]
    assert "Local codes" in read[0]
    assert f"1 / {len(read)}" in read[0]
