"""The rules on the choices of one scenario, R1 to R10 and R16, one function a rule."""

from itertools import pairwise

from planner.brief.records import Drive
from planner.catalogue.records import PortGroup
from tests.oracle.choices import Choices, Crossover, Input, chosen
from tests.oracle.linear import Sum, total
from tests.oracle.points import ControlPoint, alike_points, derives, dsp_inputs
from tests.oracle.scenario import Feed


def every_feed_is_driven_once(c: Choices) -> None:
    """R1."""
    for feed in c.scenario.feeds:
        hooks = chosen(hook for hook in c.hooks if hook.feed is feed)
        c.programme.equal(hooks + chosen(link for link in c.links if link.sink is feed), 1)


def every_jack_takes_one_plug(c: Choices) -> None:
    """R2: a lead, a splitter or nothing on a jack; each leg of a tree of splitters has its feed."""
    for point in c.points:
        for jack in point.jacks:
            hooks = [hook for hook in c.hooks_on[point] if hook.jack == jack]
            splits = [split for split in c.splits_on[point] if split.jack == jack]
            inputs = (i for i in c.inputs_from[point] if i.jack == jack)
            c.programme.at_most(chosen(h for h in hooks if h.leg is None) + chosen(inputs) + chosen(splits), 1)
            for key in c.carries[point]:
                for kind in c.catalogue.splitters:
                    legs = total(s.tree.legs.count(kind.sku) * s.chosen for s in splits if s.key == key)
                    c.programme.equal(chosen(h for h in hooks if h.leg is kind and h.feed.key == key), legs)


def every_point_has_one_use(c: Choices) -> None:
    """One feed, or a split of feeds of one channel and way (R8), or one input of a DSP unit."""
    for point in c.points:
        single, split = c.single[point], c.split[point]
        fed = chosen(c.hooks_on[point])
        c.programme.at_most(c.in_use(point), 1)
        c.programme.at_least(fed, single + 2 * split)
        c.programme.at_most(fed, single + c.limits.largest_split * split)
        c.programme.equal(total(c.carries[point].values()), single + split)
        ways = total(carried for key, carried in c.carries[point].items() if key[1] is not None)
        c.programme.at_most(split + ways, 1)
        for feed in c.scenario.feeds:
            if feed.key in c.carries[point]:
                c.programme.at_most(hooks_of(c, point, feed), c.carries[point][feed.key])


def splitters_of_one_split_are_alike(c: Choices) -> None:
    """One pattern a control point, also over the several jacks of a mirrored group."""
    for point in c.points:
        splits = c.splits_on[point]
        picked = {split.tree.pattern: c.programme.binary() for split in splits}
        c.programme.at_most(total(picked.values()), 1)
        for split in splits:
            c.programme.at_most(split.chosen, picked[split.tree.pattern])


def like_jacks_are_used_in_order(c: Choices) -> None:
    """Of jacks that nothing tells apart the first are used: no design is lost, time is saved."""
    for output in c.outputs:
        box = output.points[0].box
        each = None if box is None else c.boxes[box].outputs_per_input
        for alike in alike_points(output, each):
            for one, other in pairwise(alike):
                c.programme.at_least(c.in_use(one), c.in_use(other))


def drives_are_allowed(c: Choices) -> None:
    """No feed by a drive that the brief leaves out; DSP units, splits and links are not on offer then."""
    if Drive.DEDICATED not in c.limits.drives:
        for point in processor_points(c):
            c.programme.equal(c.single[point], 0)
    if Drive.SPLIT not in c.limits.drives:
        for point in c.points:
            c.programme.equal(c.split[point], 0)


def outputs_in_use_are_processed(c: Choices) -> None:
    """R5; the channels rendered are settled with the scenario."""
    c.programme.at_least(processed_left(c), 0)


def dsp_outputs_derive_from_inputs(c: Choices) -> None:
    """R7: a whole channel comes in at an input that the output can derive from; no input is idle."""
    for box, unit in enumerate(c.boxes):
        inputs = [i for i in c.inputs if i.box == box]
        points = [point for point in c.points if point.box == box]
        c.programme.at_most(chosen(inputs), unit.inputs)
        c.programme.at_most(total(c.in_use(point) for point in points), unit.outputs)
        for group, number in dsp_inputs(c.instance, unit):
            c.programme.at_most(chosen(i for i in inputs if i.group is group and i.number == number), 1)
        for channel in c.scenario.channels:
            whole = {
                (group, number): _whole_channel(c, box, group, number, channel)
                for group, number in dsp_inputs(c.instance, unit)
            }
            carried = {point: c.carries[point].get((channel, None), Sum()) for point in points}
            for point in points:
                sources = (n for (_, number), n in whole.items() if derives(unit, point.jacks[0], number))
                c.programme.at_most(carried[point], total(sources))
            for (_, number), comes_in in whole.items():
                c.programme.at_least(comes_in, 0)
                outputs = (n for point, n in carried.items() if derives(unit, point.jacks[0], number))
                c.programme.at_most(comes_in, total(outputs))


