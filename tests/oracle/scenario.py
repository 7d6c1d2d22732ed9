"""What is settled before an oracle starts: processor, cards, models and subwoofer counts.

Each scenario is one combination of these; the optimum is the best over all scenarios.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations_with_replacement, product

from planner.brief.records import Point
from planner.catalogue.records import Card, Loudspeaker, PortGroup, Powering, Processor, Subwoofer
from planner.contacts import DIGITAL, SPEAKER_LEVEL
from planner.house import Task
from tests.oracle.instance import Instance, available


@dataclass(frozen=True, eq=False, slots=True)
class Feed:
    """One input that must receive a channel; `groups` are alternatives to one another.

    `way` is None for a whole channel, else the band from 1 of `ways`. `member` is the
    loudspeaker or subwoofer that it belongs to.
    """

    member: str
    channel: str
    way: int | None
    ways: int
    speaker_level: bool
    groups: tuple[PortGroup, ...]
    links: tuple[PortGroup, ...]
    position: Point
    is_subwoofer: bool

    @property
    def key(self) -> tuple[str, int | None]:
        """Feeds of one key may share an output."""
        return (self.channel, self.way)


@dataclass(frozen=True, eq=False, slots=True)
class Scenario:
    """One processor with its cards, one model a set, one count a subwoofer set."""

    processor: Processor
    cards: tuple[Card, ...]
    feeds: tuple[Feed, ...]
    units: Counter[str]
    tasks: Counter[Task] = field(default_factory=Counter)
    rack_units: int = 0

    @property
    def rendered(self) -> int:
        return self.processor.rendered_channels + sum(card.adds_rendered_channels for card in self.cards)

    @property
    def processed(self) -> int:
        return self.processor.processed_outputs + sum(card.adds_processed_outputs for card in self.cards)

    @property
    def channels(self) -> set[str]:
        return {feed.channel for feed in self.feeds}

    def dsp_may_serve(self, feed: Feed) -> bool:
        """Never a whole loudspeaker alone on its channel: it would gain a box and nothing else."""
        on_channel = {other.member for other in self.feeds if other.channel == feed.channel}
        return feed.is_subwoofer or feed.way is not None or len(on_channel) > 1


def scenarios(instance: Instance) -> Iterator[Scenario]:
    """Every scenario that renders the brief's channels (R5) with gear that is to be had."""
    for processor, cards in _configurations(instance):
        for feeds, members in _rooms(instance):
            found = _scenario(processor, cards, feeds, members)
            if len(found.channels) <= found.rendered:
                yield found


def channels_in_brief(instance: Instance) -> set[str]:
    """The channels that the brief's loudspeakers or subwoofers carry (M3)."""
    brief = instance.brief
    placed = {placement.channel for a_set in brief.loudspeakers for placement in a_set.placements}
    return placed | {a_set.channel for a_set in brief.subwoofers}


def line_level(groups: Sequence[PortGroup]) -> tuple[PortGroup, ...]:
    return tuple(g for g in groups if g.connector not in DIGITAL | SPEAKER_LEVEL)


def speaker_level(groups: Sequence[PortGroup]) -> tuple[PortGroup, ...]:
    return tuple(g for g in groups if g.connector in SPEAKER_LEVEL)


def _scenario(
    processor: Processor, cards: tuple[Card, ...], feeds: tuple[Feed, ...], members: tuple[Loudspeaker | Subwoofer, ...]
) -> Scenario:
    devices = (processor, *cards, *members)
    tasks = Counter({Task.PROCESSOR: 1, Task.CARD: len(cards)})
    for member in members:
        tasks[Task.LOUDSPEAKER if isinstance(member, Loudspeaker) else Task.SUBWOOFER] += 1
    return Scenario(
        processor, cards, feeds, Counter(device.sku for device in devices), tasks,
        sum(device.mains.rack_units for device in devices),
    )  # fmt: skip


def _configurations(instance: Instance) -> Iterator[tuple[Processor, tuple[Card, ...]]]:
    """Each processor with each handful of cards that its slots take."""
    for processor in instance.catalogue.processors:
        if available(instance, processor.sku) == 0:
            continue
        fitting = [
            card for card in instance.catalogue.cards
            if processor.sku in card.fits and available(instance, card.sku) != 0
        ]  # fmt: skip
        for number in range(processor.card_slots + 1):
            for cards in combinations_with_replacement(fitting, number):
                if sum(card.slots for card in cards) <= processor.card_slots:
                    yield processor, cards


def _rooms(instance: Instance) -> Iterator[tuple[tuple[Feed, ...], tuple[Loudspeaker | Subwoofer, ...]]]:
    """Each choice of a model for each set, and of a count for each subwoofer set."""
    brief, catalogue = instance.brief, instance.catalogue
    choices: list[list[tuple[list[Feed], list[Loudspeaker | Subwoofer]]]] = []
    for speakers in brief.loudspeakers:
        choices.append([])
        for speaker in catalogue.loudspeakers:
            if speaker.sku in speakers.candidates and available(instance, speaker.sku) != 0:
                feeds = [
                    feed
                    for number, placement in enumerate(speakers.placements, 1)
                    if placement.position is not None
                    for feed in loudspeaker_feeds(
                        instance, speaker, f"{speakers.name} {number}", placement.channel, placement.position
                    )
                ]
                choices[-1].append((feeds, [speaker] * len(speakers.placements)))
    for subs in brief.subwoofers:
        choices.append([([], [])] if subs.least == 0 else [])
        for sub in catalogue.subwoofers:
            if (not subs.candidates or sub.sku in subs.candidates) and available(instance, sub.sku) != 0:
                for count in range(max(1, subs.least), subs.most + 1):
                    feeds = [
                        subwoofer_feed(instance, sub, f"{subs.name} {number}", subs.channel, position)
                        for number, position in enumerate(subs.positions[:count], 1)
                    ]
                    choices[-1].append((feeds, [sub] * count))
    for choice in product(*choices):
        yield (
            tuple(feed for feeds, _ in choice for feed in feeds),
            tuple(member for _, members in choice for member in members),
        )


def loudspeaker_feeds(
    instance: Instance, speaker: Loudspeaker, name: str, channel: str, position: Point
) -> Iterator[Feed]:
    groups = instance.catalogue.inputs(speaker.sku)
    match speaker.powering:
        case Powering.ACTIVE:
            yield Feed(name, channel, None, 1, False, line_level(groups), (), position, False)
        case Powering.PASSIVE:
            yield Feed(name, channel, None, 1, True, speaker_level(groups), (), position, False)
        case Powering.CROSSED:
            for way, group in enumerate(speaker_level(groups), 1):
                yield Feed(name, channel, way, speaker.ways, True, (group,), (), position, False)


def subwoofer_feed(instance: Instance, sub: Subwoofer, name: str, channel: str, position: Point) -> Feed:
    groups, links = instance.catalogue.inputs(sub.sku), line_level(instance.catalogue.links(sub.sku))
    passive = sub.powering is Powering.PASSIVE
    return Feed(
        name, channel, None, 1, passive, speaker_level(groups) if passive else line_level(groups), links, position, True
    )
