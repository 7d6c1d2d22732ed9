"""The optimum by writing out every design of a tiny instance, one control point at a time.

Another way of thinking than `milp`: take the first feed not yet served, try every company that
it may keep on a control point (alone, a split, a chain), every free control point and every
way to wire that; at the end feed the DSP units and price what stands there.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, combinations_with_replacement, permutations, product

from planner.brief.records import Drive
from planner.catalogue.records import DspUnit, PortGroup
from tests.oracle.instance import UNBOUNDED, Bounds, Instance, available
from tests.oracle.isolators import with_isolators
from tests.oracle.leads import Leads, Line, plug
from tests.oracle.points import ControlPoint, OutputGroup, alike_points, derives, dsp_outputs, processor_outputs
from tests.oracle.pricing import Pricing
from tests.oracle.scenario import Feed, Scenario, line_level, scenarios
from tests.oracle.scope import assert_in_scope
from tests.oracle.tally import Entry, Sketch, Tally, tally
from tests.oracle.terms import with_tax, within_budget
from tests.oracle.wiring import Serving, Wiring

Signal = tuple[str, str]
"""A channel within a DSP unit, and the crossed loudspeaker that it is for; no name: whole."""
Want = tuple[str, PortGroup, int]
"""A channel that a DSP unit needs, the input group that it comes in by, and the unit's number."""


class Table:
    """The least price of every combination of measures that any design of an instance has."""

    def __init__(self, instance: Instance) -> None:
        self.prices: dict[Tally, int] = {}
        for _, found, subtotal in priced_sketches(instance):
            self._note(instance, found, subtotal)

    def price_minor(self, bounds: Bounds = UNBOUNDED) -> int | None:
        """The least total price under bounds; None where no design exists."""
        return min((price for found, price in self.prices.items() if found.within(bounds)), default=None)

    def _note(self, instance: Instance, found: Tally, subtotal: int) -> None:
        price = with_tax(instance, subtotal)
        if found.keeps(instance.brief.limits) and within_budget(instance, price):
            self.prices[found] = min(price, self.prices.get(found, price))


def priced_sketches(instance: Instance) -> Iterator[tuple[Sketch, Tally, int]]:
    """Every design of an instance, with its measures and its least subtotal."""
    assert_in_scope(instance)
    leads = Leads(instance)
    pricing = Pricing(instance, leads)
    for scenario in scenarios(instance):
        for plain in _Enumeration(instance, scenario, leads).sketches():
            for sketch in with_isolators(instance, plain):
                for adapters, subtotal in pricing.subtotals(sketch).items():
                    yield sketch, tally(instance, sketch, adapters), subtotal


