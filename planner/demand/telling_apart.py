"""Finds what of levels and power a brief can tell apart, and so the kinds of all its jacks."""

from collections.abc import Iterable, Iterator
from itertools import product

from planner.brief.records import Brief, Drive, Measure, PhysicalLimit
from planner.catalogue.records import Amplifier, Catalogue, PortGroup, Powering, Processor
from planner.contacts import DIGITAL, SPEAKER_LEVEL
from planner.demand.isolation import isolators_offered
from planner.demand.kinds import Kinds, cable_load_ohm, line_path
from planner.demand.line_levels import ChainStep, LineInput, chain_step, line_input, line_output
from planner.demand.line_reach import Grading, LineReach, Steps, Way
from planner.demand.loads import LoadSet, Model, bus_channels, most_on_one_channel
from planner.demand.passive_feeds import PassiveFeeds
from planner.demand.power_reach import PassiveFeed, PowerLimits, PowerReach, Rating, rating_of
from planner.demand.shelf import Shelf


def grading_of(brief: Brief) -> Grading:
    """What level margins a brief admits (R11, M8)."""
    limits = brief.limits
    wanted = [-limits.level_tolerance_db] if PhysicalLimit.LEVEL in limits.physical else []
    wanted += [] if limits.least_margin_db is None else [limits.least_margin_db]
    return Grading(least_db=max(wanted, default=None), in_steps=Measure.LEAST_MARGIN in brief.measures)


def kinds_of(
    brief: Brief, catalogue: Catalogue, shelf: Shelf, sets: tuple[LoadSet, ...], passive: PassiveFeeds
) -> Kinds:
    """The kinds of the jacks that this brief could use."""
    grading, held = grading_of(brief), brief.limits.physical
    limits = PowerLimits(load=PhysicalLimit.LOAD in held, target=PhysicalLimit.TARGET in held)
    feeds = list(passive_feeds(sets, passive))
    line = None if grading.idle else _line_reach(brief, catalogue, shelf, sets, grading)
    power = PowerReach(_ratings(catalogue, shelf), feeds, limits) if limits.load or limits.target else None
    loads_ohm = _cable_loads_ohm(catalogue, sets) if PhysicalLimit.CABLE in held else ()
    return Kinds(catalogue, line, power, loads_ohm, tell_earths=bool(isolators_offered(brief, catalogue, shelf)))


def passive_feeds(sets: Iterable[LoadSet], passive: PassiveFeeds) -> Iterator[PassiveFeed]:
    """Every pair of terminals of every model of every set."""
    for load in sets:
        for model in load.models:
            yield from (passive.of(load, model, port) for port in model.terminals)


def _line_reach(
    brief: Brief, catalogue: Catalogue, shelf: Shelf, sets: tuple[LoadSet, ...], grading: Grading
) -> LineReach:
    units = [u for u in catalogue.dsp_units if shelf.usable(u.sku)] if Drive.DSP in brief.limits.drives else []
    renderers = [p.sku for p in catalogue.processors] + [card.sku for card in catalogue.cards]
    sources = [sku for sku in renderers if shelf.usable(sku)] + [unit.sku for unit in units]
    outputs = (line_output(port) for sku in sources for port in _line_ports(catalogue.outputs(sku)))
    paths = (
        line_path(entry, leaving, unit)
        for unit in units
        for entry in _line_ports(catalogue.inputs(unit.sku))
        for leaving in _line_ports(catalogue.outputs(unit.sku))
    )
    shared = _shared(brief, catalogue, shelf, sets)
    return LineReach(outputs, _inputs(catalogue, shelf, sets), paths, shared, grading)


def _line_ports(ports: Iterable[PortGroup]) -> Iterator[PortGroup]:
    return (port for port in ports if port.connector not in SPEAKER_LEVEL | DIGITAL)


def _inputs(catalogue: Catalogue, shelf: Shelf, sets: Iterable[LoadSet]) -> Iterator[LineInput]:
    """Every line input that could be the last before a loudspeaker of these sets."""
    models = [model for load in sets for model in load.models]
    yield from (line_input(port, None) for model in models for port in model.line)
    if any(model.powering is not Powering.ACTIVE for model in models):
        for amplifier in catalogue.amplifiers:
            if shelf.usable(amplifier.sku):
                yield from (line_input(p, amplifier) for p in _line_ports(catalogue.inputs(amplifier.sku)))


def _shared(
    brief: Brief, catalogue: Catalogue, shelf: Shelf, sets: tuple[LoadSet, ...]
) -> Iterator[tuple[LineInput, Way]]:
    """Every input that may share an output, with every way to do so that this brief allows."""
    limits, buses = brief.limits, bus_channels(sets)
    largest = min(limits.largest_split, most_on_one_channel(sets))
    if Drive.SPLIT in limits.drives:
        balances = sorted({splitter.balanced for splitter in catalogue.splitters if shelf.usable(splitter.sku)})
        sharing = [load for load in sets if any(member.channel in buses for member in load.members)]
        for taken in dict.fromkeys(_inputs(catalogue, shelf, sharing)):
            for legs, whole in product(range(2, largest + 1), balances):
                yield taken, Way(legs=legs, whole=whole)
    if Drive.DAISY_CHAINED in limits.drives:
        for head, chain in chain_shapes(sets, largest):
            yield head, Way(chain=chain)


def chain_shapes(sets: Iterable[LoadSet], largest: int) -> Iterator[tuple[LineInput, Steps]]:
    """Every daisy chain as levels see it: an input of its head, and its links one by one."""
    by_channel: dict[str, list[tuple[LoadSet, Model]]] = {}
    for load in sets:
        for channel in sorted({member.channel for member in load.members}) if load.bass else ():
            by_channel.setdefault(channel, []).extend((load, model) for model in load.models)
    found: dict[tuple[LineInput, Steps], None] = {}
    for served in by_channel.values():
        for load, model in served:
            chains = _chains_from(load, model, served, largest)
            heads = [line_input(port, None) for port in model.line]
            found.update(dict.fromkeys((head, chain) for chain in chains for head in heads))
    yield from found


def _chains_from(load: LoadSet, model: Model, served: Iterable[tuple[LoadSet, Model]], largest: int) -> Iterator[Steps]:
    """Every sequence of links from a model on, each set keeping to one model with the one before."""
    if largest < 2:
        return
    for other_load, other in served:
        if other_load is load and other is not model:
            continue
        for step in _steps(model, other):
            yield (step,)
            yield from ((step, *rest) for rest in _chains_from(other_load, other, served, largest - 1))


def _steps(one: Model, other: Model) -> tuple[ChainStep, ...]:
    """The links from one subwoofer to another that differ."""
    steps = (chain_step(link, line_input(port, None)) for link in one.links for port in other.line)
    return tuple(dict.fromkeys(steps))


def _ratings(catalogue: Catalogue, shelf: Shelf) -> Iterator[Rating]:
    amplifying: tuple[Processor | Amplifier, ...] = (*catalogue.processors, *catalogue.amplifiers)
    return (rating_of(item) for item in amplifying if shelf.usable(item.sku))


def _cable_loads_ohm(catalogue: Catalogue, sets: Iterable[LoadSet]) -> Iterator[float]:
    items = {item.sku: item for item in catalogue.items()}
    for load in sets:
        for model in load.models:
            loads = (cable_load_ohm(port, items[model.sku]) for port in model.terminals)
            yield from (ohm for ohm in loads if ohm is not None)
