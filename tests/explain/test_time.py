"""Time that runs out, and explanations that are called off: what is known by then is told, and marked."""

import json
from dataclasses import replace
from importlib.resources import files
from itertools import count

import pytest
from jsonschema import Draft202012Validator

from planner.allocation.solve import Outcome, Verdict
from planner.allocation.whole import WholeModel
from planner.explain.as_json import explanation_tree
from planner.explain.clock import Clock
from planner.explain.explanation import Explanation, WhyOption, Wishes, explained
from planner.explain.least import LeastPrices, Settled
from planner.explain.parallel import Work
from planner.explain.price_steps import price_steps
from planner.explain.report import explain_report
from planner.plan import Progress, options
from planner.result_json import as_text
from tests.optimum.bench import bench
from tests.oracle.instance import Instance
from tests.plan.demo import LONG_ENOUGH_S

SCHEMA = json.loads(files("planner").joinpath("explain", "explanation.schema.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def system() -> Instance:
    return bench(outputs=6, speakers=3, subs=2)


def stopped_after(system: Instance, questions: int) -> Explanation:
    asked = count()
    return explained(
        options(system.brief, system.catalogue, system.house), system.brief, system.catalogue, system.house, Wishes(),
        time_limit_s=LONG_ENOUGH_S, stopped=lambda: next(asked) >= questions,
    )  # fmt: skip


def test_what_was_known_when_it_was_stopped_is_told_and_the_rest_marked(system: Instance) -> None:
    whole, part = stopped_after(system, 10**9), stopped_after(system, 12)
    assert not whole.unsettled
    assert part.unsettled
    assert all("It was stopped before" in line for line in part.unsettled)
    assert isinstance(whole.why, WhyOption)
    assert isinstance(part.why, WhyOption)
    pairs = [
        (step.answer, known.answer)
        for stairs, whole_stairs in zip(part.why.steps.staircases, whole.why.steps.staircases, strict=True)
        for step, known in zip(stairs.steps, whole_stairs.steps, strict=True)
    ]
    assert {answer.settled for answer, _ in pairs} > {Settled.OPEN}
    assert part.why.steps.today.price_minor == whole.why.steps.today.price_minor
    assert all(answer.price_minor == known.price_minor for answer, known in pairs if answer.settled is Settled.FOUND)


def test_what_is_partly_known_is_printed_and_fits_the_schema(system: Instance) -> None:
    part = stopped_after(system, 12)
    assert "not settled" in explain_report(part, system.brief, system.catalogue)
    tree = json.loads(as_text(explanation_tree(part, system.brief, system.catalogue)))
    assert list(Draft202012Validator(SCHEMA).iter_errors(tree)) == []


def test_whatever_the_progress_raises_ends_it(system: Instance) -> None:
    class Enough(Exception):
        """Nobody waits any more."""

    def refuse(progress: Progress) -> None:
        raise Enough

    result = options(system.brief, system.catalogue, system.house)
    with pytest.raises(Enough):
        explained(result, system.brief, system.catalogue, system.house, Wishes(), time_limit_s=600.0, progress=refuse)


def test_a_design_that_is_not_proven_is_told_as_a_price_that_is_not_exceeded(
    system: Instance, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As if the time of each question ended with the best design found, and no proof."""
    proven = WholeModel.cheapest

    def unproven(self: WholeModel, *args: object, **kwargs: object) -> Outcome:
        outcome = proven(self, *args, **kwargs)  # type: ignore[arg-type]
        return outcome if outcome.counts is None else replace(outcome, verdict=Verdict.FEASIBLE)

    least = LeastPrices(system.brief, system.catalogue, system.house, Clock.of(LONG_ENOUGH_S)).least()
    monkeypatch.setattr(WholeModel, "cheapest", unproven)
    answer = LeastPrices(system.brief, system.catalogue, system.house, Clock.of(LONG_ENOUGH_S)).least()
    assert (answer.settled, answer.price_minor) == (Settled.OPEN, None)
    assert answer.at_most_minor == least.price_minor
    told = explain_report(stopped_after(system, 10**9), system.brief, system.catalogue)
    assert "at most EUR 2,040.00, the least was not settled in time" in " ".join(told.split())


@pytest.mark.parametrize("guess_minor", [0, 1, 200_000, 225_000, 225_001, 10**9])
def test_no_answer_hangs_on_a_guess(system: Instance, guess_minor: int) -> None:
    """1000 + 3 x 210 + 2 x 310, in euros."""
    prices = LeastPrices(system.brief, system.catalogue, system.house, Clock.of(LONG_ENOUGH_S))
    assert prices.least(guess_minor=guess_minor).price_minor == 225_000


def test_the_nearest_steps_are_those_of_the_whole_staircases(system: Instance) -> None:
    clock = Clock.of(LONG_ENOUGH_S)
    whole = price_steps(system.brief, system.catalogue, system.house, clock)
    near = price_steps(system.brief, system.catalogue, system.house, clock, nearest=True)
    price_of = {(s.axis, s.drives, step.change): step.answer.price_minor for s in whole.staircases for step in s.steps}
    found = [(price_of[s.axis, s.drives, step.change], step) for s in near.staircases for step in s.steps]
    assert all(step.change in (0, 1) and step.answer.price_minor == price for price, step in found)
    assert len(found) > 8


def test_work_is_begun_in_the_order_in_which_it_is_put_and_waits_for_what_it_needs() -> None:
    seen: list[str] = []
    with Work(Clock.of(LONG_ENOUGH_S)) as work:
        first = work.put("first", lambda: seen.append("first"))
        second = work.put("second", lambda: seen.append("second"), after=(first,))
        third = work.put("third", lambda: "third", after=(first, second))
    assert seen == ["first", "second"]
    assert third.result() == "third"


def test_an_error_in_one_question_is_raised_once_all_have_ended() -> None:
    work = Work(Clock.of(LONG_ENOUGH_S))
    work.put("broken", lambda: 1 // 0)
    sound = work.put("sound", lambda: 1)
    with pytest.raises(ZeroDivisionError):
        work.__exit__(None, None, None)
    assert sound.result() == 1
