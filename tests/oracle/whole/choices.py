"""What can vary: which processor, how many of each device, and what drives each feed."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from planner.brief.records import Drive
from planner.catalogue.records import Amplifier, Catalogue, Loudspeaker, Splitter, Subwoofer
from planner.contacts import mates
from tests.oracle.instance import Instance, available
from tests.oracle.leads import Leads, Line, Plug, plug
from tests.oracle.linear import Programme, Sum, total
from tests.oracle.scenario import Feed, line_level, loudspeaker_feeds, speaker_level, subwoofer_feed
from tests.oracle.splits import Pattern, pattern
from tests.oracle.whole.jacks import Jack, configurations, dsp_jacks

Model = TypeVar("Model", Loudspeaker, Subwoofer)
Source = tuple[Jack, int | None]
"""A kind of jack, and the number of the DSP unit that has it, None for the processor and its cards."""
Through = tuple[Plug, Plug]
"""The input and the output of an amplifier channel."""


@dataclass(frozen=True, eq=False, slots=True)
class Member:
    """One model for a set; `chosen` is 1 where the set is of this model. `feeds`: one a place."""

    item: Loudspeaker | Subwoofer
    feeds: tuple[Feed, ...]
    chosen: Sum


@dataclass(frozen=True, eq=False, slots=True)
class Hook:
    """A feed on a source: alone where `split` is None and `shared` False.

    `split` is the pattern of splitters whose leg feeds it; `shared`: it has a jack of a mirrored group
    to itself, and others have further jacks of the group.
    """

    feed: Feed
    source: Source
    lines: tuple[Line, ...]
    through: Through | None
    split: Pattern | None
    shared: bool
    chosen: Sum

    @property
    def alone(self) -> bool:
        return self.split is None and not self.shared


@dataclass(frozen=True, eq=False, slots=True)
class Split:
    """So many splits of `legs` legs on jacks of one kind, for feeds of one channel."""

    source: Source
    channel: str
    pattern: Pattern
    legs: int
    number: Sum


@dataclass(frozen=True, eq=False, slots=True)
class Entry:
    """How many jacks of a kind carry a channel into inputs of one kind of one DSP unit."""

    jack: Jack
    channel: str
    unit: int
    into: Plug
    line: Line
    number: Sum


@dataclass(frozen=True, eq=False, slots=True)
class Link:
    """A subwoofer fed by the link output of another."""

    source: Feed
    sink: Feed
    line: Line
    chosen: Sum


class Choices:
    """Every choice of one instance; `programme` holds their variables."""

    def __init__(self, instance: Instance, leads: Leads) -> None:
        self.instance, self.leads = instance, leads
        self.catalogue: Catalogue = instance.catalogue
        self.limits = instance.brief.limits
        self.programme = Programme()
        self.members = list(self._members())
        self.feeds = [feed for member in self.members for feed in member.feeds]
        self.channels = {feed.channel for feed in self.feeds}
        names = {(feed.member, feed.channel) for feed in self.feeds}
        self.places = Counter(channel for _, channel in names)
        self.configurations = [(c, self.programme.binary()) for c in configurations(instance, len(self.channels))]
        self.slots = range(self.limits.most_dsp_units if Drive.DSP in self.limits.drives else 0)
        self.units = [unit for unit in self.catalogue.dsp_units if available(instance, unit.sku) != 0]
        self.dsp = {(slot, unit.sku): self.programme.binary() for slot in self.slots for unit in self.units}
        self.unit_jacks = {unit.sku: dsp_jacks(instance, unit) for unit in self.units}
        self.amplifiers = list(self._amplifiers())
        self.splits = list(self._splits())
        self.hooks = list(self._hooks())
        self.entries = list(self._entries())
        self.links = list(self._links())
        self.several = {jack: self.programme.binary() for jack, _ in self.processor_jacks if jack.jacks > 1}
        self._index()

    # What there is

    def _members(self) -> Iterator[Member]:
        brief, catalogue = self.instance.brief, self.catalogue
        for speakers in brief.loudspeakers:
            models = [item for item in catalogue.loudspeakers if item.sku in speakers.candidates]
            for speaker, chosen in self._one_of(models):
                feeds = [
                    feed
                    for number, place in enumerate(speakers.placements, 1)
                    if place.position is not None
                    for feed in loudspeaker_feeds(
                        self.instance, speaker, f"{speakers.name} {number}", place.channel, place.position
                    )
                ]
                yield Member(speaker, tuple(feeds), chosen)
        for subs in brief.subwoofers:
            kinds = [item for item in catalogue.subwoofers if not subs.candidates or item.sku in subs.candidates]
            for sub, chosen in self._one_of(kinds):
                feeds = [
                    subwoofer_feed(self.instance, sub, f"{subs.name} {number}", subs.channel, position)
                    for number, position in enumerate(subs.positions[: subs.most], 1)
                ]
                yield Member(sub, tuple(feeds), chosen)

    def _one_of(self, models: Sequence[Model]) -> list[tuple[Model, Sum]]:
        """Exactly one is chosen; no variable where there is but one."""
        usable = [model for model in models if available(self.instance, model.sku) != 0]
        if len(usable) == 1:
            return [(usable[0], Sum(constant=1))]
        chosen = [self.programme.binary() for _ in usable]
        self.programme.equal(total(chosen), 1)
        return list(zip(usable, chosen, strict=True))

    def _amplifiers(self) -> Iterator[tuple[Amplifier, Sum, dict[Through, Sum]]]:
        """Each with how many there are, and how many of its channels are entered and left in each way."""
        passive = sum(len(member.feeds) for member in self.members if member.feeds and member.feeds[0].speaker_level)
        for amplifier in self.catalogue.amplifiers if passive else ():
            stock = available(self.instance, amplifier.sku)
            ways = {
                (plug(one), plug(other)): 0
                for one in line_level(self.catalogue.inputs(amplifier.sku))
                for other in speaker_level(self.catalogue.outputs(amplifier.sku))
            }
            if stock != 0 and ways:
                number = self.programme.whole(passive if stock is None else min(stock, passive))
                yield amplifier, number, self._channels_used(amplifier.channels * number, list(ways), passive)

    def _channels_used(self, channels: Sum, ways: list[Through], most: int) -> dict[Through, Sum]:
        if len(ways) == 1:
            return {ways[0]: channels}
        used = {way: self.programme.whole(most) for way in ways}
        self.programme.at_most(total(used.values()), channels)
        return used

    # What may hang on what

    @cached_property
    def processor_jacks(self) -> list[tuple[Jack, Sum]]:
        """Each kind of jack, and how many of it the chosen processor has."""
        found: dict[Jack, list[Sum]] = defaultdict(list)
        for configuration, chosen in self.configurations:
            for jack, number in configuration.jacks.items():
                found[jack].append(number * chosen)
        return [(jack, total(numbers)) for jack, numbers in found.items()]

    @cached_property
    def sources(self) -> list[tuple[Source, Sum]]:
        """Each source, and how many jacks (mirrored groups) of it there are."""
        found: dict[Source, list[Sum]] = {(jack, None): [number] for jack, number in self.processor_jacks}
        for (slot, sku), chosen in self.dsp.items():
            for jack, number in self.unit_jacks[sku].items():
                found.setdefault((jack, slot), []).append(number * chosen)
        return [(source, total(numbers)) for source, numbers in found.items()]

    def dsp_may_carry(self, channel: str) -> bool:
        """Never a whole loudspeaker alone on its channel."""
        bass = any(feed.is_subwoofer for feed in self.feeds if feed.channel == channel)
        return bass or self.places[channel] > 1

    def may_carry(self, source: Source, channel: str) -> bool:
        jack, slot = source
        return jack.may_carry(channel) and (slot is None or self.dsp_may_carry(channel))

    def _splits(self) -> Iterator[Split]:
        """R8: every number of legs on every jack that a splitter mates with, from two-way splitters."""
        for (jack, slot), _ in self.sources if Drive.SPLIT in self.limits.drives else ():
            for kind in {pattern(splitter) for splitter in self.splitters} if not jack.speaker_level else ():
                entry, leg, balanced = kind
                barred = self.limits.balanced_only and not (balanced and jack.plug.balanced)
                if barred or not mates(entry, jack.plug.contact):
                    continue
                for channel in sorted(self.channels):
                    most = min(self.limits.largest_split, self.places[channel]) if mates(entry, leg) else 2
                    if self.may_carry((jack, slot), channel) and self.places[channel] > 1:
                        for legs in range(2, most + 1):
                            number = self.programme.whole(self.places[channel] // legs)
                            yield Split((jack, slot), channel, kind, legs, number)

    @cached_property
    def splitters(self) -> list[Splitter]:
        return [kind for kind in self.catalogue.splitters if available(self.instance, kind.sku) != 0]

    def _hooks(self) -> Iterator[Hook]:
        patterns: dict[tuple[Source, str], set[Pattern]] = defaultdict(set)
        for split in self.splits:
            patterns[split.source, split.channel].add(split.pattern)
        for source, _ in self.sources:
            jack = source[0]
            for feed in self.feeds:
                if not self.may_carry(source, feed.channel):
                    continue
                yield from self._hooked(feed, source, jack.plug, None, shared=False)
                if jack.jacks > 1 and Drive.SPLIT in self.limits.drives:
                    yield from self._hooked(feed, source, jack.plug, None, shared=True)
                for kind in sorted(patterns[source, feed.channel]):
                    yield from self._hooked(feed, source, Plug(kind[1], kind[2]), kind, shared=False)

    def _hooked(
        self, feed: Feed, source: Source, start: Plug, split: Pattern | None, *, shared: bool
    ) -> Iterator[Hook]:
        for lines, through in self._ways_in(feed, start, source[0].speaker_level):
            if all(self.leads.makes(line) for line in lines):
                yield Hook(feed, source, lines, through, split, shared, self.programme.binary())

    def _ways_in(
        self, feed: Feed, start: Plug, from_speaker_level: bool
    ) -> Iterator[tuple[tuple[Line, ...], Through | None]]:
        room, rack = self.leads.route_m(self.instance.brief.rack.position, feed.position), self.leads.internal_m
        inputs = {plug(group): None for group in feed.groups}
        if feed.speaker_level is from_speaker_level:
            for one in inputs:
                yield (Line(start, one, room, False),), None
        elif feed.speaker_level:
            for through in self.throughs:
                for one in inputs:
                    yield (Line(start, through[0], rack, False), Line(through[1], one, room, False)), through

    @cached_property
    def throughs(self) -> list[Through]:
        """Every way in and out of an amplifier channel that there is."""
        return list(dict.fromkeys(way for _, _, used in self.amplifiers for way in used))

    def _entries(self) -> Iterator[Entry]:
        """R7: a processor jack into an input of a DSP unit."""
        inputs = {plug(group): None for unit in self.units for group in line_level(self.catalogue.inputs(unit.sku))}
        for slot in self.slots:
            for jack, _ in self.processor_jacks:
                for channel in sorted(self.channels) if not jack.speaker_level else ():
                    if not (jack.may_carry(channel) and self.dsp_may_carry(channel)):
                        continue
                    for into in inputs:
                        line = Line(jack.plug, into, self.leads.internal_m, False)
                        if self.leads.makes(line):
                            number = self.programme.whole(self.places[channel])
                            yield Entry(jack, channel, slot, into, line, number)

    def _links(self) -> Iterator[Link]:
        """R9."""
        subs = [feed for feed in self.feeds if feed.is_subwoofer]
        for source in subs if Drive.DAISY_CHAINED in self.limits.drives else ():
            for sink in subs:
                if source.member == sink.member or source.channel != sink.channel:
                    continue
                length = self.leads.route_m(source.position, sink.position)
                for out in {plug(group): None for group in source.links}:
                    for into in {plug(group): None for group in sink.groups}:
                        line = Line(out, into, length, False)
                        if self.leads.makes(line):
                            yield Link(source, sink, line, self.programme.binary())

    # Sums that several rules need

    def _index(self) -> None:
        self.hooks_on: dict[Source, list[Hook]] = defaultdict(list)
        self.hooks_of: dict[Feed, list[Hook]] = defaultdict(list)
        self.splits_on: dict[Source, list[Split]] = defaultdict(list)
        self.links_from: dict[Feed, list[Link]] = defaultdict(list)
        self.links_into: dict[Feed, list[Link]] = defaultdict(list)
        self.entries_from: dict[Jack, list[Entry]] = defaultdict(list)
        for hook in self.hooks:
            self.hooks_on[hook.source].append(hook)
            self.hooks_of[hook.feed].append(hook)
        for split in self.splits:
            self.splits_on[split.source].append(split)
        for link in self.links:
            self.links_from[link.source].append(link)
            self.links_into[link.sink].append(link)
        for entry in self.entries:
            self.entries_from[entry.jack].append(entry)

    def points(self, source: Source) -> Sum:
        """Control points of a kind of jack that are in use; a mirrored group is one, whatever it feeds."""
        jack, slot = source
        alone = total(hook.chosen for hook in self.hooks_on[source] if hook.alone)
        if jack.jacks > 1:
            split: Sum = self.several[jack]
        else:
            split = total(split.number for split in self.splits_on[source])
        entries = total(entry.number for entry in self.entries_from[jack]) if slot is None else 0
        return alone + split + entries
