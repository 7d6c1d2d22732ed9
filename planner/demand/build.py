"""Brief and catalogue turned into what the allocation must decide on."""

from collections.abc import Callable, Collection, Hashable, Mapping
from dataclasses import dataclass, replace
from operator import eq

from planner.brief.records import Brief, Drive, Measure
from planner.catalogue.records import Catalogue, PortGroup
from planner.contacts import SPEAKER_LEVEL, Contact
from planner.costing import PriceList
from planner.demand.bass_levels import BassLevels
from planner.demand.bass_targets import BassTarget, bass_targets
from planner.demand.feeds import FeedClass, Inlet, SpeakerSources, feed_classes, feed_link, inlets_of, most_units
from planner.demand.flow_search import FlowSearch
from planner.demand.flows import AmplifierFlow, Chain, DriveFlow, DspFlow, FeedFlow, SplitFlow
from planner.demand.gear import (
    AmplifierChoice,
    DspChoice,
    Matters,
    ProcessorChoice,
    amplifier_choices,
    dsp_choices,
    processor_choices,
    undominated_amplifiers,
    undominated_dsp,
    undominated_processors,
)
from planner.demand.isolation import Isolation, loops_matter
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind, LeadMaker
from planner.demand.link_keys import link_keys
from planner.demand.link_pruning import LinkPruning
from planner.demand.links import LinkKey, LinkTable
from planner.demand.loads import LoadSet, Member, Model, linked_models, load_sets
from planner.demand.model_choice import StandIn, undominated_sets
from planner.demand.outlets import Outlet, View
from planner.demand.passive_feeds import Cables, PassiveFeeds
from planner.demand.shelf import Shelf
from planner.demand.splits import Split, splits_of
from planner.demand.starvation import Starvation, Starved
from planner.demand.telling_apart import kinds_of
from planner.demand.timing import Timing
from planner.house import House
from planner.placement import member_positions

ModelKey = tuple[str, str]  # set name, model sku


@dataclass(frozen=True, kw_only=True, slots=True)
class Demand:
    """All that may be chosen, and what it costs; no choice is made yet."""

    brief: Brief
    shelf: Shelf
    prices: PriceList
    sets: tuple[LoadSet, ...]
    processors: tuple[ProcessorChoice, ...]
    outlets: tuple[Outlet, ...]
    dsp_units: tuple[DspChoice, ...]
    amplifiers: tuple[AmplifierChoice, ...]
    feeds: tuple[FeedClass, ...]
    feed_flows: tuple[FeedFlow, ...]
    drive_flows: tuple[DriveFlow, ...]
    amplifier_flows: tuple[AmplifierFlow, ...]
    dsp_flows: tuple[DspFlow, ...]
    split_flows: tuple[SplitFlow, ...]
    chains: tuple[Chain, ...]
    links: LinkTable
    isolation: Isolation
    kinds: Kinds
    starved: tuple[Starved, ...]
    timing: Timing
    bass_targets: tuple[BassTarget, ...]

    @property
    def possible(self) -> bool:
        """Whether there is a processor at all, and a model for every set."""
        return bool(self.processors) and all(s.models for s in self.sets)

    def with_processor(self, choice: ProcessorChoice) -> "Demand":
        """The same demand with one processor only, and the flows that it can carry."""
        # flows hold the very outlets that the demand lists; these take long to compare
        carried = {id(outlet) for outlet in self.outlets if outlet in choice.outlets}
        feed_flows = tuple(f for f in self.feed_flows if f.unit is not None or id(f.outlet) in carried)
        drives = {f.drive for f in feed_flows if f.amplified}
        return replace(
            self,
            processors=(choice,),
            feed_flows=feed_flows,
            drive_flows=tuple(f for f in self.drive_flows if f.drive in drives),
            dsp_flows=tuple(f for f in self.dsp_flows if id(f.outlet) in carried),
            split_flows=tuple(f for f in self.split_flows if f.unit is not None or id(f.outlet) in carried),
            starved=tuple(s for s in self.starved if id(s.entry.outlet) in carried),
        )

    def without(self, models: Collection[ModelKey]) -> "Demand":
        """The same demand without some models of its sets, and without the flows that only those need."""
        gone = frozenset(models)
        if not gone:
            return self
        feeds = tuple(f for f in self.feeds if (f.set_name, f.sku) not in gone)
        units = range(most_units(feeds, self.brief.limits.most_dsp_units))
        kept = {feed.index for feed in feeds}
        buses = {feed.channel for feed in feeds}
        feed_flows = tuple(f for f in self.feed_flows if f.feed.index in kept and (f.unit is None or f.unit in units))
        drives = {f.drive for f in feed_flows if f.amplified}
        chains = tuple(c for c in self.chains if not any((name, sku) in gone for name, sku, _ in c.members))
        dsp_flows = tuple(f for f in self.dsp_flows if f.unit in units and (f.bus is None or f.bus in buses))
        entries = {id(flow) for flow in (*feed_flows, *dsp_flows)}
        return replace(
            self,
            sets=tuple(replace(s, models=tuple(m for m in s.models if (s.name, m.sku) not in gone)) for s in self.sets),
            feeds=feeds,
            feed_flows=feed_flows,
            drive_flows=tuple(f for f in self.drive_flows if f.drive in drives),
            dsp_flows=dsp_flows,
            split_flows=tuple(
                f for f in self.split_flows if f.channel in buses and (f.unit is None or f.unit in units)
            ),
            chains=chains,
            starved=tuple(s for s in self.starved if id(s.entry) in entries and id(s.feed) in entries),
            bass_targets=tuple(target.without(gone) for target in self.bass_targets),
        )

    @property
    def units(self) -> range:
        """The DSP units of a design, numbered; no more than there are loads that one may serve."""
        return range(most_units(self.feeds, self.brief.limits.most_dsp_units) if self.dsp_units else 0)

    @property
    def channels(self) -> frozenset[str]:
        """Every channel that the brief names."""
        return brief_channels(self.brief)

    @property
    def bass_channels(self) -> frozenset[str]:
        """The channels that subwoofers receive."""
        return frozenset(m.channel for s in self.sets if s.bass for m in s.members)


