"""Feeds that a DSP unit cannot drive for want of level at its input (R11): its greatest gain is not enough.

Which unit stands where, and what feeds it, is the search's to choose; so these are triples
that must not come together, not flows to be dropped. Several inputs of one channel on a unit
are each held to all that it feeds of that channel.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from planner.catalogue.records import Catalogue, DspUnit, PortGroup
from planner.demand.flows import AmplifierFlow, DspFlow, FeedFlow
from planner.demand.gear import DspChoice
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.line_reach import Steps

Path = tuple[PortGroup, PortGroup, DspUnit]

_Signal = tuple[int, str | None, Hashable]


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
        self._kinds, self._steps_of = kinds, steps_of
        self._amplifier_inlets: dict[tuple[Kind, Kind | None], list[Kind]] = {}
        for flow in amplifier_flows:
            self._amplifier_inlets.setdefault((flow.source, flow.out), []).append(flow.inlet)
        wanted = {choice.sku for choice in dsp_units}
        self._paths = {unit.sku: _paths(unit, kinds, catalogue) for unit in catalogue.dsp_units if unit.sku in wanted}

    def found(self, entries: Iterable[DspFlow], feeds: Iterable[FeedFlow]) -> tuple[Starved, ...]:
        """Every triple, in the order of the flows.

        Flows that levels cannot tell apart are looked at once for all of them.
        """
        alike: dict[_Signal, dict[Hashable, list[tuple[int, FeedFlow]]]] = {}
        for number, feed in enumerate(feeds):
            if feed.unit is not None:
                level = (feed.outlet.kind, feed.start, feed.inlets, self._steps_of(feed))
                signal = _signal(feed.unit, feed.feed.channel, feed.feed.carriers)
                alike.setdefault(signal, {}).setdefault(level, []).append((number, feed))
        known: dict[Hashable, tuple[tuple[str, int | None], ...]] = {}
        return tuple(
            starved
            for entry in entries
            if entry.outlet.kind.level
            for starved in self._of_entry(entry, alike.get(_signal(entry.unit, entry.bus, entry.carriers), {}), known)
        )

    def _of_entry(
        self,
        entry: DspFlow,
        alike: Mapping[Hashable, list[tuple[int, FeedFlow]]],
        known: dict[Hashable, tuple[tuple[str, int | None], ...]],
    ) -> Iterator[Starved]:
        numbered: list[tuple[int, Starved]] = []
        for level, feeds in alike.items():
            key = (entry.outlet.kind, entry.inlet, level)
            if key not in known:
                known[key] = tuple(self._units(entry, feeds[0][1]))
            numbered += [
                (number, Starved(entry, sku, feed, grade)) for number, feed in feeds for sku, grade in known[key]
            ]
        numbered.sort(key=lambda found: found[0])
        return (starved for _, starved in numbered)

    def _units(self, entry: DspFlow, feed: FeedFlow) -> Iterator[tuple[str, int | None]]:
        """The units that starve a feed, with its grade."""
        for sku, paths in self._paths.items():
            ways = paths.get((entry.inlet, feed.outlet.kind), ())
            grade = self._grade(entry, feed, ways)
            if ways and (grade is None or grade < self._kinds.best):
                yield sku, grade

    def _grade(self, entry: DspFlow, feed: FeedFlow, ways: tuple[Path, ...]) -> int | None:
        steps = self._steps_of(feed)
        grades = [
            self._kinds.grade_through(entry.outlet.kind, ways, feed.start, sink, steps) for sink in self._sinks(feed)
        ]
        return None if None in grades else min((g for g in grades if g is not None), default=self._kinds.best)

    def _sinks(self, feed: FeedFlow) -> Iterable[Kind]:
        """The input of the feed, or all inputs of amplifiers that it may be driven by: the worst counts."""
        if not feed.amplified:
            return (feed.inlet.kind,)
        outs = (inlet.amplifier_out for inlet in feed.inlets)
        return [kind for out in outs for kind in self._amplifier_inlets.get((feed.start, out), ())]


def _paths(unit: DspUnit, kinds: Kinds, catalogue: Catalogue) -> Mapping[tuple[Kind, Kind], tuple[Path, ...]]:
    """The port groups of a unit by the kinds that the search sees."""
    found: dict[tuple[Kind, Kind], tuple[Path, ...]] = {}
    for entry in catalogue.inputs(unit.sku):
        for leaving in catalogue.outputs(unit.sku):
            key = (kinds.of(entry), kinds.of(leaving))
            found[key] = (*found.get(key, ()), (entry, leaving, unit))
    return found


def _signal(unit: int, channel: str | None, carriers: Hashable) -> _Signal:
    """What a unit is brought: a channel, or where it is none that several share, that of some carriers."""
    return unit, channel, carriers if channel is None else None
