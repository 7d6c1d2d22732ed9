"""Every demo brief through the pipeline: proven with options, or refused with the conflict."""

import csv
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from random import Random

import pytest

from planner.brief.records import Drive
from planner.catalogue import read_catalogue
from planner.design import Severity
from planner.options import Status
from planner.plan import options
from planner.requirements import requirements
from tests.plan.demo import (
    DEMO,
    LONG_ENOUGH_S,
    NAMES,
    demo_brief,
    demo_catalogue,
    demo_house,
    demo_result,
    timeless,
    weighed,
)

IMPOSSIBLE = {
    "impossible-balanced-with-rca-subs": "every line connection is balanced",
    "impossible-owned-receiver-four-ohm": "no amplifier channel has a load below what it may drive (R14)",
}
POSSIBLE = [name for name in NAMES if name not in IMPOSSIBLE]
LIMITED = [name for name in POSSIBLE if name.startswith("limit")]
QUICK = [name for name in POSSIBLE if not name.startswith(("cinema", "reference", "limit"))]


@pytest.mark.parametrize("name", POSSIBLE)
def test_a_demo_brief_is_answered_with_proof(name: str) -> None:
    result = demo_result(name)
    assert result.status is Status.PROVEN
    assert result.options
    assert all(option.proven for option in result.options)
    assert result.unproven == ()
    assert result.conflict == ()
    assert result.currency == demo_brief(name).project.currency


@pytest.mark.parametrize("name", POSSIBLE)
def test_no_option_is_as_good_as_another_in_everything_weighed(name: str) -> None:
    brief = demo_brief(name)
    points = [weighed(option.measures, brief) for option in demo_result(name).options]
    for one, other in combinations(points, 2):
        assert any(a < b for a, b in zip(one, other, strict=True))
        assert any(a > b for a, b in zip(one, other, strict=True))


@pytest.mark.parametrize("name", POSSIBLE)
def test_options_are_numbered_from_the_cheapest(name: str) -> None:
    found = demo_result(name).options
    assert [option.id for option in found] == [str(number) for number in range(1, len(found) + 1)]
    prices = [option.measures.price_minor for option in found]
    assert prices == sorted(prices)


@pytest.mark.parametrize("name", POSSIBLE)
def test_every_option_keeps_what_the_brief_limits(name: str) -> None:
    brief, limits = demo_brief(name), demo_brief(name).limits
    least, most = sum(s.least for s in brief.subwoofers), sum(s.most for s in brief.subwoofers)
    for option in demo_result(name).options:
        assert not [f for f in option.findings if f.severity is Severity.INVALID]
        assert least <= sum(option.drives.values()) <= most
        assert {Drive(drive) for drive, count in option.drives.items() if count} <= limits.drives
        assert option.measures.independent_subs >= limits.least_independent_subwoofers
        assert option.measures.control_groups >= limits.least_control_groups
        assert limits.spare_outputs <= option.measures.spare_outputs <= limits.spare_ceiling
        assert option.quote.total_minor == option.measures.price_minor
        assert not {purchase.sku for purchase in option.design.purchases} & set(brief.excluded)


@pytest.mark.parametrize("name", POSSIBLE)
def test_the_shortlist_points_at_options_of_the_set(name: str) -> None:
    result = demo_result(name)
    known = {option.id for option in result.options}
    assert all((answer.option_id in known) != bool(answer.reason) for answer in result.shortlist)
    assert result.shortlist[0].option_id == "1"


@pytest.mark.parametrize("name", QUICK)
def test_two_runs_give_one_answer(name: str) -> None:
    again = options(demo_brief(name), demo_catalogue(), demo_house(), time_limit_s=LONG_ENOUGH_S)
    assert timeless(again) == timeless(demo_result(name))


@pytest.fixture(scope="module")
def shuffled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo catalogue with the rows of every file in another order."""
    folder, rng = tmp_path_factory.mktemp("shuffled"), Random(7)
    for path in sorted(DEMO.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as stream:
            heading, *rows = list(csv.reader(stream))
        rng.shuffle(rows)
        with (folder / path.name).open("w", encoding="utf-8", newline="") as stream:
            csv.writer(stream).writerows([heading, *rows])
    return folder


@pytest.mark.parametrize("name", [*QUICK, *LIMITED])
def test_the_order_of_the_catalogue_s_rows_changes_nothing(name: str, shuffled: Path) -> None:
    result = options(demo_brief(name), read_catalogue(shuffled), demo_house(), time_limit_s=LONG_ENOUGH_S)
    assert timeless(result) == timeless(demo_result(name))


@pytest.mark.parametrize("name", IMPOSSIBLE)
def test_an_impossible_brief_names_a_conflict_of_which_each_part_is_needed(name: str) -> None:
    brief, result = demo_brief(name), demo_result(name)
    assert result.status is Status.INFEASIBLE
    assert result.options == ()
    assert IMPOSSIBLE[name] in result.conflict
    named = [r for r in requirements(brief) if r.sentence in result.conflict]
    assert [r.sentence for r in named] == list(result.conflict)
    for requirement in named:
        relaxed = replace(requirement.without(brief), measures=brief.measures[:1])
        assert options(relaxed, demo_catalogue(), demo_house(), time_limit_s=LONG_ENOUGH_S).options
