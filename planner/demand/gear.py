"""The gear that may stand between brief and loudspeakers: processors, DSP units, amplifiers.

Dropping dominated gear is exact: whatever the dropped piece does in a design, the one kept
does at no higher price, with every measure as good, and more of it can always be had.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

from planner.catalogue.records import Amplifier, Catalogue, DspUnit, Processor
from planner.contacts import DIGITAL, SPEAKER_LEVEL
from planner.costing import PriceList
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.outlets import Outlet, View, signals_of
from planner.demand.shelf import Shelf
from planner.house import Task


@dataclass(frozen=True, kw_only=True, slots=True)
class Matters:
    """What beside price, jacks and levels a brief makes a difference of: a dominating piece must be as good in it."""

    rack: bool = False
    delays: bool = False
    earths: bool = False
    gains: bool = False
    isolators: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class PortOrigin:
    """Where an outlet of a processor really is: card number (0 the processor) and group."""

    card: int
    group: str
    signals: int


@dataclass(frozen=True, kw_only=True, slots=True)
class ProcessorChoice:
    """A processor with a choice of cards. `price_minor` includes fitting; owned parts are free.

    `outlets` maps each outlet to the number of signals it can carry.
    """

    sku: str
    cards: tuple[str, ...]
    price_minor: int
    rendered_channels: int
    processed_outputs: int
    rack_units: int
    outlets: Mapping[Outlet, int]
    origins: Mapping[Outlet, tuple[PortOrigin, ...]]
    held: bool
    max_delay_ms: float = 0.0
    earthed: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class DspChoice:
    """A DSP unit as the search sees it. `inlets` and `outlets` count jacks by kind."""

    sku: str
    fitting_minor: int
    inputs: int
    outputs: int
    outputs_per_input: int | None
    rack_units: int
    inlets: Mapping[Kind, int]
    outlets: Mapping[Outlet, int]
    latency_ms: float = 0.0
    max_delay_ms: float = 0.0
    max_gain_db: float = 0.0
    earthed: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class AmplifierChoice:
    """An amplifier as the search sees it: any channel by any of its input kinds."""

    sku: str
    fitting_minor: int
    channels: int
    rack_units: int
    inlets: frozenset[Kind]
    terminals: Kind
    earthed: bool = False


def processor_choices(view: View, catalogue: Catalogue, shelf: Shelf, prices: PriceList) -> tuple[ProcessorChoice, ...]:
    """Every usable processor with every set of cards that fits its slots."""
    choices = []
    for processor in catalogue.processors:
        for cards in _card_sets(processor, catalogue):
            choice = _processor_choice(processor, cards, view, catalogue, shelf, prices)
            if choice is not None:
                choices.append(choice)
    return tuple(choices)


def _card_sets(processor: Processor, catalogue: Catalogue) -> Iterator[tuple[str, ...]]:
    slots = {card.sku: card.slots for card in catalogue.cards if processor.sku in card.fits}
    for count in range(processor.card_slots + 1):
        for cards in combinations_with_replacement(sorted(slots), count):
            if sum(slots[card] for card in cards) <= processor.card_slots:
                yield cards


def _processor_choice(
    processor: Processor, cards: tuple[str, ...], view: View, catalogue: Catalogue, shelf: Shelf, prices: PriceList
) -> ProcessorChoice | None:
    counts = Counter(cards)
    costs = [shelf.cost_minor(sku, n) for sku, n in [(processor.sku, 1), *sorted(counts.items())]]
    if any(cost is None for cost in costs):
        return None
    by_sku = {card.sku: card for card in catalogue.cards}
    outlets: Counter[Outlet] = Counter()
    origins: dict[Outlet, tuple[PortOrigin, ...]] = {}
    for number, sku in enumerate((processor.sku, *cards)):
        for group in catalogue.outputs(sku):
            outlet = view.outlet(group, processor.controls)
            if outlet is None:
                continue
            while (outlet.others is not None or outlet.jacks > 1) and outlet in outlets:
                outlet = replace(outlet, ordinal=outlet.ordinal + 1)
            outlets[outlet] += signals_of(group)
            origin = PortOrigin(card=number, group=group.name, signals=signals_of(group))
            origins[outlet] = (*origins.get(outlet, ()), origin)
    fitting = prices.labour_minor(Task.PROCESSOR) + len(cards) * prices.labour_minor(Task.CARD)
    return ProcessorChoice(
        sku=processor.sku,
        cards=cards,
        price_minor=sum(cost or 0 for cost in costs) + fitting,
        rendered_channels=processor.rendered_channels + sum(by_sku[c].adds_rendered_channels for c in cards),
        processed_outputs=processor.processed_outputs + sum(by_sku[c].adds_processed_outputs for c in cards),
        rack_units=processor.mains.rack_units + sum(by_sku[c].mains.rack_units for c in cards),
        outlets=outlets,
        origins=origins,
        held=any(shelf.must_use(sku) for sku in (processor.sku, *cards)),
        max_delay_ms=processor.controls.max_delay_ms,
        earthed=processor.mains.earthed,
    )


def dsp_choices(view: View, catalogue: Catalogue, shelf: Shelf, prices: PriceList) -> tuple[DspChoice, ...]:
    """Every usable DSP unit."""
    fitting = prices.labour_minor(Task.DSP)
    usable = (unit for unit in catalogue.dsp_units if shelf.usable(unit.sku))
    return tuple(_dsp_choice(unit, fitting, view, catalogue) for unit in usable)


def _dsp_choice(unit: DspUnit, fitting_minor: int, view: View, catalogue: Catalogue) -> DspChoice:
    inlets: Counter[Kind] = Counter()
    outlets: Counter[Outlet] = Counter()
    for group in catalogue.inputs(unit.sku):
        if group.connector not in DIGITAL:
            inlets[view.kinds.of(group)] += group.count
    for group in catalogue.outputs(unit.sku):
        outlet = view.outlet(group, unit.controls)
        if outlet is not None:
            outlets[outlet] += group.count
    return DspChoice(
        sku=unit.sku,
        fitting_minor=fitting_minor,
        inputs=unit.inputs,
        outputs=unit.outputs,
        outputs_per_input=unit.outputs_per_input,
        rack_units=unit.mains.rack_units,
        inlets=inlets,
        outlets=outlets,
        latency_ms=unit.latency_ms,
        max_delay_ms=unit.controls.max_delay_ms,
        max_gain_db=unit.max_gain_db,
        earthed=unit.mains.earthed,
    )


def amplifier_choices(
    kinds: Kinds, catalogue: Catalogue, shelf: Shelf, prices: PriceList
) -> tuple[AmplifierChoice, ...]:
    """Every usable amplifier that has analogue inputs."""
    fitting = prices.labour_minor(Task.AMPLIFIER)
    choices = (_amplifier_choice(a, fitting, kinds, catalogue) for a in catalogue.amplifiers if shelf.usable(a.sku))
    return tuple(choice for choice in choices if choice is not None)


def _amplifier_choice(
    amplifier: Amplifier, fitting_minor: int, kinds: Kinds, catalogue: Catalogue
) -> AmplifierChoice | None:
    terminals = [kinds.of(g) for g in catalogue.outputs(amplifier.sku) if g.connector in SPEAKER_LEVEL]
    inlets = frozenset(
        kinds.of(g)
        for g in catalogue.inputs(amplifier.sku)
        if g.connector not in DIGITAL and g.count >= amplifier.channels
    )
    if not terminals or not inlets:
        return None
    return AmplifierChoice(
        sku=amplifier.sku,
        fitting_minor=fitting_minor,
        channels=amplifier.channels,
        rack_units=amplifier.mains.rack_units,
        inlets=inlets,
        terminals=terminals[0],
        earthed=amplifier.mains.earthed,
    )


def undominated_processors(
    choices: Iterable[ProcessorChoice], channels: int, signals: int, matters: Matters
) -> tuple[ProcessorChoice, ...]:
    """Processors that can serve at all, and of which none other offers all the same for no more.

    Each of `channels` distinct channels has to be rendered, and to leave by an output of its
    own. `signals` bounds what any design can use or count as spare of one outlet, so that
    jacks beyond it are worth nothing.
    """
    kept: list[ProcessorChoice] = []
    choices = [c for c in choices if min(c.rendered_channels, c.processed_outputs, sum(c.outlets.values())) >= channels]
    for choice in sorted(choices, key=lambda c: (c.price_minor, len(c.cards), c.sku, c.cards)):
        if choice.held or not any(_processor_covers(other, choice, signals, matters) for other in kept):
            kept.append(choice)
    return tuple(kept)


def _processor_covers(other: ProcessorChoice, choice: ProcessorChoice, signals: int, matters: Matters) -> bool:
    return (
        other.rendered_channels >= min(choice.rendered_channels, signals)
        and other.processed_outputs >= min(choice.processed_outputs, signals)
        and (not matters.rack or other.rack_units <= choice.rack_units)
        and (not matters.delays or other.max_delay_ms >= choice.max_delay_ms)
        and (not matters.earths or other.earthed <= choice.earthed)
        and (not matters.isolators or other.earthed is choice.earthed)  # some loops are broken at an earthed one only
        and all(other.outlets.get(o, 0) >= min(n, signals) for o, n in choice.outlets.items())
    )


def undominated_dsp(
    choices: Iterable[DspChoice], shelf: Shelf, matters: Matters, signals: int, feeds: int
) -> tuple[DspChoice, ...]:
    """DSP units of which no unbounded other does all the same for no more.

    No unit can use more inputs than there are `signals`, or more outputs than `feeds`, that
    may pass one; only with fixed routing may one signal want several inputs.
    """

    def covers(other: DspChoice, choice: DspChoice) -> bool:
        alike = other.outputs_per_input == choice.outputs_per_input
        useful = feeds if choice.outputs_per_input is not None else signals
        return (
            shelf.simple(other.sku)
            and not shelf.must_use(choice.sku)
            and shelf.unit_minor(other.sku) <= shelf.floor_minor(choice.sku)
            and (other.outputs_per_input is None or alike)
            and other.inputs >= min(choice.inputs, useful)
            and other.outputs >= min(choice.outputs, feeds)
            and (not matters.rack or other.rack_units <= choice.rack_units)
            and (not matters.delays or _delays_as_well(other, choice))
            and (not matters.gains or other.max_gain_db >= choice.max_gain_db)
            and (not matters.earths or other.earthed <= choice.earthed)
            and all(other.inlets.get(k, 0) >= min(n, useful) for k, n in choice.inlets.items())
            and all(other.outlets.get(o, 0) >= min(n, feeds) for o, n in choice.outlets.items())
        )

    kept: list[DspChoice] = []
    for choice in sorted(choices, key=lambda c: (shelf.floor_minor(c.sku), not shelf.simple(c.sku), c.sku)):
        if not any(covers(other, choice) for other in kept):
            kept.append(choice)
    return tuple(kept)


def _delays_as_well(other: DspChoice, choice: DspChoice) -> bool:
    return other.max_delay_ms >= choice.max_delay_ms and other.latency_ms == choice.latency_ms


def undominated_amplifiers(
    choices: Iterable[AmplifierChoice], shelf: Shelf, matters: Matters, stands_in: Callable[[Kind, Kind], bool],
    drives_as_much: Callable[[Kind, Kind], bool],
) -> tuple[AmplifierChoice, ...]:  # fmt: skip
    """Amplifiers of which no unbounded other does all the same for no more.

    `stands_in(one, other)` says whether a lead into input kind `one` is never dearer and
    converts no more than a lead into kind `other`, from any source; `drives_as_much(one, other)`
    whether channels of one kind may drive all that those of another may, by load and power.
    """

    def covers(other: AmplifierChoice, choice: AmplifierChoice) -> bool:
        return (
            shelf.simple(other.sku)
            and not shelf.must_use(choice.sku)
            and shelf.unit_minor(other.sku) <= shelf.floor_minor(choice.sku)
            and other.channels >= choice.channels
            and drives_as_much(other.terminals, choice.terminals)
            and all(any(stands_in(one, kind) for one in other.inlets) for kind in choice.inlets)
            and (not matters.rack or other.rack_units <= choice.rack_units)
            and (not matters.earths or other.earthed <= choice.earthed)
        )

    kept: list[AmplifierChoice] = []
    for choice in sorted(
        choices, key=lambda c: (shelf.floor_minor(c.sku), not shelf.simple(c.sku), -c.channels, -len(c.inlets), c.sku)
    ):
        if not any(covers(other, choice) for other in kept):
            kept.append(choice)
    return tuple(kept)
