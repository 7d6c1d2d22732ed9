"""Turns counts into a design: every unit named, every jack taken, every lead made.

Nothing is decided here that changes a measure; all orders are fixed, so equal counts give
the equal design.
"""

from collections import defaultdict

from planner.assembly.amplifiers import AmplifierPlan
from planner.assembly.bill import LeadDispenser, labour, purchases
from planner.assembly.dsp_units import DspJacks, Signal
from planner.assembly.jacks import ProcessorJacks, group_of_kind
from planner.assembly.members import Chains, MemberKey, Placed, placed_feeds
from planner.assembly.splitters import SplitterTree
from planner.assembly.units import load_units, processor_units
from planner.catalogue.records import Catalogue
from planner.checks.sockets import ISOLATOR_INPUT, ISOLATOR_OUTPUT
from planner.demand.build import Demand
from planner.demand.counts import Counts
from planner.demand.feeds import entry_link, feed_link
from planner.demand.flows import ChainLink, DspFlow, Mode, SplitFlow
from planner.demand.leads import Kind
from planner.demand.links import LinkKey
from planner.demand.outlets import Outlet
from planner.design import Connection, Design, Jack, Unit, UnitKind

Source = tuple[Outlet, int | None]


def assemble(demand: Demand, counts: Counts, catalogue: Catalogue) -> Design:
    """The design that the counts describe."""
    demand = demand.with_processor(demand.processors[counts.processor])
    return _Assembly(demand, counts, catalogue).design()


