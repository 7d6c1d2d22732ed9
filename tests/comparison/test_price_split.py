"""A price difference falls into causes that add up to the minor unit, whatever two designs are compared."""

from functools import cache
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.comparison.compared import compared
from planner.comparison.price_split import Cause, price_split
from planner.costing import PriceList
from planner.options import Option
from planner.plan import options
from tests.optimum.seeds import SMALL
from tests.oracle.instance import Instance
from tests.oracle.instances import seeded, small


@cache
def answered(seed: int) -> tuple[Instance, tuple[Option, ...]]:
    instance = seeded(small, seed)
    return instance, options(instance.brief, instance.catalogue, instance.house).options


@settings(max_examples=25, deadline=None)
@given(st.sampled_from(SMALL[:4]), st.randoms(use_true_random=False))
def test_the_parts_add_up_exactly(seed: int, rng: Random) -> None:
    instance, found = answered(seed)
    before, after = rng.choice(found), rng.choice(found)
    prices = PriceList(instance.brief, instance.catalogue, instance.house)
    comparison = compared(before, after, instance.catalogue, prices)
    assert comparison.over_minor == after.measures.price_minor - before.measures.price_minor
    assert sum(part.total_minor for part in comparison.parts) == comparison.over_minor
    assert sum(part.gear_minor for part in comparison.parts) == after.quote.gear_minor - before.quote.gear_minor
    assert sum(part.labour_minor for part in comparison.parts) == after.quote.labour_minor - before.quote.labour_minor
    assert sum(part.tax_minor for part in comparison.parts) == after.quote.tax_minor - before.quote.tax_minor


def test_what_does_not_change_is_no_cause() -> None:
    instance, found = answered(SMALL[0])
    prices = PriceList(instance.brief, instance.catalogue, instance.house)
    assert price_split(found[0].design, found[0].design, instance.catalogue, prices) == ()
    causes = {p.cause for o in found for p in price_split(found[0].design, o.design, instance.catalogue, prices)}
    assert causes <= set(Cause)
