"""Kinds of output jacks, and how many of each a processor with its cards, or a DSP unit, has."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

from planner.catalogue.records import Card, Controls, DspUnit, PortGroup, PortRole, Processor
from planner.contacts import DIGITAL, SPEAKER_LEVEL
from planner.house import Task
from tests.oracle.instance import Instance, available
from tests.oracle.leads import Plug, plug
from tests.oracle.points import BASS
from tests.oracle.scenario import channels_in_brief, line_level
from tests.oracle.terms import task_price
from tests.oracle.whole.terms import least_cost


@dataclass(frozen=True, slots=True)
class Jack:
    """What jacks of one kind have in common.

    `channels` are those that it may carry, none: any. `settable`: it offers what R10 asks.
    `jacks` is how many carry the one signal of a mirrored group. `listed` numbers the groups whose spare
    outputs count only for channels listed, `others` is how many of those the brief does not have.
    """

    plug: Plug
    channels: frozenset[str]
    settable: bool
    jacks: int = 1
    listed: int = 0
    others: int | None = None
    fixed: bool = False

    @property
    def speaker_level(self) -> bool:
        return self.plug.contact.connector in SPEAKER_LEVEL

    def may_carry(self, channel: str) -> bool:
        """R4."""
        return not self.channels or channel in self.channels


@dataclass(frozen=True, eq=False, slots=True)
class Configuration:
    """A processor with its cards. `fixed_spare`: outputs of fixed channels that the brief does not have (M3)."""

    processor: Processor
    cards: tuple[Card, ...]
    jacks: Counter[Jack]
    cost: int
    processed: int
    rack_units: int
    fixed_spare: int


def configurations(instance: Instance, channels: int) -> Iterator[Configuration]:
    """Every processor with every handful of cards that fits and renders so many channels (R5)."""
    for processor in instance.catalogue.processors:
        fitting = [card for card in instance.catalogue.cards if processor.sku in card.fits]
        for number in range(processor.card_slots + 1):
            for cards in combinations_with_replacement(fitting, number):
                slots = sum(card.slots for card in cards)
                rendered = processor.rendered_channels + sum(card.adds_rendered_channels for card in cards)
                if slots <= processor.card_slots and rendered >= channels:
                    yield from _configuration(instance, processor, cards)


def _configuration(instance: Instance, processor: Processor, cards: tuple[Card, ...]) -> Iterator[Configuration]:
    units = Counter((processor.sku, *(card.sku for card in cards)))
    costs = [least_cost(instance, sku, number) for sku, number in units.items()]
    if any(available(instance, sku) == 0 for sku in units) or None in costs:
        return
    labour = task_price(instance, Task.PROCESSOR) + len(cards) * task_price(instance, Task.CARD)
    groups = [group for sku in units.elements() for group in instance.catalogue.outputs(sku)]
    unused = [set(g.channels) - channels_in_brief(instance) for g in groups if g.role is PortRole.FIXED_MAIN]
    line = [g.connector not in SPEAKER_LEVEL for g in groups if g.role is PortRole.FIXED_MAIN]
    yield Configuration(
        processor=processor,
        cards=cards,
        jacks=_jacks(instance, groups, processor.controls),
        cost=sum(cost for cost in costs if cost is not None) + labour,
        processed=processor.processed_outputs + sum(card.adds_processed_outputs for card in cards),
        rack_units=processor.mains.rack_units + sum(card.mains.rack_units for card in cards),
        fixed_spare=sum(len(channels) for channels, counts in zip(unused, line, strict=True) if counts),
    )


def dsp_jacks(instance: Instance, unit: DspUnit) -> Counter[Jack]:
    """The line outputs of a DSP unit."""
    return _jacks(instance, list(line_level(instance.catalogue.outputs(unit.sku))), unit.controls)


def _jacks(instance: Instance, groups: list[PortGroup], controls: Controls) -> Counter[Jack]:
    found: Counter[Jack] = Counter()
    for group in groups:
        if group.connector in DIGITAL:
            continue
        for jack, number in _kinds(instance, group, controls):
            while (jack.others is not None or jack.jacks > 1) and jack in found:
                jack = replace(jack, listed=jack.listed + 1)
            found[jack] += number
    return found


def _kinds(instance: Instance, group: PortGroup, controls: Controls) -> Iterator[tuple[Jack, int]]:
    wanted = channels_in_brief(instance)
    carries_bass = not group.channels or (bool(BASS & set(group.channels)) and group.role is not PortRole.FIXED_MAIN)
    settable = carries_bass and controls.independent(instance.brief.limits.filters_per_subwoofer)
    jack = Jack(plug(group), frozenset(), settable)
    match group.role:
        case PortRole.FIXED_MAIN:
            for channel in group.channels:
                yield replace(jack, channels=frozenset({channel}), settable=False, fixed=True), 1
        case PortRole.FIXED_SUB:
            yield replace(jack, channels=frozenset(BASS)), group.count
        case PortRole.MIRRORED_SUB:
            yield replace(jack, channels=frozenset(BASS), jacks=group.count), 1
        case PortRole.ASSIGNABLE if group.channels:
            listed = frozenset(group.channels)
            yield replace(jack, channels=listed, others=len(listed - wanted)), group.count
        case _:
            yield jack, group.count
