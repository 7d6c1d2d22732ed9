"""Answers recalled after edits at random are those of a run that recalls nothing."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from random import Random

import pytest

from planner import answer, plan
from planner.bass import best_of_groups, scene
from planner.brief.records import Brief, Point
from planner.catalogue.records import Catalogue
from planner.house import House
from planner.kept import place, remembered
from planner.options import Result
from tests.plan.demo import demo_brief, demo_catalogue, demo_house, timeless

Asked = tuple[Brief, Catalogue, House]
BRIEF = "stereo-one-sub"
EDITS = 7


@pytest.fixture(autouse=True)
def _keeping(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(place.ENVIRONMENT, str(tmp_path))


@pytest.fixture
def searches(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Grows by one with every search."""
    done: list[int] = []
    search = plan.options

    def counted(*arguments: object, **terms: object) -> Result:
        done.append(1)
        return search(*arguments, **terms)  # type: ignore[arg-type]

    monkeypatch.setattr(plan, "options", counted)
    return done


def forget() -> None:
    """What this process remembers of the bass goes, too."""
    for remembering in (best_of_groups._searched, best_of_groups.ways_of, scene.field_of, scene.symmetries_of):
        remembering.cache_clear()


def asked() -> Asked:
    return demo_brief(BRIEF), demo_catalogue(), demo_house()


def dearer(now: Asked, rng: Random) -> Asked:
    """One price moves."""
    brief, catalogue, house = now
    sku = rng.choice(sorted(catalogue.offers))
    offers = tuple(replace(o, price=o.price * rng.choice((Decimal("0.5"), Decimal(2)))) for o in catalogue.offers[sku])
    return brief, replace(catalogue, offers={**catalogue.offers, sku: offers}), house


def moved(now: Asked, rng: Random) -> Asked:
    """A subwoofer stands elsewhere."""
    brief, catalogue, house = now
    sub = brief.subwoofers[0]
    place_now = Point(round(rng.uniform(0.3, 2.0), 2), round(rng.uniform(0.3, 2.0), 2), 0.3)
    return replace(brief, subwoofers=(replace(sub, positions=(place_now, *sub.positions[1:])),)), catalogue, house


def limited(now: Asked, rng: Random) -> Asked:
    """A limit comes or goes."""
    brief, catalogue, house = now
    limits = replace(brief.limits, spare_outputs=rng.choice((0, 1)), budget=rng.choice((None, Decimal(900))))
    return replace(brief, limits=limits), catalogue, house


def renamed(now: Asked, rng: Random) -> Asked:
    """The project is called otherwise."""
    brief, catalogue, house = now
    return replace(brief, project=replace(brief.project, name=f"Project {rng.random()}")), catalogue, house


def other_margin(now: Asked, rng: Random) -> Asked:
    """The firm's margin changes."""
    brief, catalogue, house = now
    return brief, catalogue, replace(house, margin_percent=Decimal(rng.choice((20, 30))))


MOVES: tuple[Callable[[Asked, Random], Asked], ...] = (dearer, moved, limited, renamed, other_margin)


def test_edits_at_random_are_answered_as_by_a_cold_run(searches: list[int], monkeypatch: pytest.MonkeyPatch) -> None:
    rng = Random(8)
    history = [asked()]
    recalled = 0
    for _ in range(EDITS):
        now = rng.choice(history) if rng.random() < 0.2 else rng.choice(MOVES)(history[-1], rng)
        history.append(now)
        before = len(searches)
        found = answer.options(*now, time_limit_s=600.0)
        recalled += len(searches) == before
        with monkeypatch.context() as cold:
            cold.setenv(place.ENVIRONMENT, place.OFF)
            forget()
            assert timeless(found) == timeless(plan.options(*now, time_limit_s=600.0))
    assert recalled > 0


def test_what_was_asked_before_is_not_searched_again(searches: list[int]) -> None:
    first = answer.options(*asked(), time_limit_s=600.0)
    again = answer.options(*renamed(asked(), Random(1)), time_limit_s=600.0)
    assert timeless(again) == timeless(first)
    assert len(searches) == 1


def test_an_answer_short_of_time_is_not_kept(searches: list[int]) -> None:
    for _ in range(2):
        answer.options(*asked(), time_limit_s=0.001)
    assert len(searches) == 2


def test_another_planner_recalls_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    assert remembered("work", (1,), int, lambda: 1) == 1
    assert remembered("work", (1,), int, lambda: 2) == 1
    assert remembered("work", (2,), int, lambda: 2) == 2
    assert remembered("other work", (1,), int, lambda: 3) == 3
    monkeypatch.setattr("planner.kept.recall.planner_key", lambda: "another")
    assert remembered("work", (1,), int, lambda: 4) == 4


def spoilt_price(result: Result) -> Result:
    """The first option told at another price."""
    first = result.options[0]
    changed = replace(first, measures=replace(first.measures, price_minor=first.measures.price_minor - 1))
    return replace(result, options=(changed, *result.options[1:]))


def spoilt_wiring(result: Result) -> Result:
    """The first option without one of its connections."""
    first = result.options[0]
    changed = replace(first, design=replace(first.design, connections=first.design.connections[1:]))
    return replace(result, options=(changed, *result.options[1:]))


@pytest.mark.parametrize("spoil", [spoilt_price, spoilt_wiring])
def test_what_is_recalled_is_verified_again(
    spoil: Callable[[Result], Result], searches: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """An answer that somebody has changed on disk is never shown: it is searched for again."""
    sound = plan.options(*asked(), time_limit_s=600.0)
    with monkeypatch.context() as once:
        once.setattr("planner.plan.options", lambda *given, **terms: spoil(sound))
        answer.options(*asked(), time_limit_s=600.0)
    before = len(searches)
    assert timeless(answer.options(*asked(), time_limit_s=600.0)) == timeless(sound)
    assert len(searches) == before + 1
