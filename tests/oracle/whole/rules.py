"""The rules on the choices, R1 to R10 and R16, one function a rule."""

from collections import defaultdict

from planner.catalogue.records import DspUnit
from tests.oracle.leads import Plug, plug
from tests.oracle.linear import Sum, total
from tests.oracle.scenario import Feed, line_level
from tests.oracle.splits import Pattern
from tests.oracle.whole.choices import Choices, Source, Through


def one_processor(c: Choices) -> None:
    """Exactly one, with its cards."""
    c.programme.equal(total(chosen for _, chosen in c.configurations), 1)


def every_feed_is_driven_once(c: Choices) -> None:
    """R1: each feed of the chosen model, and none of another."""
    for member in c.members:
        for feed in member.feeds:
            fed = total(hook.chosen for hook in c.hooks_of[feed]) + total(x.chosen for x in c.links_into[feed])
            c.programme.equal(fed, member.chosen)


def jacks_suffice(c: Choices) -> None:
    """R2, R5: no more control points of a kind than there are, and no more in all than are processed."""
    for source, have in c.sources:
        c.programme.at_most(c.points(source), have)
    c.programme.at_least(processed_left(c), 0)


def processed_left(c: Choices) -> Sum:
    """The outputs that the processor could still set separately."""
    processed = total(configuration.processed * chosen for configuration, chosen in c.configurations)
    return processed - total(c.points((jack, None)) for jack, _ in c.processor_jacks)


def legs_have_their_feeds(c: Choices) -> None:
    """R8: as many feeds on legs as the splits have, channel by channel."""
    feeds: dict[tuple[Source, str, Pattern], list[Sum]] = defaultdict(list)
    legs: dict[tuple[Source, str, Pattern], list[Sum]] = defaultdict(list)
    for hook in c.hooks:
        if hook.split is not None:
            feeds[hook.source, hook.feed.channel, hook.split].append(hook.chosen)
    for split in c.splits:
        legs[split.source, split.channel, split.pattern].append(split.legs * split.number)
    for key in dict.fromkeys((*feeds, *legs)):
        c.programme.equal(total(feeds[key]), total(legs[key]))


def mirrored_groups_share(c: Choices) -> None:
    """R4, R8: several feeds on a mirrored group, by its jacks and by splitters of one pattern on them."""
    for jack, several in c.several.items():
        source = (jack, None)
        shared = [hook for hook in c.hooks_on[source] if not hook.alone]
        direct = total(hook.chosen for hook in shared if hook.shared)
        splits = c.splits_on[source]
        fed = total(hook.chosen for hook in shared)
        c.programme.at_most(direct + total(split.number for split in splits), jack.jacks * several)
        c.programme.at_most(fed, c.limits.largest_split * several)
        c.programme.at_least(fed, 2 * several)
        picked = {split.pattern: c.programme.binary() for split in splits}
        c.programme.at_most(total(picked.values()), 1)
        for split in splits:
            c.programme.at_most(split.number, jack.jacks * picked[split.pattern])


def amplifier_channels_suffice(c: Choices) -> None:
    """A channel for each feed that goes through one, by the input and the output that it takes."""
    used: dict[Through, list[Sum]] = defaultdict(list)
    for hook in c.hooks:
        if hook.through is not None:
            used[hook.through].append(hook.chosen)
    for through in c.throughs:
        c.programme.at_most(total(used[through]), total(ways.get(through, 0) for _, _, ways in c.amplifiers))


def dsp_units_hold(c: Choices) -> None:
    """R7: one model a slot, its inputs and outputs, and every output from an input of its channel."""
    for slot in c.slots:
        models = [(unit, c.dsp[slot, unit.sku]) for unit in c.units]
        c.programme.at_most(total(chosen for _, chosen in models), 1)
        if slot:
            c.programme.at_most(
                total(chosen for _, chosen in models), total(c.dsp[slot - 1, unit.sku] for unit in c.units)
            )
        entries = [entry for entry in c.entries if entry.unit == slot]
        c.programme.at_most(total(e.number for e in entries), total(unit.inputs * n for unit, n in models))
        for into in {entry.into for entry in entries}:
            jacks = total(_inputs(c, unit, into) * n for unit, n in models)
            c.programme.at_most(total(e.number for e in entries if e.into == into), jacks)
        outputs = [(source, c.points(source)) for source, _ in c.sources if source[1] == slot]
        c.programme.at_most(total(n for _, n in outputs), total(unit.outputs * n for unit, n in models))
        for channel in sorted({entry.channel for entry in entries}):
            entered = total(entry.number for entry in entries if entry.channel == channel)
            _outputs_derive(c, slot, channel, entered, models)


def _inputs(c: Choices, unit: DspUnit, into: Plug) -> int:
    return sum(group.count for group in line_level(c.catalogue.inputs(unit.sku)) if plug(group) == into)


def _outputs_derive(c: Choices, slot: int, channel: str, entered: Sum, models: list[tuple[DspUnit, Sum]]) -> None:
    """Feeds of a channel only where it comes in; with fixed routing so many outputs an input."""
    hooks = [hook for hook in c.hooks if hook.source[1] == slot and hook.feed.channel == channel]
    by_feed: dict[Feed, list[Sum]] = defaultdict(list)
    for hook in hooks:
        by_feed[hook.feed].append(hook.chosen)
    for fed in by_feed.values():
        c.programme.at_most(total(fed), entered)
    splits = [split for split in c.splits if split.source[1] == slot and split.channel == channel]
    outputs = total(hook.chosen for hook in hooks if hook.alone) + total(split.number for split in splits)
    most = c.places[channel]
    for each in sorted({unit.outputs_per_input for unit, _ in models if unit.outputs_per_input is not None}):
        fixed = total(chosen for unit, chosen in models if unit.outputs_per_input == each)
        c.programme.at_most(outputs, each * entered + most * (1 - fixed))


def chains_are_paths(c: Choices) -> dict[Feed, Sum]:
    """R9: a link output feeds one subwoofer; the head shares its jack with no other.

    Returns the place in its chain, from 0, of each subwoofer that may be in one.
    """
    farthest = c.limits.largest_split - 1
    chained = dict.fromkeys(feed for link in c.links for feed in (link.source, link.sink))
    place = {feed: c.programme.whole(farthest) for feed in chained}
    for feed in place:
        onward = total(link.chosen for link in c.links_from[feed])
        alone = total(hook.chosen for hook in c.hooks_of[feed] if hook.alone)
        c.programme.at_most(onward, alone + total(link.chosen for link in c.links_into[feed]))
    for link in c.links:
        c.programme.at_least(place[link.sink] - place[link.source], 1 - (farthest + 1) * (1 - link.chosen))
    return place


def rack_units_fit(c: Choices) -> None:
    """R16."""
    most = c.instance.brief.rack.units
    if most is None:
        return
    heights = {unit.sku: unit.mains.rack_units for unit in c.units}
    used = total(configuration.rack_units * chosen for configuration, chosen in c.configurations)
    used += total(heights[sku] * chosen for (_, sku), chosen in c.dsp.items())
    used += total(amplifier.mains.rack_units * number for amplifier, number, _ in c.amplifiers)
    used += total(len(m.feeds) * m.item.mains.rack_units * m.chosen for m in c.members)
    c.programme.at_most(used, most)