def brief_channels(brief: Brief) -> frozenset[str]:
    """Every channel that the brief's loudspeakers or subwoofers carry."""
    speakers = {p.channel for s in brief.loudspeakers for p in s.placements}
    return frozenset(speakers | {s.channel for s in brief.subwoofers if s.most > 0})


def build_demand(
    brief: Brief, catalogue: Catalogue, house: House, kept: Collection[str] = frozenset(), *, shared: bool = False
) -> Demand:
    """Everything that the allocation needs, dominated gear and useless flows left out.

    Gear that is `kept` is there even where it is dominated; `shared` as in `Shelf`.
    """
    prices = PriceList(brief, catalogue, house)
    shelf = Shelf(brief, catalogue, prices, kept, shared=shared)
    limits = brief.limits
    maker = LeadMaker(catalogue, _usable_parts(catalogue, shelf))
    every_set = load_sets(brief, catalogue, shelf, member_positions(brief))
    timing = Timing(brief, catalogue, shelf, every_set)
    passive = PassiveFeeds(brief, catalogue, maker, _speaker_contacts(catalogue, shelf))
    kinds = kinds_of(brief, catalogue, shelf, every_set, passive)
    isolation = Isolation(brief, catalogue, shelf, kinds)
    matters = _matters(brief, timing, kinds, isolation)
    view = View(
        kinds=kinds,
        channels=brief_channels(brief),
        filters_wanted=limits.filters_per_subwoofer,
        most_ways=max((m.ways for s in every_set for m in s.models), default=1),
        most_spare=limits.spare_ceiling,
    )
    every_processor = processor_choices(view, catalogue, shelf, prices)
    amplifiers = amplifier_choices(kinds, catalogue, shelf, prices)
    sources = SpeakerSources.of((o for p in every_processor for o in p.outlets), amplifiers)
    sets = undominated_sets(every_set, brief, catalogue, shelf, StandIn(kinds, passive, sources), matters)
    processors = undominated_processors(
        every_processor,
        len({m.channel for s in sets for m in s.members[: s.least]}),
        _most_signals(sets) + limits.spare_ceiling,
        matters,
    )
    dsp_allowed = Drive.DSP in limits.drives and limits.most_dsp_units > 0
    dsp_units = dsp_choices(view, catalogue, shelf, prices) if dsp_allowed else ()
    amplifiers = undominated_amplifiers(amplifiers, shelf, matters, eq, kinds.drives_as_much)
    outlets = tuple(sorted({o for p in processors for o in p.outlets}))
    splits = _splits(brief, outlets, dsp_units, kinds, catalogue, shelf)
    weigh_joints = Measure.JOINTS in brief.measures
    keys = link_keys(brief, sets, outlets, dsp_units, amplifiers, splits, kinds)
    cables = Cables(brief, catalogue)
    links = LinkTable(keys, maker, shelf, prices, cables, kinds, isolation, brief.rack.internal_m)
    pruning = LinkPruning(shelf, keys, weigh_joints)
    links.keep(pruning.pruned(links.table()))
    amplifiers = undominated_amplifiers(
        amplifiers, shelf, matters, eq if isolation.offered else _stand_in(brief, links, pruning), kinds.drives_as_much
    )
    sources = SpeakerSources.of(outlets, amplifiers)
    feeds = _Feeds(brief, kinds, passive, timing, sources, links).of(sets, outlets, dsp_units, splits)
    widest = FlowSearch(brief, sets, outlets, dsp_units, amplifiers, feeds, splits, links, kinds)
    dsp_units = undominated_dsp(dsp_units, shelf, matters, *widest.dsp_load())
    search = FlowSearch(brief, sets, outlets, dsp_units, amplifiers, feeds, splits, links, kinds)
    feed_flows, dsp_flows, amplifier_flows = search.feed_flows(), search.dsp_flows(), search.amplifier_flows()
    starvation = Starvation(kinds, catalogue, dsp_units, search.steps_of, amplifier_flows)
    levels = BassLevels(kinds, passive, catalogue, sources)
    return Demand(
        brief=brief,
        shelf=shelf,
        prices=prices,
        kinds=kinds,
        sets=sets,
        processors=processors,
        outlets=outlets,
        dsp_units=dsp_units,
        amplifiers=amplifiers,
        feeds=feeds,
        feed_flows=feed_flows,
        drive_flows=search.drive_flows(),
        amplifier_flows=amplifier_flows,
        dsp_flows=dsp_flows,
        split_flows=search.split_flows(),
        chains=search.chains,
        links=links,
        isolation=isolation,
        starved=starvation.found(dsp_flows, feed_flows),
        timing=timing,
        bass_targets=bass_targets(brief, sets, levels.level_1m_db),
    )


