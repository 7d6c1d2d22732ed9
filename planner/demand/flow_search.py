"""Finds every flow that can matter, with its price, joints and conversions."""

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from typing import TypeVar

from planner.brief.records import Brief, Drive, Measure
from planner.demand.chains import Member, chains
from planner.demand.feeds import FeedClass, Inlet, by_dsp, entry_link, feed_link, most_units
from planner.demand.flows import AmplifierFlow, Chain, ChainLink, Cost, DriveFlow, DspFlow, FeedFlow, Mode, SplitFlow
from planner.demand.gear import AmplifierChoice, DspChoice
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.line_reach import Steps
from planner.demand.link_keys import chain_keys
from planner.demand.links import LinkKey, LinkTable
from planner.demand.loads import LoadSet
from planner.demand.outlets import Outlet
from planner.demand.splits import Split
from planner.demand.strains import NO_STRAIN, Strain, Strains

Flow = TypeVar("Flow", FeedFlow, ChainLink)


class FlowSearch:
    """The flows of one brief over the outlets, DSP units and splits that remain."""

    def __init__(
        self, brief: Brief, sets: tuple[LoadSet, ...], outlets: tuple[Outlet, ...], dsp_units: tuple[DspChoice, ...],
        amplifiers: tuple[AmplifierChoice, ...], feeds: tuple[FeedClass, ...],
        splits: Mapping[Kind, tuple[Split, ...]], links: LinkTable, kinds: Kinds,
    ) -> None:  # fmt: skip
        self._kinds = kinds
        self._brief, self._sets, self._feeds, self._links, self._splits = brief, sets, feeds, links, splits
        self._drives = brief.limits.drives
        self._internal_m = brief.rack.internal_m
        self._units = range(most_units(feeds, brief.limits.most_dsp_units) if dsp_units else 0)
        self._dsp_inlets = sorted({kind for d in dsp_units for kind in d.inlets})
        self._dsp_outlets = sorted({outlet for d in dsp_units for outlet in d.outlets})
        self._outlets = outlets
        self._amplifier_entries = sorted({(a.terminals, kind) for a in amplifiers for kind in a.inlets})
        self._weigh_joints = Measure.JOINTS in brief.measures
        self._strains = Strains(sets, kinds)
        self._drives_met: dict[object, int] = {}

    def feed_flows(self) -> tuple[FeedFlow, ...]:
        """From every outlet that may carry it into every feed, in every mode allowed."""
        return self._found

    @cached_property
    def _found(self) -> tuple[FeedFlow, ...]:
        return tuple(flow for feed in self._feeds for flow in self._into(feed))

    def dsp_load(self) -> tuple[int, int]:
        """The most signals, and the most feeds, that could pass through DSP units in all."""
        able = [feed for feed in self._feeds if self._by_dsp(feed)]
        buses = {feed.channel for feed in able if feed.channel is not None}
        single = {(f.set_name, m) for f in able if f.channel is None for m in f.members}
        ways = {(f.set_name, m): f.ways for f in able for m in f.members}
        return len(buses) + len(single), sum(ways.values())

    def dsp_flows(self) -> tuple[DspFlow, ...]:
        """From every line outlet of the processor into the inputs of every DSP unit."""
        signals = {(f.channel, f.carriers) for f in self._feeds if self._by_dsp(f)}
        found = []
        for bus, carriers in sorted(signals, key=lambda s: (s[0] or "", sorted(s[1]))):
            for unit in self._units:
                for outlet in sorted(o for o in carriers if not o.speaker):
                    for kind in self._dsp_inlets:
                        flow = self._dsp_flow(outlet, unit, kind, bus, carriers)
                        if flow is not None:
                            found.append(flow)
        return tuple(found)

    def split_flows(self) -> tuple[SplitFlow, ...]:
        """Every way to split an outlet that feeds a bus channel."""
        found = []
        channels = sorted({f.channel for f in self._feeds if f.channel is not None})
        for channel in channels:
            for outlet, unit in self._sources(channel):
                for split in self._splits.get(outlet.kind, ()):
                    found.append(_split_flow(outlet, unit, channel, split))
        return tuple(found)

    @cached_property
    def chains(self) -> tuple[Chain, ...]:
        """Every daisy chain that can matter."""
        if Drive.DAISY_CHAINED not in self._drives:
            return ()
        class_of = self._bass_class
        largest = self._brief.limits.largest_split
        return chains(self._chain_links(), class_of, largest, self._weigh_joints, self._strains.number)

    def steps_of(self, flow: FeedFlow) -> Steps:
        """The links of the daisy chain that a flow heads, as levels see them."""
        headed = self._headed_by.get(flow.feed.index, ())
        return next((strain.steps for _, strain in headed if strain.number == flow.strain), ())

    @cached_property
    def _bass_class(self) -> Mapping[Member, int]:
        """The feed class of every subwoofer, as every model that may serve."""
        return {(f.set_name, f.sku, index): f.index for f in self._feeds if f.bass for index in f.members}

    @cached_property
    def _headed_by(self) -> Mapping[int, tuple[tuple[int, Strain], ...]]:
        """By feed class: every size of the chains that it heads, with every strain of that size, once each."""
        headed: dict[int, dict[tuple[int, Strain], None]] = {}
        for chain in self.chains:
            shapes = headed.setdefault(self._bass_class[chain.members[0]], {})
            shapes[len(chain.members), self._strains.of(chain)] = None
        return {index: tuple(shapes) for index, shapes in headed.items()}

    def _chain_links(self) -> Iterator[ChainLink]:
        """Every link between two subwoofers of one channel, the best input for each only."""
        best: dict[tuple[object, ...], list[ChainLink]] = {}
        for source, sink, key in chain_keys(self._brief, self._sets, self._kinds):
            if not self._links.options(key):
                continue
            output = next(p for p in source[1].links if self._kinds.of(p) == key.source)
            into = next(p for p in sink[1].line if self._kinds.of(p) == key.sink)
            link = ChainLink(
                channel=source[2].channel,
                source=(source[0].name, source[1].sku, source[2].index),
                sink=(sink[0].name, sink[1].sku, sink[2].index),
                output=output.name,
                inlet=Inlet(key.sink),
                length_m=key.length_m,
                step=self._kinds.chain_step(output, into),
                cost=self._cost(key),
            )
            best.setdefault((link.source, link.sink), []).append(link)
        for rivals in best.values():
            yield from _undominated(rivals, self._weigh_joints)

    def _sources(self, channel: str) -> Iterator[tuple[Outlet, int | None]]:
        """Line outlets of the processor and of every DSP unit that may carry a channel."""
        yield from ((o, None) for o in self._outlets if not o.speaker and o.may_carry(channel))
        yield from ((o, unit) for unit in self._units for o in self._dsp_outlets)

    def _into(self, feed: FeedClass) -> Iterator[FeedFlow]:
        for outlet in sorted(feed.carriers):
            if feed.way is None or (outlet.crossover_ways >= feed.ways and not outlet.fixed):
                yield from self._from(outlet, None, feed)
        if self._by_dsp(feed):
            for outlet in self._dsp_outlets:
                if feed.way is None or outlet.crossover_ways >= feed.ways:
                    for unit in self._units:
                        yield from self._from(outlet, unit, feed)

    def _by_dsp(self, feed: FeedClass) -> bool:
        return bool(self._units) and by_dsp(feed)

    def drive_flows(self) -> tuple[DriveFlow, ...]:
        """From every amplifier that may drive it into every feed that a source of some kind leads to."""
        amplified = {flow.drive: flow for flow in self._found if flow.drive is not None}
        return tuple(
            DriveFlow(
                drive=drive,
                feed=flow.feed,
                start=flow.start,
                inlet=inlet,
                out=inlet.amplifier_out,
                cost=self._cost(feed_link(flow.start, inlet, flow.feed.length_m, isolable=False)),
            )
            for drive, flow in amplified.items()
            for inlet in flow.inlets
            if inlet.amplifier_out is not None
        )

    def amplifier_flows(self) -> tuple[AmplifierFlow, ...]:
        """From every kind of source that feeds an amplifier into every amplifier input it can reach."""
        wanted = {(f.start, f.feed.bass) for f in self._found if f.amplified}
        flows = []
        for source, bass in sorted(wanted):
            for out, entry in self._amplifier_entries:
                key = entry_link(source, entry, self._internal_m)
                if self._links.options(key):
                    cost = replace(self._cost(key), margin=self._kinds.grade(source, entry))
                    flows.append(AmplifierFlow(source=source, inlet=entry, out=out, bass=bass, cost=cost))
        return tuple(flows)

    def _from(self, outlet: Outlet, unit: int | None, feed: FeedClass) -> Iterator[FeedFlow]:
        """All flows from one outlet into one feed class."""
        if (unit is None and not outlet.speaker and outlet.jacks == 1) or unit is not None:
            yield from self._best(outlet, unit, feed, Mode.ALONE)
            if feed.bass and feed.channel is not None and feed.active:
                yield from self._headed(outlet, unit, feed)
        elif outlet.speaker:
            yield from self._best(outlet, unit, feed, Mode.ALONE)
        else:
            yield from self._mirrored(outlet, feed)
        if feed.channel is not None and not outlet.speaker:
            for leg in sorted({split.leg for split in self._splits.get(outlet.kind, ())}):
                yield from self._best(outlet, unit, feed, Mode.LEG, leg=leg)

    def _mirrored(self, outlet: Outlet, feed: FeedClass) -> Iterator[FeedFlow]:
        """One jack used alone, or one jack each with others (which is sharing an output)."""
        yield from self._best(outlet, None, feed, Mode.ALONE)
        if feed.active:
            yield from self._headed(outlet, None, feed)
        if Drive.SPLIT in self._drives:
            yield from self._best(outlet, None, feed, Mode.MIRROR)

    def _headed(self, outlet: Outlet, unit: int | None, feed: FeedClass) -> Iterator[FeedFlow]:
        """The feed as the head of each kind of daisy chain that it can head."""
        for size, strain in self._headed_by.get(feed.index, ()):
            yield from self._best(outlet, unit, feed, Mode.CHAIN, size=size, strain=strain)

    def _best(
        self, outlet: Outlet, unit: int | None, feed: FeedClass, mode: Mode,
        size: int = 1, leg: Kind | None = None, strain: Strain = NO_STRAIN,
    ) -> Iterator[FeedFlow]:  # fmt: skip
        """The flows by every inlet, less those beaten by another inlet of an active load; by amplifiers one for all."""
        if mode in (Mode.ALONE, Mode.CHAIN) and unit is None and Drive.DEDICATED not in self._drives:
            return
        start = leg or outlet.kind
        direct = outlet.kind if outlet.speaker else None
        ways_in = [inlet for inlet in feed.inlets if inlet.direct == direct]

        def flow(inlets: tuple[Inlet, ...], cost: Cost, drive: int | None = None) -> FeedFlow:
            return FeedFlow(
                outlet=outlet,
                unit=unit,
                feed=feed,
                inlets=inlets,
                mode=mode,
                size=size,
                strain=strain.number,
                leg=leg,
                drive=drive,
                cost=cost,
            )

        if feed.active:
            graded = ((inlet, self._kinds.grade(start, inlet.kind, strain.steps)) for inlet in ways_in)
            isolable = mode is not Mode.CHAIN
            able = ((inlet, feed_link(start, inlet, feed.length_m, isolable), margin) for inlet, margin in graded)
            flows = [
                flow((inlet,), replace(self._cost(key), margin=margin))
                for inlet, key, margin in able
                if margin is not None and self._links.options(key)
            ]
            yield from _undominated(flows, self._weigh_joints)
        elif direct is not None:
            keys = ((inlet, feed_link(start, inlet, feed.length_m, isolable=False)) for inlet in ways_in)
            yield from (flow((inlet,), self._cost(key)) for inlet, key in keys if self._links.options(key))
        else:
            for inlets in self._amplified(start, unit, feed, ways_in):
                number = self._drives_met.setdefault((feed.index, start, inlets), len(self._drives_met))
                yield flow(inlets, Cost(), number)

    def _amplified(
        self, start: Kind, unit: int | None, feed: FeedClass, ways_in: Iterable[Inlet]
    ) -> Iterator[tuple[Inlet, ...]]:
        """The ways in by amplifiers that a source reaches, all alike to whatever stands before them.

        Where the gain of a DSP unit may be too little for an amplifier, those of other inputs are apart.
        """
        apart: dict[Hashable, list[Inlet]] = {}
        for inlet in ways_in:
            entries = self._entries(start, inlet)
            if entries and self._links.options(feed_link(start, inlet, feed.length_m, isolable=False)):
                tells = unit is not None and self._kinds.gains_matter
                apart.setdefault(entries if tells else None, []).append(inlet)
        yield from (tuple(inlets) for inlets in apart.values())

    def _entries(self, start: Kind, inlet: Inlet) -> tuple[Kind, ...]:
        """The inputs of amplifiers, of those that drive a way in, that a lead from a source can reach."""
        entries = (entry for out, entry in self._amplifier_entries if out == inlet.amplifier_out)
        return tuple(e for e in entries if self._links.options(entry_link(start, e, self._internal_m)))

    def _dsp_flow(
        self, outlet: Outlet, unit: int, inlet: Kind, bus: str | None, carriers: frozenset[Outlet]
    ) -> DspFlow | None:
        key = entry_link(outlet.kind, inlet, self._internal_m)
        if not self._links.options(key):
            return None
        return DspFlow(outlet=outlet, unit=unit, inlet=inlet, bus=bus, carriers=carriers, cost=self._cost(key))

    def _cost(self, key: LinkKey) -> Cost:
        """What one link adds: its price and joints where they are known, itself where it is a choice."""
        price = self._links.price_minor(key)
        converts = int(not key.speaker and key.source.balanced is not key.sink.balanced)
        if price is None:
            return Cost(open_links=(key,), conversions=converts)
        return Cost(price_minor=price, conversions=converts, joints=self._links.options(key)[0].joints)


