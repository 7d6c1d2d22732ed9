"""Feeds that a DSP unit cannot drive for want of level at its input (R11): its greatest gain is not enough.

Which unit stands where, and what feeds it, is the search's to choose; so these are triples
that must not come together, not flows to be dropped. Several inputs of one channel on a unit
are each held to all that it feeds of that channel.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from planner.catalogue.records import Catalogue, DspUnit, PortGroup
from planner.demand.flows import AmplifierFlow, DspFlow, FeedFlow
from planner.demand.gear import DspChoice
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.line_reach import Steps

Path = tuple[PortGroup, PortGroup, DspUnit]


@dataclass(frozen=True, slots=True)
class Starved:
    """`entry` into a unit that is `sku` leaves `feed` with this grade of margin, None: not driven at all."""

    entry: DspFlow
    sku: str
    feed: FeedFlow
    grade: int | None


class Starvation:
    """Finds all triples of one demand."""

    def __init__(
        self,
        kinds: Kinds,
        catalogue: Catalogue,
        dsp_units: Iterable[DspChoice],
        steps_of: Callable[[FeedFlow], Steps],
        amplifier_flows: Iterable[AmplifierFlow],
    ) -> None:
        self._kinds, self._steps_of, self._amplifier_flows = kinds, steps_of, tuple(amplifier_flows)
        wanted = {choice.sku for choice in dsp_units}
        self._paths = {unit.sku: _paths(unit, kinds, catalogue) for unit in catalogue.dsp_units if unit.sku in wanted}

    def found(self, entries: Iterable[DspFlow], feeds: Iterable[FeedFlow]) -> tuple[Starved, ...]:
        """Every triple, in the order of the flows."""
        feeds = tuple(flow for flow in feeds if flow.unit is not None)
        return tuple(
            starved
            for entry in entries
            if entry.outlet.kind.level
            for feed in feeds
            if _same_signal(entry, feed)
            for starved in self._of(entry, feed)
        )

    def _of(self, entry: DspFlow, feed: FeedFlow) -> Iterator[Starved]:
        for sku, paths in self._paths.items():
            ways = paths.get((entry.inlet, feed.outlet.kind), ())
            grade = self._grade(entry, feed, ways)
            if ways and (grade is None or grade < self._kinds.best):
                yield Starved(entry, sku, feed, grade)

    def _grade(self, entry: DspFlow, feed: FeedFlow, ways: tuple[Path, ...]) -> int | None:
        steps = self._steps_of(feed)
        grades = [
            self._kinds.grade_through(entry.outlet.kind, ways, feed.start, sink, steps) for sink in self._sinks(feed)
        ]
        return None if None in grades else min((g for g in grades if g is not None), default=self._kinds.best)

    def _sinks(self, feed: FeedFlow) -> Iterable[Kind]:
        """The input of the feed, or all inputs of amplifiers that it may be driven by: the worst counts."""
        if feed.inlet.amplifier_out is None:
            return (feed.inlet.kind,)
        return [
            flow.inlet
            for flow in self._amplifier_flows
            if (flow.source, flow.out) == (feed.start, feed.inlet.amplifier_out)
        ]


def _paths(unit: DspUnit, kinds: Kinds, catalogue: Catalogue) -> Mapping[tuple[Kind, Kind], tuple[Path, ...]]:
    """The port groups of a unit by the kinds that the search sees."""
    found: dict[tuple[Kind, Kind], tuple[Path, ...]] = {}
    for entry in catalogue.inputs(unit.sku):
        for leaving in catalogue.outputs(unit.sku):
            key = (kinds.of(entry), kinds.of(leaving))
            found[key] = (*found.get(key, ()), (entry, leaving, unit))
    return found


def _same_signal(entry: DspFlow, feed: FeedFlow) -> bool:
    if entry.unit != feed.unit or entry.bus != feed.feed.channel:
        return False
    return entry.bus is not None or entry.carriers == feed.feed.carriers