class _Assembly:
    def __init__(self, demand: Demand, counts: Counts, catalogue: Catalogue) -> None:
        self._demand, self._counts, self._catalogue = demand, counts, catalogue
        choice = demand.processors[0]
        devices = processor_units(choice)
        self._loads = load_units(demand, counts)
        self._chains = Chains(demand, counts)
        self._placed = placed_feeds(demand, counts, self._chains)
        self._jacks = ProcessorJacks(choice, tuple(u.id for u in devices), catalogue)
        self._leads = LeadDispenser(demand, counts)
        self._amplifiers = AmplifierPlan(demand, counts, self._placed, catalogue)
        by_sku = {d.sku: d for d in demand.dsp_units}
        numbered = [(number, sku) for number, (_, sku) in enumerate(sorted(counts.units), start=1)]
        self._dsp = {
            unit: DspJacks(f"DSP {number}", by_sku[sku], demand.kinds, catalogue)
            for (unit, _), (number, sku) in zip(sorted(counts.units), numbered, strict=True)
        }
        dsp_units = [Unit(id=f"DSP {number}", sku=sku, kind=UnitKind.DSP) for number, sku in numbered]
        self._splitters = SplitterTree(catalogue)
        self._units = [*devices, *dsp_units, *self._amplifiers.units]
        self._isolators: list[Unit] = []
        self._connections: list[Connection] = []

    def design(self) -> Design:
        self._feed_dsp_units()
        self._whole_outputs()
        self._shared_outputs()
        self._chain_links()
        units = (*self._units, *self._splitters.units, *self._isolators, *self._loads.values())
        connections = tuple(self._connections)
        return Design(
            units=units,
            connections=connections,
            routes=tuple(route for unit in sorted(self._dsp) for route in self._dsp[unit].routes),
            purchases=purchases(units, connections, self._demand, self._counts),
            labour=labour(units, connections, self._demand),
            currency=self._demand.prices.currency,
        )

    def _feed_dsp_units(self) -> None:
        """Leads into DSP units: shared channels as counted, others one for each member fed from there."""
        single: dict[tuple[int, object], list[DspFlow]] = defaultdict(list)
        for flow, n in zip(self._demand.dsp_flows, self._counts.dsp_in, strict=True):
            for _ in range(n):
                if flow.bus is not None:
                    self._into_dsp(flow, flow.bus, flow.bus)
                else:
                    single[flow.unit, flow.carriers].append(flow)
        for feed in self._placed:
            flow_in = feed.flow
            if flow_in.unit is not None and flow_in.feed.channel is None and flow_in.feed.way in (None, 1):
                flow = single[flow_in.unit, flow_in.feed.carriers].pop(0)
                self._into_dsp(flow, feed.channel, (feed.member[0], feed.member[2]))

    def _into_dsp(self, flow: DspFlow, channel: str, signal: Signal) -> None:
        source = (
            self._jacks.take_group(flow.outlet)[0] if flow.outlet.jacks > 1 else self._jacks.take(flow.outlet, channel)
        )
        sink = self._dsp[flow.unit].take_in(flow.inlet, signal)
        key = entry_link(flow.outlet.kind, flow.inlet, self._demand.brief.rack.internal_m)
        self._connect(channel, source, sink, key, channel in self._demand.bass_channels)

    def _whole_outputs(self) -> None:
        """Outputs that feed one feed, or the head of a chain."""
        for number, feed in enumerate(self._placed):
            flow = feed.flow
            if flow.mode in (Mode.ALONE, Mode.CHAIN):
                jack = self._output(flow.outlet, flow.unit, feed.channel, _signal(feed))
                self._reach(jack, flow.outlet.kind, number, feed)

    def _output(self, outlet: Outlet, unit: int | None, channel: str, signal: Signal) -> Jack:
        if unit is not None:
            return self._dsp[unit].give_out(outlet, signal)
        if outlet.jacks > 1:
            return self._jacks.take_group(outlet)[0]
        return self._jacks.take(outlet, channel)

    def _shared_outputs(self) -> None:
        """Splits and mirrored groups, outlet by outlet and channel by channel."""
        waiting: dict[tuple[Source, str, Kind | None], list[tuple[int, Placed]]] = defaultdict(list)
        for number, feed in enumerate(self._placed):
            if feed.flow.mode in (Mode.LEG, Mode.MIRROR):
                key = ((feed.flow.outlet, feed.flow.unit), feed.channel, feed.flow.leg)
                waiting[key].append((number, feed))
        mirrored: dict[tuple[Outlet, str], list[Jack]] = {}
        for split, n in zip(self._demand.split_flows, self._counts.split, strict=True):
            for _ in range(n):
                jack = self._shared_jack(split.outlet, split.unit, split.channel, mirrored)
                self._split(jack, split, waiting[(split.outlet, split.unit), split.channel, split.leg])
        for ((outlet, unit), channel, leg), feeds in waiting.items():
            for number, feed in feeds if leg is None else ():
                jack = self._shared_jack(outlet, unit, channel, mirrored)
                self._reach(jack, outlet.kind, number, feed)

    def _shared_jack(
        self, outlet: Outlet, unit: int | None, channel: str, mirrored: dict[tuple[Outlet, str], list[Jack]]
    ) -> Jack:
        if outlet.jacks == 1:
            return self._output(outlet, unit, channel, channel)
        if (outlet, channel) not in mirrored:
            mirrored[outlet, channel] = self._jacks.take_group(outlet)
        return mirrored[outlet, channel].pop(0)

    def _split(self, jack: Jack, split: SplitFlow, waiting: list[tuple[int, Placed]]) -> None:
        plugs, legs = self._splitters.grow(jack, split)
        self._connections += plugs
        for leg in legs:
            number, feed = waiting.pop(0)
            self._reach(leg, split.leg, number, feed)

    def _reach(self, jack: Jack, kind: Kind, number: int, feed: Placed) -> None:
        """From an output jack or a leg to a feed, through its amplifier where it has one."""
        cls = feed.flow.feed
        inlet = self._amplifiers.inlet(number) if feed.flow.amplified else feed.flow.inlet
        load = self._loads[feed.member]
        length = self._length(feed.member)
        bass, way = cls.bass, cls.way
        inputs = self._catalogue.inputs(load.sku)
        if cls.active:
            group = group_of_kind(inputs, inlet.kind, self._demand.kinds)
            last = feed_link(kind, inlet, length, isolable=feed.flow.mode is not Mode.CHAIN)
            self._connect(feed.channel, jack, Jack(load.id, group.name, 1), last, bass)
            return
        terminals = self._terminals(load, way, inlet.kind)
        last = feed_link(kind, inlet, length, isolable=False)
        if inlet.amplifier_out is None:
            self._connect(feed.channel, jack, terminals, last, bass, way)
            return
        channel = self._amplifiers.channel(number)
        entry = entry_link(kind, self._amplifiers.entry(number), self._demand.brief.rack.internal_m)
        self._connect(feed.channel, jack, channel.entry, entry, bass, way)
        self._connect(feed.channel, channel.terminals, terminals, last, bass, way)

    def _terminals(self, load: Unit, way: int | None, kind: Kind) -> Jack:
        model = next(m for s in self._demand.sets for m in s.models if m.sku == load.sku)
        if way is not None:
            return Jack(load.id, model.terminals[way - 1].name, 1)
        return Jack(load.id, group_of_kind(model.terminals, kind, self._demand.kinds).name, 1)

    def _length(self, member: MemberKey) -> float:
        return next(s.members[member[2]].from_rack_m for s in self._demand.sets if s.name == member[0])

    def _chain_links(self) -> None:
        for feed in self._placed:
            for link in self._chains.links(feed.member):
                self._chain_link(link)

    def _chain_link(self, link: ChainLink) -> None:
        source, sink = self._loads[link.source], self._loads[link.sink]
        output = next(p for p in self._catalogue.links(source.sku) if p.name == link.output)
        group = group_of_kind(self._catalogue.inputs(sink.sku), link.inlet.kind, self._demand.kinds)
        self._connect(
            link.channel, Jack(source.id, link.output, 1), Jack(sink.id, group.name, 1),
            LinkKey(self._demand.kinds.of(output), link.inlet.kind, link.length_m), True,
        )  # fmt: skip

    def _connect(
        self, channel: str, source: Jack, sink: Jack, key: LinkKey, bass: bool, way: int | None = None
    ) -> None:
        lead = self._leads.take(key, bass)
        if lead.isolated is None:
            self._connections.append(Connection(channel=channel, source=source, sink=sink, lead=lead.build, way=way))
            return
        box = Unit(id=f"Isolator {len(self._isolators) + 1}", sku=lead.isolated.sku, kind=UnitKind.ISOLATOR)
        self._isolators.append(box)
        ends = (
            (source, Jack(box.id, ISOLATOR_INPUT, 1), lead.build),
            (Jack(box.id, ISOLATOR_OUTPUT, 1), sink, lead.isolated.beyond),
        )
        self._connections += [Connection(channel=channel, source=a, sink=b, lead=c, way=way) for a, b, c in ends]


def _signal(feed: Placed) -> Signal:
    """What a DSP unit knows the feed's signal by."""
    return feed.channel if feed.flow.feed.channel is not None else (feed.member[0], feed.member[2])