class _Enumeration:
    """All designs of one scenario, up to jacks that nothing tells apart."""

    def __init__(self, instance: Instance, scenario: Scenario, leads: Leads) -> None:
        self._instance, self._scenario, self._leads = instance, scenario, leads
        self._limits = instance.brief.limits
        self._wiring = Wiring(instance, leads)
        self._outputs = processor_outputs(instance, scenario)

    def sketches(self) -> Iterator[Sketch]:
        """Every design that keeps the rules but for what can be bought."""
        for boxes in self._line_ups():
            outputs = [*self._outputs]
            for box, unit in enumerate(boxes):
                outputs += dsp_outputs(self._instance, unit, box)
            for servings in self._serve(self._scenario.feeds, outputs, boxes, ()):
                for feeds_in in self._feed_boxes(boxes, servings):
                    sketch = Sketch(self._scenario, tuple(self._outputs), boxes, servings, feeds_in)
                    if self._fits(sketch):
                        yield sketch

    def _line_ups(self) -> Iterator[tuple[DspUnit, ...]]:
        """Each handful of DSP units, none of them idle later."""
        units = [unit for unit in self._instance.catalogue.dsp_units if available(self._instance, unit.sku) != 0]
        most = self._limits.most_dsp_units if Drive.DSP in self._limits.drives else 0
        for number in range(most + 1):
            yield from combinations_with_replacement(units, number)

    def _serve(
        self, feeds: tuple[Feed, ...], outputs: list[OutputGroup], boxes: tuple[DspUnit, ...], done: tuple[Serving, ...]
    ) -> Iterator[tuple[Serving, ...]]:
        """Every way to serve the feeds that are left, on control points still free."""
        if not feeds:
            if _boxes_serve(boxes, done) and _crossovers_whole(done):
                yield done
            return
        first, rest = feeds[0], feeds[1:]
        for point in _free_points(outputs, boxes, [serving.point for serving in done]):
            if point.may_carry(first) and (point.box is None or self._scenario.dsp_may_serve(first)):
                for others in _subsets([feed for feed in rest if feed.key == first.key]):
                    left = tuple(feed for feed in rest if feed not in others)
                    for serving in self._ways(point, (first, *others), done):
                        yield from self._serve(left, outputs, boxes, (*done, serving))

    def _ways(self, point: ControlPoint, feeds: tuple[Feed, ...], done: tuple[Serving, ...]) -> Iterator[Serving]:
        """Every drive by which these feeds can be served by one control point."""
        drives = self._limits.drives
        head_allowed = point.box is not None or Drive.DEDICATED in drives
        if len(feeds) == 1:
            if head_allowed:
                yield from self._wiring.alone(point, feeds[0], done)
            return
        if len(feeds) > self._limits.largest_split:
            return
        if Drive.SPLIT in drives and feeds[0].way is None:
            yield from self._wiring.split(point, feeds, done)
        if Drive.DAISY_CHAINED in drives and head_allowed:
            for order in permutations(feeds):
                yield from self._wiring.chain(point, order, done)

    def _feed_boxes(self, boxes: tuple[DspUnit, ...], servings: tuple[Serving, ...]) -> Iterator[tuple[Entry, ...]]:
        """Every way to bring the DSP units the channels that their outputs carry (R7)."""
        taken = [serving.point for serving in servings if serving.point.box is None]
        plans = [
            list(self._plans(box, unit, [serving for serving in servings if serving.point.box == box]))
            for box, unit in enumerate(boxes)
        ]
        for plan in product(*plans):
            yield from self._bring([want for wants in plan for want in wants], taken)

    def _plans(self, box: int, unit: DspUnit, servings: list[Serving]) -> Iterator[tuple[Want, ...]]:
        """Every way in which the channels of a unit's outputs can come in, each by an input of its own."""
        groups = line_level(self._instance.catalogue.inputs(unit.sku))
        if unit.outputs_per_input is None:
            channels = [channel for channel, _ in sorted({_signal(serving) for serving in servings})]
            if len(channels) <= unit.inputs:
                for entries in product(groups, repeat=len(channels)):
                    if all(entries.count(group) <= group.count for group in groups):
                        yield tuple((channel, group, box) for channel, group in zip(channels, entries, strict=True))
            return
        (group,) = groups
        signal_at: dict[int, Signal] = {}
        for serving in servings:
            jack = serving.point.jacks[0]
            (number,) = (n for n in range(1, jack + 1) if derives(unit, jack, n))
            signal = _signal(serving)
            if number > group.count or signal_at.setdefault(number, signal) != signal:
                return
        crossed = [signal for signal in signal_at.values() if signal[1]]
        if len(crossed) == len(set(crossed)) and len(signal_at) <= unit.inputs:
            yield tuple((channel, group, box) for channel, _ in signal_at.values())

    def _bring(self, wants: Sequence[Want], taken: list[ControlPoint]) -> Iterator[tuple[Entry, ...]]:
        """Every way to feed DSP inputs from control points of the processor."""
        if not wants:
            yield ()
            return
        channel, group, box = wants[0]
        to_sub = any(feed.is_subwoofer and feed.channel == channel for feed in self._scenario.feeds)
        for point in _free_points(self._outputs, (), taken):
            line = Line(plug(point.group), plug(group), self._leads.internal_m, to_sub)
            makes = self._leads.makes(line) or self._leads.makes(replace(line, isolated=True))
            if not point.speaker_level and point.may_carry_whole(channel) and makes:
                for others in self._bring(wants[1:], [*taken, point]):
                    yield (Entry(point, line, group, box, channel), *others)

    def _fits(self, sketch: Sketch) -> bool:
        """R5's processed outputs and R16's rack units."""
        heights = {amplifier.sku: amplifier.mains.rack_units for amplifier in self._instance.catalogue.amplifiers}
        units = self._scenario.rack_units + sum(unit.mains.rack_units for unit in sketch.boxes)
        units += sum(heights[sku] for sku, _ in sketch.amplifiers)
        room = self._instance.brief.rack.units
        return len(sketch.processor_points) <= self._scenario.processed and (room is None or units <= room)


def _free_points(
    outputs: list[OutputGroup], boxes: tuple[DspUnit, ...], taken: list[ControlPoint]
) -> Iterator[ControlPoint]:
    """Control points not taken; of those that nothing tells apart, the first."""
    for output in outputs:
        box = output.points[0].box
        each = None if box is None else boxes[box].outputs_per_input
        for alike in alike_points(output, each):
            yield from [point for point in alike if point not in taken][:1]


def _subsets(feeds: list[Feed]) -> Iterator[tuple[Feed, ...]]:
    for number in range(len(feeds) + 1):
        yield from combinations(feeds, number)


def _boxes_serve(boxes: tuple[DspUnit, ...], servings: tuple[Serving, ...]) -> bool:
    """Whether each DSP unit serves something, and no more than its outputs."""
    used = [serving.point.box for serving in servings]
    return all(1 <= used.count(box) <= unit.outputs for box, unit in enumerate(boxes))


def _crossovers_whole(servings: tuple[Serving, ...]) -> bool:
    """Whether the ways of each crossed loudspeaker all come from processor outputs or from one DSP unit."""
    places = {(s.feeds[0].member, s.point.box) for s in servings if s.feeds[0].way is not None}
    return len(places) == len({member for member, _ in places})


def _signal(serving: Serving) -> Signal:
    feed = serving.feeds[0]
    return (feed.channel, "" if feed.way is None else feed.member)
