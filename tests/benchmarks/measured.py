"""How long the planner takes on a brief, and how long another way to ask for the cheapest design."""

import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from typing import Any, TypeVar

from planner.brief.records import Brief, Measure
from planner.catalogue.records import Catalogue
from planner.demand.build import build_demand
from planner.house import House
from planner.options import Result
from planner.placement import member_positions
from planner.plan import options
from tests.oracle.instance import Instance
from tests.oracle.milp import Cheapest

LONG_ENOUGH_S = 3600.0
KINDS = (
    "processors", "cards", "dsp_units", "amplifiers", "loudspeakers", "subwoofers",
    "leads", "adapters", "splitters", "bulk_cables", "connectors",
)  # fmt: skip
T = TypeVar("T")


@dataclass(frozen=True, kw_only=True, slots=True)
class Measured:
    """One size. CPU seconds add up both workers; `ratio` is the programme's over the planner's.

    The cheapest design is asked of both over the gear of the trade-off set alone: the
    programme has a variable for every physical choice, and the whole catalogue is beyond it.
    """

    size: str
    brief: str
    options: int
    demand_cpu_seconds: float
    set_seconds: float
    set_cpu_seconds: float
    cheapest_minor: int
    cheapest_planner_cpu_seconds: float
    cheapest_programme_cpu_seconds: float
    ratio: float

    def tree(self) -> dict[str, Any]:
        """As JSON takes it."""
        return asdict(self)


def measured(size: str, name: str, brief: Brief, catalogue: Catalogue, house: House) -> Measured:
    """Takes the times of one brief. Raises AssertionError where the two ways find different prices."""
    demand_cpu_s, _ = timed(lambda: build_demand(brief, catalogue, house))
    started = time.perf_counter()
    set_cpu_s, result = timed(lambda: options(brief, catalogue, house, time_limit_s=LONG_ENOUGH_S))
    set_s = time.perf_counter() - started
    assert not result.unproven
    instance = shortened(name, brief, catalogue, house, result)
    planner_cpu_s, planned = timed(
        lambda: options(
            replace(instance.brief, measures=(Measure.PRICE,)), instance.catalogue, house, time_limit_s=LONG_ENOUGH_S
        )
    )
    programme_cpu_s, price_minor = timed(lambda: Cheapest(instance).price_minor())
    prices = [found.options[0].measures.price_minor for found in (result, planned)]
    assert prices == [price_minor, price_minor], (prices, price_minor)
    return Measured(
        size=size,
        brief=name,
        options=len(result.options),
        demand_cpu_seconds=demand_cpu_s,
        set_seconds=set_s,
        set_cpu_seconds=set_cpu_s,
        cheapest_minor=prices[0],
        cheapest_planner_cpu_seconds=planner_cpu_s,
        cheapest_programme_cpu_seconds=programme_cpu_s,
        ratio=programme_cpu_s / planner_cpu_s,
    )


def timed(work: Callable[[], T]) -> tuple[float, T]:
    """CPU seconds of this process, and what came of the work."""
    started = time.process_time()
    result = work()
    return time.process_time() - started, result


def shortened(name: str, brief: Brief, catalogue: Catalogue, house: House, result: Result) -> Instance:
    """The same brief over the gear that its options buy, with every place and model spelt out."""
    bought = {purchase.sku for option in result.options for purchase in option.design.purchases}
    kept: dict[str, Any] = {kind: tuple(i for i in getattr(catalogue, kind) if i.sku in bought) for kind in KINDS}
    positions, sets = member_positions(brief), {s.name: s for s in build_demand(brief, catalogue, house).sets}

    def models(set_name: str) -> tuple[str, ...]:
        return tuple(model.sku for model in sets[set_name].models if model.sku in bought)

    loudspeakers = tuple(
        replace(
            entry,
            candidates=models(entry.name),
            target_spl_db=None,
            placements=tuple(replace(p, position=positions[entry.name, i]) for i, p in enumerate(entry.placements)),
        )
        for entry in brief.loudspeakers
    )
    spelt_out = replace(
        brief,
        loudspeakers=loudspeakers,
        subwoofers=tuple(replace(entry, candidates=models(entry.name)) for entry in brief.subwoofers),
        excluded=(),
        owned=tuple(entry for entry in brief.owned if entry.sku in bought),
    )
    return Instance(name=name, brief=spelt_out, catalogue=replace(catalogue, **kept), house=house)
