"""What differs between two briefs, by hand."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from planner.brief import read_brief
from planner.brief.records import Drive
from planner.projects.compare import Difference, differences

BRIEF = read_brief(Path(__file__).resolve().parents[2] / "catalogue_demo" / "briefs" / "small-5-1-2-two-subs.toml")


def test_a_brief_does_not_differ_from_itself() -> None:
    assert differences(BRIEF, BRIEF) == ()


def test_each_entry_that_differs_is_told_by_its_place() -> None:
    seat = BRIEF.seats[0]
    limits = replace(BRIEF.limits, budget=Decimal("9000.00"), drives=frozenset({Drive.DSP}))
    other = replace(
        BRIEF,
        project=replace(BRIEF.project, client=""),
        seats=(replace(seat, position=replace(seat.position, x_m=1.25)), *BRIEF.seats[1:]),
        subwoofers=(),
        limits=limits,
    )
    found = {one.place: (one.left, one.right) for one in differences(BRIEF, other)}
    assert found.pop("project.client") == (BRIEF.project.client, "none")
    at = seat.position
    assert found.pop("seats[0].position") == (
        f"{at.x_m:g}, {at.y_m:g}, {at.z_m:g}",
        f"1.25, {at.y_m:g}, {at.z_m:g}",
    )
    assert found.pop("subwoofers[0]") == (BRIEF.subwoofers[0].name, "none")
    assert found.pop("limits.drives")[1] == "dsp"
    before = BRIEF.limits.budget
    assert found.pop("limits.budget") == ("none" if before is None else str(before), "9000.00")
    assert found == {}


def test_a_row_that_one_has_more_is_one_difference() -> None:
    other = replace(BRIEF, seats=(*BRIEF.seats, replace(BRIEF.seats[0], name="Stool")))
    assert differences(BRIEF, other) == (Difference(place=f"seats[{len(BRIEF.seats)}]", left="none", right="Stool"),)