def _matters(brief: Brief, timing: Timing, kinds: Kinds, isolation: Isolation) -> Matters:
    """What beside price, jacks and levels a brief asks of gear."""
    return Matters(
        rack=brief.rack.units is not None,
        delays=timing.matters,
        gains=kinds.gains_matter,
        earths=loops_matter(brief),
        isolators=isolation.offered,
    )


def _speaker_contacts(catalogue: Catalogue, shelf: Shelf) -> frozenset[Contact]:
    """The contacts of every speaker-level output that may be used."""
    every = {sku: ports for sku, ports in catalogue.ports.items() if shelf.usable(sku)}
    return frozenset(p.contact for sku in every for p in catalogue.outputs(sku) if p.connector in SPEAKER_LEVEL)


def _most_signals(sets: tuple[LoadSet, ...]) -> int:
    """No design uses more outputs of one kind than there are feeds."""
    return sum(len(s.members) * max((m.ways for m in s.models), default=1) for s in sets)


def _usable_parts(catalogue: Catalogue, shelf: Shelf) -> frozenset[str]:
    kinds = (catalogue.leads, catalogue.adapters, catalogue.bulk_cables, catalogue.connectors)
    return frozenset(item.sku for kind in kinds for item in kind if shelf.usable(item.sku))


def _splits(
    brief: Brief, outlets: tuple[Outlet, ...], dsp_units: tuple[DspChoice, ...], kinds: Kinds, catalogue: Catalogue,
    shelf: Shelf,
) -> Mapping[Kind, tuple[Split, ...]]:  # fmt: skip
    """Splits by the kind of jack they plug onto; none where the brief allows none."""
    limits = brief.limits
    if Drive.SPLIT not in limits.drives:
        return {}
    sources = {o.kind for o in outlets if not o.speaker} | {o.kind for d in dsp_units for o in d.outlets}
    return {
        k: splits_of(k, limits.largest_split, limits.balanced_only, kinds, catalogue, shelf) for k in sorted(sources)
    }