def _split_flow(outlet: Outlet, unit: int | None, channel: str, split: Split) -> SplitFlow:
    return SplitFlow(
        outlet=outlet,
        unit=unit,
        channel=channel,
        leg=split.leg,
        legs=split.legs,
        splitters=split.splitters,
        coupled=split.coupled,
        cost=Cost(price_minor=split.price_minor, conversions=split.conversions, joints=2 * split.boxes),
    )


def _undominated(rivals: list[Flow], weigh_joints: bool) -> list[Flow]:
    """Flows that differ only by inlet, less those that another beats in price and the rest."""
    kept: list[Flow] = []
    for flow in sorted(rivals, key=_rank):
        rivals_alike = [other for other in kept if _level_as_good(other, flow)]
        if flow.cost.open_links or not any(_covers(other.cost, flow.cost, weigh_joints) for other in rivals_alike):
            kept.append(flow)
    return kept


def _level_as_good(other: FeedFlow | ChainLink, flow: FeedFlow | ChainLink) -> bool:
    """Whether nothing that levels tell apart is worse: an input of level 0 is never driven less."""
    if isinstance(flow, ChainLink) and isinstance(other, ChainLink):
        return other.step == flow.step
    return other.inlet.kind.level in (0, flow.inlet.kind.level)


def _rank(flow: FeedFlow | ChainLink) -> tuple[bool, int, int, int, Kind]:
    cost = flow.cost
    return bool(cost.open_links), cost.price_minor, cost.conversions, cost.joints, flow.inlet.kind


def _covers(other: Cost, cost: Cost, weigh_joints: bool) -> bool:
    return (
        not other.open_links
        and other.price_minor <= cost.price_minor
        and other.conversions <= cost.conversions
        and (not weigh_joints or other.joints <= cost.joints)
    )
