"""No design undercuts the floor on its price; what is too dear to win is left out and never missed."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from ortools.sat.python import cp_model

from planner.allocation.bounds import Bounds, limits_of
from planner.allocation.narrowed import NarrowedModel
from planner.allocation.price_floor import PriceFloor
from planner.allocation.solve import MOST_SCORE, Outcome, ProcessorModel, Verdict, scale_of
from planner.catalogue.records import CableKind, PortRole
from planner.demand.build import Demand, ModelKey, build_demand
from tests.demand.random_shops import problem
from tests.demand.shop import HOUSE, POST, RCA, RCA_PLUG, Shop, brief, ins, outs, speakers

SECONDS = 60.0
SEEDS = (24, 57, 60, 67, 76, 99, 101, 111, 156, 200, 222)


def demand_of(seed: int) -> Demand:
    found = problem(seed)
    return build_demand(found.brief, found.catalogue, HOUSE)


def asked_of(demand: Demand) -> Iterator[Bounds]:
    """The brief's own bounds, and some tighter."""
    yield limits_of(demand.brief)
    yield Bounds(independent=1, spare=1, lost=2)
    yield Bounds(lost=1, conversions=0)


def cheapest_with(demand: Demand, number: int, key: ModelKey) -> int | None:
    """The least price before tax of one processor with one model in one set, in the whole model."""
    model = ProcessorModel(demand, number)
    bounded = model._bounded(limits_of(demand.brief))
    bounded.add(model._v.model_of[key] == 1)
    bounded.minimize(model._subtotal)
    solver = cp_model.CpSolver()
    return round(solver.objective_value) if solver.solve(bounded) == cp_model.OPTIMAL else None


def two_ways() -> Demand:
    """Passive loudspeakers at 100 on an amplifier of four channels at 400, or active ones at 600. No labour, no tax."""
    sold = Shop()
    sold.processor("P", 1000, outs("A", RCA, 4, PortRole.ASSIGNABLE))
    sold.speaker("passive", 100, ins("IN", POST))
    sold.speaker("active", 600, ins("IN", RCA))
    sold.amplifier("amp", 400, 4, RCA)
    sold.lead("R", 5, RCA_PLUG, RCA_PLUG, 10.0)
    sold.cable("twin", 2, CableKind.SPEAKER)
    pair = speakers("Pair", "", "M+030 M-030", 3.0, 4.0)
    return build_demand(brief(replace(pair, candidates=("passive", "active"))), sold.catalogue(), HOUSE)


def test_the_floor_by_hand() -> None:
    """Each passive one: 100, a quarter of 400, a lead at 5 and 3 or 4 m of cable at 2. Each active one: 600 and 5."""
    demand = two_ways()
    floor = PriceFloor(demand.with_processor(demand.processors[0]))
    assert floor.of_model(("Pair", "passive")) == (1000 + 2 * (100 + 100 + 5) + 2 * (3 + 4)) * 100
    assert floor.of_model(("Pair", "active")) == (1000 + 2 * (600 + 5)) * 100
    assert floor.of_all() == floor.of_model(("Pair", "passive"))
    assert floor.dearer(221_000) == {("Pair", "active")}
    assert floor.dearer(221_001) == frozenset()


@pytest.mark.parametrize("seed", SEEDS[:5])
def test_no_design_costs_less_than_the_floor_of_its_models(seed: int) -> None:
    demand = demand_of(seed)
    for number, choice in enumerate(demand.processors[:3]):
        floor = PriceFloor(demand.with_processor(choice))
        for key in ((s.name, m.sku) for s in demand.sets for m in s.models):
            least = cheapest_with(demand, number, key)
            assert least is None or floor.of_all() <= floor.of_model(key) <= least


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_left_out_is_never_missed(seed: int) -> None:
    """Held against the model with everything in it, for every processor, with and without a score to beat."""
    demand = demand_of(seed)
    for number, _ in enumerate(demand.processors[:4]):
        whole, narrowed = ProcessorModel(demand, number), NarrowedModel(demand, number)
        for bounds in asked_of(demand):
            expected = whole.cheapest(bounds, SECONDS, floor=0, below=MOST_SCORE)
            assert settled(narrowed, bounds, MOST_SCORE) == (expected.verdict, expected.score)
            if expected.verdict is Verdict.OPTIMAL:
                for below in (expected.score, expected.score + 1, expected.score + 7 * scale_of(demand)):
                    beaten = expected.score < below
                    assert (settled(narrowed, bounds, below)[0] is Verdict.OPTIMAL) is beaten


def settled(model: NarrowedModel, bounds: Bounds, below: int) -> tuple[Verdict, int]:
    """Asked again as long as more than what is said to be out of reach is left."""
    floor = model.least_score
    while True:
        outcome: Outcome = model.cheapest(bounds, SECONDS, floor=floor, below=below)
        if outcome.verdict is not Verdict.NONE:
            return outcome.verdict, outcome.score
        if outcome.score >= below:
            return Verdict.NONE, 0
        assert outcome.score > floor
        floor = outcome.score
