"""The trade-off set with the limits of R11 and R14, M7 and M8, against every design written out.

Levels and loads are judged by the rule of thumb of the trade (`tests.oracle.electrics`), loops by
networkx; every design that the brute force writes out is judged one by one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache
from math import floor
from random import Random

import pytest

from planner.brief.records import Measure
from planner.design import Measures
from planner.options import Option, Status
from planner.plan import options
from tests.oracle.brute import priced_sketches
from tests.oracle.electrics import MOST_MARGIN_DB, Electrics, electrified
from tests.oracle.instance import Instance
from tests.oracle.instances import seeded, tiny
from tests.oracle.tally import Tally
from tests.oracle.terms import with_tax, within_budget

Values = tuple[int, ...]
BOUGHT = (4, 5, 8, 14, 16, 19, 21, 61, 63, 72, 73, 74, 78, 79, 81, 82, 91, 93, 95, 97)
"""Seeds with designs that keep the limits, in about half of them dearer or fewer than without."""
REFUSED = (6, 7, 58, 59, 64, 70, 88)
"""Seeds of which every design breaks a limit."""
EVERY = (Measure.EARTH_LOOPS, Measure.LEAST_MARGIN)


def electric(seed: int) -> Instance:
    """A tiny instance with figures, its measures with or without M7 and M8."""
    rng = Random(seed)
    instance = electrified(seeded(tiny, seed), rng)
    extra = rng.choice(((), (), *((one,) for one in EVERY), EVERY))
    measures = (*(m for m in instance.brief.measures if m not in EVERY), *extra)
    return replace(instance, brief=replace(instance.brief, measures=measures))


@cache
def answered(seed: int) -> tuple[Option, ...]:
    instance = electric(seed)
    result = options(instance.brief, instance.catalogue, instance.house)
    assert result.status is (Status.PROVEN if result.options else Status.INFEASIBLE)
    return result.options


def values(found: Measures, chosen: Sequence[Measure]) -> Values:
    """The measures weighed, each so that less is better."""
    margin_db = found.least_margin_db
    margin = MOST_MARGIN_DB if margin_db is None else min(MOST_MARGIN_DB, floor(margin_db))
    table = {
        Measure.PRICE: found.price_minor,
        Measure.INDEPENDENT_SUBWOOFERS: -found.independent_subs,
        Measure.SPARE_OUTPUTS: -found.spare_outputs,
        Measure.JOINTS: found.joints,
        Measure.SUBWOOFERS_LOST: found.subs_lost_worst,
        Measure.CONVERSIONS: found.conversions,
        Measure.EARTH_LOOPS: found.earth_loops or 0,
        Measure.LEAST_MARGIN: -margin,
    }
    return tuple(table[measure] for measure in chosen)


def counted(tally: Tally, price: int, margin: int, loops: int, chosen: Sequence[Measure]) -> Values:
    """The same of a design written out."""
    table = {
        Measure.PRICE: price,
        Measure.INDEPENDENT_SUBWOOFERS: -tally.independent,
        Measure.SPARE_OUTPUTS: -tally.spare,
        Measure.JOINTS: tally.joints,
        Measure.SUBWOOFERS_LOST: tally.lost,
        Measure.CONVERSIONS: tally.conversions,
        Measure.EARTH_LOOPS: loops,
        Measure.LEAST_MARGIN: -margin,
    }
    return tuple(table[measure] for measure in chosen)


def every_design(instance: Instance) -> set[Values]:
    """The values of every design that keeps all limits."""
    electrics, brief = Electrics(instance), instance.brief
    found: set[Values] = set()
    for sketch, tally, subtotal in priced_sketches(instance):
        price = with_tax(instance, subtotal)
        if tally.keeps(brief.limits) and within_budget(instance, price):
            judged = electrics.judged(sketch)
            if judged is not None:
                found.add(counted(tally, price, judged.margin, judged.loops, brief.measures))
    return found


def undominated(points: Iterable[Values]) -> set[Values]:
    """By definition: no other is nowhere worse."""
    kept: list[Values] = []
    for point in sorted(set(points)):
        if not any(all(a <= b for a, b in zip(other, point, strict=True)) for other in kept):
            kept.append(point)
    return set(kept)


@pytest.mark.parametrize("seed", [*BOUGHT, *REFUSED])
def test_the_set_is_what_is_left_of_every_design_written_out(seed: int) -> None:
    instance = electric(seed)
    found = [values(option.measures, instance.brief.measures) for option in answered(seed)]
    assert len(found) == len(set(found))
    assert set(found) == undominated(every_design(instance))


def test_the_limits_decide_in_these_instances() -> None:
    """Agreement is worth little where nothing is refused."""
    assert all(answered(seed) for seed in BOUGHT)
    assert not any(answered(seed) for seed in REFUSED)
