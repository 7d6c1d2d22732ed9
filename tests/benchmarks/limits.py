"""What the limits of the physics cost the search: one brief without them, with them, and with M7 and M8 weighed."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from functools import partial
from typing import Any

from planner.brief.records import Brief, Limits, Measure
from planner.catalogue.records import Catalogue
from planner.demand.build import build_demand
from planner.house import House
from planner.plan import options
from tests.benchmarks.timed import LONG_ENOUGH_S, timed


@dataclass(frozen=True, kw_only=True, slots=True)
class Weighed:
    """CPU seconds of the whole set of one brief, and over those without any limit of the physics."""

    brief: str
    asked: str
    options: int
    set_cpu_seconds: float
    ratio: float

    def tree(self) -> dict[str, Any]:
        """As JSON takes it."""
        return asdict(self)


def limits_weighed(name: str, brief: Brief, catalogue: Catalogue, house: House) -> Iterator[Weighed]:
    """The times of one brief, in one run, so that their ratios can be compared between machines."""
    build_demand(brief, catalogue, house)  # so that the first is not charged for what is done once a process
    free_s: float | None = None
    for asked, variant in _variants(brief):
        took, result = timed(partial(options, variant, catalogue, house, time_limit_s=LONG_ENOUGH_S))
        assert not result.unproven
        free_s = took.cpu_s if free_s is None else free_s
        yield Weighed(
            brief=name,
            asked=asked,
            options=len(result.options),
            set_cpu_seconds=took.cpu_s,
            ratio=took.cpu_s / free_s,
        )


def _variants(brief: Brief) -> Iterator[tuple[str, Brief]]:
    """The first is what the others are held against."""
    free = replace(brief.limits, physical=frozenset(), least_margin_db=None, most_earth_loops=None)
    held = replace(free, physical=Limits().physical)
    measures = tuple(m for m in brief.measures if m not in (Measure.EARTH_LOOPS, Measure.LEAST_MARGIN))
    yield "no limits", replace(brief, limits=free, measures=measures)
    yield "limits", replace(brief, limits=held, measures=measures)
    yield "limits, loops weighed", replace(brief, limits=held, measures=(*measures, Measure.EARTH_LOOPS))
    yield "limits, margin weighed", replace(brief, limits=held, measures=(*measures, Measure.LEAST_MARGIN))