def crossovers_are_made_in_one_device(c: Choices) -> None:
    """R4: all ways of a loudspeaker from processor outputs, or all from one DSP input of its own."""
    for group, number, box in {(one.group, one.number, one.box) for one in c.crossovers}:
        here = [one for one in c.crossovers if (one.group, one.number, one.box) == (group, number, box)]
        c.programme.at_most(chosen(here), 1)
    for feed in c.scenario.feeds:
        if feed.way is None:
            continue
        own = [one for one in c.crossovers if one.member == feed.member]
        c.programme.at_most(chosen(own), 1)
        for box, unit in enumerate(c.boxes):
            hooks = [hook for hook in c.hooks if hook.feed is feed and hook.point.box == box]
            c.programme.equal(chosen(hooks), chosen(one for one in own if one.box == box))
            for one in (one for one in own if one.box == box):
                within = (hook for hook in hooks if derives(unit, hook.point.jacks[0], one.number))
                c.programme.at_least(chosen(within), one.chosen)


def _whole_channel(c: Choices, box: int, group: PortGroup, number: int, channel: str) -> Sum:
    """1 where a channel comes in at this input for feeds that take it whole, not for a crossover."""

    def here(choice: Input | Crossover) -> bool:
        return (choice.box, choice.group, choice.number, choice.channel) == (box, group, number, channel)

    return chosen(i for i in c.inputs if here(i)) - chosen(one for one in c.crossovers if here(one))


def boxes_in_use_serve(c: Choices) -> None:
    """A DSP unit or amplifier is in the design where it serves a feed, and only there."""
    c.programme.at_most(total(c.box_used), c.limits.most_dsp_units)
    for box, used in enumerate(c.box_used):
        uses = [c.in_use(point) for point in c.points if point.box == box]
        c.programme.at_most(used, total(uses))
        for use in uses:
            c.programme.at_least(used, use)
    for number, used in enumerate(c.amplifier_used):
        hooks = [hook for hook in c.hooks if hook.amplifier == number]
        c.programme.at_most(used, chosen(hooks))
        for channel in {hook.channel for hook in hooks}:
            c.programme.at_least(used, chosen(hook for hook in hooks if hook.channel == channel))


def chains_are_paths(c: Choices) -> dict[Feed, Sum]:
    """R9: each link output feeds one subwoofer, the head shares its control point with no other.

    Returns a place in its chain for each subwoofer, from 0: each is behind the one that feeds it.
    """
    farthest = min(len(c.subwoofers), max(c.limits.largest_split, 1)) - 1
    place = {feed: c.programme.whole(farthest) for feed in c.subwoofers}
    for feed in c.subwoofers:
        linked = c.linked_from(feed)
        c.programme.at_most(linked, 1)
        for point in c.points:
            c.programme.at_most(linked + c.split[point] + hooks_of(c, point, feed), 2)
    for link in c.links:
        c.programme.at_least(place[link.sink] - place[link.source], 1 - len(place) * (1 - link.chosen))
    return place


def rack_units_fit(c: Choices) -> None:
    """R16."""
    if c.instance.brief.rack.units is not None:
        units = total(device.mains.rack_units * used for device, used in c.boxes_and_amplifiers)
        c.programme.at_most(units + c.scenario.rack_units, c.instance.brief.rack.units)


def control_groups_suffice(c: Choices) -> None:
    """As many control groups with subwoofers as the brief asks for."""
    groups: list[Sum] = []
    for point in c.points:
        groups.append(c.programme.binary())
        c.programme.at_most(groups[-1], chosen(hook for hook in c.hooks_on[point] if hook.feed.is_subwoofer))
    c.programme.at_least(total(groups), c.limits.least_control_groups)


def processor_points(c: Choices) -> list[ControlPoint]:
    return [point for output in c.processor_outputs for point in output.points]


def processed_left(c: Choices) -> Sum:
    """The outputs that the processor could still set separately."""
    return c.scenario.processed - total(c.in_use(point) for point in processor_points(c))


def hooks_of(c: Choices, point: ControlPoint, feed: Feed) -> Sum:
    """1 where the feed hangs on the control point."""
    return chosen(hook for hook in c.hooks_on[point] if hook.feed is feed)
