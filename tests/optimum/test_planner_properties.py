"""What must hold of the cheapest price and of the trade-off set, whatever the instance."""

from collections.abc import Sequence
from dataclasses import fields, replace
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.brief.records import Brief, Drive, Limits, Measure
from planner.catalogue.records import Catalogue
from planner.plan import options
from tests.optimum.seeds import SMALL
from tests.oracle.instance import Instance
from tests.oracle.instances import seeded, small
from tests.oracle.trade_off import own_cell

Point = tuple[int, tuple[tuple[Measure, int], ...]]


chances = st.randoms(use_true_random=False)
instances = st.sampled_from(SMALL).map(lambda seed: seeded(small, seed))


def points(brief: Brief, catalogue: Catalogue, instance: Instance) -> set[Point]:
    """The trade-off set as prices with the other measures chosen."""
    result = options(brief, catalogue, instance.house)
    assert not result.unproven
    return {
        (option.measures.price_minor, tuple(own_cell(option.measures, brief.measures).items()))
        for option in result.options
    }


def cheapest(brief: Brief, catalogue: Catalogue, instance: Instance) -> float:
    """The least price in minor units; infinity where there is no design."""
    return min((price for price, _ in points(brief, catalogue, instance)), default=float("inf"))


def only_price(instance: Instance) -> Instance:
    return replace(instance, brief=replace(instance.brief, measures=(Measure.PRICE,)))


@settings(max_examples=8)
@given(instances, chances)
def test_the_order_of_rows_changes_nothing(instance: Instance, rng: Random) -> None:
    """The trade-off set is the same set, whatever the order of records, port groups and offers."""
    shuffled = _shuffled(instance.catalogue, rng)
    assert points(instance.brief, shuffled, instance) == points(instance.brief, instance.catalogue, instance)


@settings(max_examples=12)
@given(instances.map(only_price), chances)
def test_an_extra_device_never_raises_the_cheapest_price(instance: Instance, rng: Random) -> None:
    catalogue = instance.catalogue
    kinds = (catalogue.processors, catalogue.cards, catalogue.dsp_units, catalogue.amplifiers, catalogue.splitters)
    dropped = rng.choice([device for kind in kinds for device in kind])
    fewer = _without(catalogue, dropped.sku)
    brief = replace(instance.brief, owned=tuple(o for o in instance.brief.owned if o.sku != dropped.sku))
    brief = replace(brief, excluded=tuple(sku for sku in brief.excluded if sku != dropped.sku))
    assert cheapest(brief, catalogue, instance) <= cheapest(brief, fewer, instance)


@settings(max_examples=12)
@given(instances.map(only_price), chances)
def test_a_tighter_limit_never_lowers_the_cheapest_price(instance: Instance, rng: Random) -> None:
    brief = instance.brief
    tighter = replace(brief, limits=rng.choice(_tightened(brief.limits)))
    if brief.rack.units and rng.random() < 0.2:
        tighter = replace(brief, rack=replace(brief.rack, units=brief.rack.units - 1))
    before, after = cheapest(brief, instance.catalogue, instance), cheapest(tighter, instance.catalogue, instance)
    assert after >= before


def _shuffled(catalogue: Catalogue, rng: Random) -> Catalogue:
    """The same records in another order."""

    def mixed(records: Sequence[Any]) -> tuple[Any, ...]:
        return tuple(rng.sample(records, len(records)))

    found: dict[str, Any] = {kind: mixed(records) for kind, records in _records(catalogue).items()}
    found["ports"] = {sku: mixed(groups) for sku, groups in mixed(list(catalogue.ports.items()))}
    found["offers"] = {sku: mixed(offers) for sku, offers in mixed(list(catalogue.offers.items()))}
    return Catalogue(**found)


def _without(catalogue: Catalogue, sku: str) -> Catalogue:
    """The catalogue without one of its items."""
    kinds = {kind: tuple(r for r in records if r.sku != sku) for kind, records in _records(catalogue).items()}
    ports = {device: groups for device, groups in catalogue.ports.items() if device != sku}
    offers = {item: prices for item, prices in catalogue.offers.items() if item != sku}
    return Catalogue(**kinds, ports=ports, offers=offers)


def _records(catalogue: Catalogue) -> dict[str, Any]:
    """The tuples of records by the name of their kind."""
    names = [field.name for field in fields(Catalogue) if field.name not in ("ports", "offers")]
    return {name: getattr(catalogue, name) for name in names}


def _tightened(limits: Limits) -> list[Limits]:
    """The limits with one of them a step tighter."""
    found = [
        replace(limits, balanced_only=True),
        replace(limits, least_independent_subwoofers=limits.least_independent_subwoofers + 1),
        replace(limits, least_control_groups=limits.least_control_groups + 1),
        replace(limits, spare_outputs=min(limits.spare_outputs + 1, limits.spare_ceiling)),
        replace(limits, most_subwoofers_lost=1),
        replace(limits, filters_per_subwoofer=limits.filters_per_subwoofer + 5),
        replace(limits, largest_split=max(1, limits.largest_split - 1)),
        replace(limits, most_dsp_units=max(0, limits.most_dsp_units - 1)),
    ]
    return found + [replace(limits, drives=limits.drives - {drive}) for drive in Drive if len(limits.drives) > 1]