def _stand_in(brief: Brief, links: LinkTable, pruning: LinkPruning) -> Callable[[Kind, Kind], bool]:
    """Whether one amplifier input can always take the place of another, whatever feeds it.

    Not where the lead into the other may lend its second half to a link elsewhere.
    """
    sources = {key.source for key in links.table() if not key.speaker}

    def at_least_as_good(source: Kind, one: Kind, other: Kind) -> bool:
        replaced = links.options(LinkKey(source, other, brief.rack.internal_m))
        least = pruning.least_minor(replaced)
        sure = pruning.sure_minor(links.options(LinkKey(source, one, brief.rack.internal_m)))
        converts = (source.balanced is not one.balanced) <= (source.balanced is not other.balanced)
        lends = any(option.lends for option in replaced)
        return least is None or (not lends and sure is not None and sure <= least and converts)

    def stands_in(one: Kind, other: Kind) -> bool:
        return one == other or (
            Measure.JOINTS not in brief.measures and all(at_least_as_good(s, one, other) for s in sources)
        )

    return stands_in


class _Feeds:
    """Groups the feeds of one brief into classes."""

    def __init__(
        self, brief: Brief, kinds: Kinds, passive: PassiveFeeds, timing: Timing, sources: SpeakerSources,
        links: LinkTable,
    ) -> None:  # fmt: skip
        self._brief, self._kinds, self._passive = brief, kinds, passive
        self._timing, self._sources, self._links = timing, sources, links

    def of(
        self, sets: tuple[LoadSet, ...], outlets: tuple[Outlet, ...], dsp_units: tuple[DspChoice, ...],
        splits: Mapping[Kind, tuple[Split, ...]],
    ) -> tuple[FeedClass, ...]:  # fmt: skip
        """The classes, over the line outputs and legs that there are."""
        line = {o.kind for o in outlets if not o.speaker} | {o.kind for d in dsp_units for o in d.outlets}
        line |= {split.leg for options in splits.values() for split in options}

        def carriers_of(channel: str) -> frozenset[Outlet]:
            return frozenset(o for o in outlets if o.may_carry(channel))

        def costs(choices: tuple[Inlet, ...], length_m: float) -> tuple[int | None, ...] | None:
            return self._costs(choices, length_m, sorted(line))

        def place(load: LoadSet, member: Member) -> Hashable:
            return self._timing.row(member)

        linked = linked_models(sets) if Drive.DAISY_CHAINED in self._brief.limits.drives else frozenset()
        return feed_classes(sets, carriers_of, self._inlets, costs, place, linked)

    def _inlets(self, load: LoadSet, model: Model, way: int | None) -> tuple[Inlet, ...]:
        def drives(out: Kind, port: PortGroup) -> bool:
            return self._kinds.drives(out, self._passive.of(load, model, port))

        return inlets_of(model, way, self._kinds, self._sources, drives)

    def _costs(self, choices: tuple[Inlet, ...], length_m: float, line: list[Kind]) -> tuple[int | None, ...] | None:
        prices: list[int | None] = []
        for inlet in choices:
            for kind in line if inlet.direct is None else (inlet.direct,):
                key = feed_link(kind, inlet, length_m, isolable=False)
                price, isolable = self._links.price_minor(key), feed_link(kind, inlet, length_m, isolable=True)
                if any(self._links.price_minor(k) is None and self._links.options(k) for k in (key, isolable)):
                    return None
                prices.append(price)
        return tuple(prices)
