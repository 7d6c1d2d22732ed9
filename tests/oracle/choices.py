"""What a design of one scenario can be made of, one whole-numbered variable a choice."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from planner.brief.records import Drive
from planner.catalogue.records import Amplifier, DspUnit, PortGroup, Splitter
from tests.oracle.instance import Instance, available
from tests.oracle.leads import Leads, Line, Plug, plug
from tests.oracle.linear import Programme, Sum, total
from tests.oracle.points import ControlPoint, dsp_inputs, dsp_outputs, processor_outputs
from tests.oracle.scenario import Feed, Scenario, line_level, speaker_level
from tests.oracle.splits import Tree, trees

Key = tuple[str, int | None]


@dataclass(frozen=True, eq=False, slots=True)
class Hook:
    """One way in which a feed may hang on a jack: `chosen` is 1 where it does.

    `leg` is the splitter whose leg feeds it, None for the jack itself. `amplifier` is the
    index of the amplifier in between, and `channel` its channel.
    """

    feed: Feed
    point: ControlPoint
    jack: int
    leg: Splitter | None
    lines: tuple[Line, ...]
    amplifier: int | None
    channel: int | None
    chosen: Sum


@dataclass(frozen=True, eq=False, slots=True)
class Input:
    """A processor jack that feeds a channel to an input jack of a DSP unit."""

    point: ControlPoint
    jack: int
    box: int
    group: PortGroup
    number: int
    channel: str
    line: Line
    chosen: Sum


@dataclass(frozen=True, eq=False, slots=True)
class Link:
    """A subwoofer fed by the link output of another."""

    source: Feed
    sink: Feed
    line: Line
    chosen: Sum


@dataclass(frozen=True, eq=False, slots=True)
class Split:
    """A tree of splitters on a jack, for feeds of one key."""

    point: ControlPoint
    jack: int
    key: Key
    tree: Tree
    chosen: Sum


@dataclass(frozen=True, eq=False, slots=True)
class Crossover:
    """A crossed loudspeaker (`member`) divided in a DSP unit, through an input of its own."""

    member: str
    channel: str
    box: int
    group: PortGroup
    number: int
    chosen: Sum


AtPoint = TypeVar("AtPoint", Hook, Split, Input)


def chosen(choices: Iterable[Hook | Input | Link | Split | Crossover]) -> Sum:
    """How many of these are chosen."""
    return total(choice.chosen for choice in choices)


class Choices:
    """Every choice of one scenario; `programme` holds their variables."""

    def __init__(self, instance: Instance, scenario: Scenario, leads: Leads) -> None:
        self.instance, self.scenario, self.leads = instance, scenario, leads
        self.limits, self.catalogue = instance.brief.limits, instance.catalogue
        self.programme = Programme()
        self._lay_out_boxes()
        self._lay_out_points()
        self.hooks = list(self._possible_hooks())
        self.splits = list(self._possible_splits())
        self.inputs = list(self._possible_inputs())
        self.links = list(self._possible_links())
        self.crossovers = list(self._possible_crossovers())

    @cached_property
    def subwoofers(self) -> list[Feed]:
        return [feed for feed in self.scenario.feeds if feed.is_subwoofer]

    @cached_property
    def hooks_on(self) -> dict[ControlPoint, list[Hook]]:
        return self._by_point(self.hooks)

    @cached_property
    def splits_on(self) -> dict[ControlPoint, list[Split]]:
        return self._by_point(self.splits)

    @cached_property
    def inputs_from(self) -> dict[ControlPoint, list[Input]]:
        return self._by_point(self.inputs)

    def _by_point(self, choices: list[AtPoint]) -> dict[ControlPoint, list[AtPoint]]:
        found: dict[ControlPoint, list[AtPoint]] = {point: [] for point in self.points}
        for choice in choices:
            found[choice.point].append(choice)
        return found

    @property
    def boxes_and_amplifiers(self) -> list[tuple[DspUnit | Amplifier, Sum]]:
        """Each DSP unit and amplifier that there may be, with 1 where it is in the design."""
        return [
            *zip(self.boxes, self.box_used, strict=True),
            *zip(self.amplifiers, self.amplifier_used, strict=True),
        ]

    def in_use(self, point: ControlPoint) -> Sum:
        """1 where a control point is in use."""
        return self.single[point] + self.split[point] + chosen(self.inputs_from[point])

    def linked_from(self, feed: Feed) -> Sum:
        """How many subwoofers are fed by this one's link outputs."""
        return chosen(link for link in self.links if link.source is feed)

    def _lay_out_boxes(self) -> None:
        """As many DSP units and amplifiers of each sku as could be of use."""
        most_units = self.limits.most_dsp_units if Drive.DSP in self.limits.drives else 0
        passive = sum(feed.speaker_level for feed in self.scenario.feeds)
        self.boxes = [unit for unit in self.catalogue.dsp_units for _ in self._copies(unit.sku, most_units)]
        self.amplifiers = [amp for amp in self.catalogue.amplifiers for _ in self._copies(amp.sku, passive)]
        self.box_used = [self.programme.binary() for _ in self.boxes]
        self.amplifier_used = [self.programme.binary() for _ in self.amplifiers]

    def _copies(self, sku: str, most: int) -> range:
        stock = available(self.instance, sku)
        return range(most if stock is None else min(most, stock))

    def _lay_out_points(self) -> None:
        """Control points, and what each is put to besides an input of a DSP unit.

        `single`: one feed, or the head of a chain. `split`: several feeds. `carries`: the
        channel and way that it then carries.
        """
        self.processor_outputs = processor_outputs(self.instance, self.scenario)
        self.outputs = [*self.processor_outputs]
        for box, unit in enumerate(self.boxes):
            self.outputs += dsp_outputs(self.instance, unit, box)
        self.points = [point for output in self.outputs for point in output.points]
        self.single = {point: self.programme.binary() for point in self.points}
        self.split = {point: self.programme.binary() for point in self.points}
        self.carries = {
            point: {key: self.programme.binary() for key in self._keys(point)} for point in self.points
        }  # fmt: skip

    def _keys(self, point: ControlPoint) -> list[Key]:
        return list(dict.fromkeys(feed.key for feed in self.scenario.feeds if self._may_carry(point, feed)))

    def _may_carry(self, point: ControlPoint, feed: Feed) -> bool:
        return point.may_carry(feed) and (point.box is None or self.scenario.dsp_may_serve(feed))

    @cached_property
    def _legs_at_most(self) -> dict[Key, int]:
        """The most legs of a split for each key; 1: none, and ways are never split."""
        allowed = self.limits.largest_split if Drive.SPLIT in self.limits.drives else 1
        numbers = Counter(feed.key for feed in self.scenario.feeds)
        return {key: min(number, allowed) if key[1] is None else 1 for key, number in numbers.items()}

    @cached_property
    def _splitters(self) -> tuple[Splitter, ...]:
        return tuple(
            splitter for splitter in self.catalogue.splitters
            if available(self.instance, splitter.sku) != 0 and (splitter.balanced or not self.limits.balanced_only)
        )  # fmt: skip

    def _possible_hooks(self) -> Iterator[Hook]:
        """Each feed on each jack that may carry it, and on each leg of a splitter there."""
        for point in self.points:
            for feed in self.scenario.feeds:
                if not self._may_carry(point, feed):
                    continue
                splits = self._legs_at_most[feed.key] > 1 and not point.speaker_level
                for jack in point.jacks:
                    yield from self._hooks(feed, point, jack, None, plug(point.group))
                    for kind in self._splitters if splits else ():
                        yield from self._hooks(feed, point, jack, kind, Plug(kind.leg, kind.balanced))

    def _hooks(self, feed: Feed, point: ControlPoint, jack: int, leg: Splitter | None, source: Plug) -> Iterator[Hook]:
        """One for each input of the feed, or for each amplifier channel that could drive it."""
        for lines, amplifier, channel in self._ways_in(feed, source, point.speaker_level):
            if all(self.leads.makes(line) for line in lines):
                yield Hook(feed, point, jack, leg, lines, amplifier, channel, self.programme.binary())

    def _ways_in(
        self, feed: Feed, source: Plug, from_speaker_level: bool
    ) -> Iterator[tuple[tuple[Line, ...], int | None, int | None]]:
        brief, sub = self.instance.brief, feed.is_subwoofer
        room, rack = self.leads.route_m(brief.rack.position, feed.position), self.leads.internal_m
        if feed.speaker_level is from_speaker_level:
            for group in feed.groups:
                yield (Line(source, plug(group), room, sub),), None, None
        elif feed.speaker_level:
            for number, amplifier in enumerate(self.amplifiers):
                for channel, entry, exit_ in amplifier_channels(amplifier, self.instance):
                    before = Line(source, plug(entry), rack, sub)
                    for group in feed.groups:
                        yield (before, Line(plug(exit_), plug(group), room, sub)), number, channel

    def _possible_splits(self) -> Iterator[Split]:
        for point in self.points:
            if point.speaker_level or (self.limits.balanced_only and not point.group.balanced):
                continue
            for key in self.carries[point]:
                for tree in sorted(trees(self._splitters, plug(point.group), self._legs_at_most[key])):
                    for jack in point.jacks:
                        yield Split(point, jack, key, tree, self.programme.binary())

    def _possible_inputs(self) -> Iterator[Input]:
        length = self.leads.internal_m
        bass = {feed.channel for feed in self.subwoofers}
        for point in (point for output in self.processor_outputs for point in output.points):
            for channel in sorted(self.scenario.channels):
                if point.speaker_level or not point.may_carry_whole(channel):
                    continue
                for box, unit in enumerate(self.boxes):
                    for group, number in dsp_inputs(self.instance, unit):
                        line = Line(plug(point.group), plug(group), length, channel in bass)
                        for jack in point.jacks if self.leads.makes(line) else ():
                            yield Input(point, jack, box, group, number, channel, line, self.programme.binary())

    def _possible_crossovers(self) -> Iterator[Crossover]:
        crossed = {(feed.member, feed.channel) for feed in self.scenario.feeds if feed.way is not None}
        for member, channel in sorted(crossed):
            for box, unit in enumerate(self.boxes):
                for group, number in dsp_inputs(self.instance, unit):
                    yield Crossover(member, channel, box, group, number, self.programme.binary())

    def _possible_links(self) -> Iterator[Link]:
        allowed = Drive.DAISY_CHAINED in self.limits.drives
        for source in self.subwoofers if allowed else ():
            for sink in self.subwoofers:
                if source is sink or source.key != sink.key or sink.speaker_level:
                    continue
                length = self.leads.route_m(source.position, sink.position)
                for out in source.links:
                    for group in sink.groups:
                        line = Line(plug(out), plug(group), length, True)
                        if self.leads.makes(line):
                            yield Link(source, sink, line, self.programme.binary())


def amplifier_channels(amplifier: Amplifier, instance: Instance) -> list[tuple[int, PortGroup, PortGroup]]:
    """Each channel of an amplifier by number, with each pair of groups that have a jack of it."""
    inputs = line_level(instance.catalogue.inputs(amplifier.sku))
    outputs = speaker_level(instance.catalogue.outputs(amplifier.sku))
    return [
        (channel, one, other)
        for channel in range(1, amplifier.channels + 1)
        for one in inputs
        for other in outputs
        if channel <= min(one.count, other.count)
    ]
