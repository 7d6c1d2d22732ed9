"""Our own answer to one size: the demand, the single cheapest, and the whole trade-off set."""

import cProfile
import pstats
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from functools import partial
from typing import Any

from planner.brief.records import Brief, Measure
from planner.catalogue.records import Catalogue
from planner.demand.build import build_demand
from planner.design import Measures
from planner.house import House
from planner.options import Result, Status
from planner.plan import options
from tests.benchmarks.sizes import Case
from tests.benchmarks.timed import Took, most_memory_mb, timed
from tests.plan.demo import demo_result


@dataclass(frozen=True, kw_only=True, slots=True)
class Ours:
    """What our search took, each from nothing. The set's seconds hold its verification, physics and bass too.

    `status` is that of the whole set; `measures` those of its options, cheapest first.
    """

    status: Status
    cheapest_minor: int | None
    cheapest_settled: bool
    measures: tuple[Measures, ...]
    demand: Took
    cheapest: Took
    set: Took
    memory_mb: float

    @property
    def settled(self) -> bool:
        """Whether the whole set is proven."""
        return self.status is Status.PROVEN

    def tree(self) -> dict[str, Any]:
        """As JSON takes it; of the measures only how many there are."""
        entry = asdict(self)
        entry["options"] = len(entry.pop("measures"))
        return {**entry, "status": self.status.value}


@dataclass(frozen=True, kw_only=True, slots=True)
class Asking:
    """Measures a case within a time limit; can be sent to another process."""

    time_limit_s: float

    def __call__(self, case: Case) -> Ours:
        """Every question from nothing; a small brief first, so that none is charged for what is done once a process."""
        warm_up()
        ask = partial(_answered, catalogue=case.catalogue, house=case.house, time_limit_s=self.time_limit_s)
        demand, _ = timed(lambda: build_demand(case.brief, case.catalogue, case.house))
        cheapest, one = timed(lambda: ask(replace(case.brief, measures=(Measure.PRICE,))))
        whole, every = timed(lambda: ask(case.brief))
        prices = {result.options[0].measures.price_minor for result in (one, every) if result.options}
        if one.status is every.status is Status.PROVEN:
            assert len(prices) == 1, f"{case.name}: the cheapest alone and that of the set differ: {prices}"
        return Ours(
            status=every.status,
            cheapest_minor=min(prices, default=None),
            cheapest_settled=one.status is Status.PROVEN,
            measures=tuple(option.measures for option in every.options),
            demand=demand,
            cheapest=cheapest,
            set=whole,
            memory_mb=most_memory_mb(),
        )


def profile(case: Case, time_limit_s: float, show: Callable[[pstats.Stats], None]) -> None:
    """Runs the whole set under the profiler. It sees one thread; what the search does in its workers it does not."""
    warm_up()
    profiler = cProfile.Profile()
    profiler.runcall(_answered, case.brief, catalogue=case.catalogue, house=case.house, time_limit_s=time_limit_s)
    show(pstats.Stats(profiler))


def warm_up() -> None:
    """Has a process load all that an answer needs, by answering a brief of one loudspeaker set."""
    demo_result("desk-no-subwoofer")


def _answered(brief: Brief, *, catalogue: Catalogue, house: House, time_limit_s: float) -> Result:
    return options(brief, catalogue, house, time_limit_s=time_limit_s)
