"""Control points of a processor and its cards, and of DSP units (R4 and "Control points")."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.catalogue.records import Controls, DspUnit, PortGroup, PortRole
from planner.contacts import DIGITAL, SPEAKER_LEVEL
from tests.oracle.instance import Instance
from tests.oracle.scenario import Feed, Scenario, channels_in_brief, line_level

BASS = {"LFE1", "LFE2"}


@dataclass(frozen=True, eq=False, slots=True)
class ControlPoint:
    """One setting of gain, delay, polarity and filters; all `jacks` of `group` carry its signal.

    `box` is the DSP unit that it belongs to, None for the processor and its cards.
    """

    group: PortGroup
    jacks: tuple[int, ...]
    controls: Controls
    box: int | None = None

    @property
    def speaker_level(self) -> bool:
        return self.group.connector in SPEAKER_LEVEL

    def may_carry_whole(self, channel: str) -> bool:
        """Whether the role allows the whole channel (R4)."""
        match self.group.role:
            case PortRole.FIXED_MAIN:
                return self.group.channels[self.jacks[0] - 1] == channel
            case PortRole.FIXED_SUB | PortRole.MIRRORED_SUB:
                return channel in BASS
            case PortRole.ASSIGNABLE:
                return not self.group.channels or channel in self.group.channels
            case PortRole.PLAIN:
                return self.box is not None
            case PortRole.LINK:
                return False

    def may_carry(self, feed: Feed) -> bool:
        """Whether the role allows what this feed wants, a way of a channel included."""
        if feed.way is None:
            return self.may_carry_whole(feed.channel)
        whole_only = self.group.role in (PortRole.FIXED_MAIN, PortRole.FIXED_SUB, PortRole.MIRRORED_SUB)
        return not whole_only and self.may_carry_whole(feed.channel) and self.controls.crossover_ways >= feed.ways


@dataclass(frozen=True, eq=False, slots=True)
class OutputGroup:
    """One analogue output group of one unit, with its control points."""

    group: PortGroup
    points: tuple[ControlPoint, ...]


def processor_outputs(instance: Instance, scenario: Scenario) -> list[OutputGroup]:
    """The analogue output groups of the processor, then of each card in turn."""
    skus = (scenario.processor.sku, *(card.sku for card in scenario.cards))
    return [
        OutputGroup(group, tuple(points_of_group(group, scenario.processor.controls)))
        for sku in skus
        for group in instance.catalogue.outputs(sku)
        if group.connector not in DIGITAL
    ]


def dsp_outputs(instance: Instance, unit: DspUnit, box: int) -> list[OutputGroup]:
    """The line output groups of one DSP unit."""
    groups = line_level(instance.catalogue.outputs(unit.sku))
    return [OutputGroup(group, tuple(points_of_group(group, unit.controls, box))) for group in groups]


def points_of_group(group: PortGroup, controls: Controls, box: int | None = None) -> Iterator[ControlPoint]:
    """One control point a jack, except that a mirrored group is one."""
    if group.role is PortRole.MIRRORED_SUB:
        yield ControlPoint(group, tuple(range(1, group.count + 1)), controls, box)
        return
    for jack in range(1, group.count + 1):
        yield ControlPoint(group, (jack,), controls, box)


def dsp_inputs(instance: Instance, unit: DspUnit) -> list[tuple[PortGroup, int]]:
    """The line input jacks of a DSP unit."""
    groups = line_level(instance.catalogue.inputs(unit.sku))
    return [(group, jack) for group in groups for jack in range(1, group.count + 1)]


def derives(unit: DspUnit, output_jack: int, input_jack: int) -> bool:
    """Whether an output jack of a DSP unit can derive from an input jack (R7)."""
    each = unit.outputs_per_input
    return each is None or input_jack == -(-output_jack // each)


def alike_points(output: OutputGroup, outputs_per_input: int | None) -> Iterator[tuple[ControlPoint, ...]]:
    """The control points of a group, those together that nothing tells apart.

    Each fixed output has a channel of its own; outputs of a DSP unit with fixed routing are
    alike where they derive from the same input.
    """
    if output.group.role is PortRole.FIXED_MAIN:
        yield from ((point,) for point in output.points)
        return
    size = outputs_per_input or len(output.points)
    for first in range(0, len(output.points), size):
        yield output.points[first : first + size]


def spare(instance: Instance, group: PortGroup, used_points: int) -> int:
    """M3's share of one line-level output group with so many control points in use."""
    unused = len(set(group.channels) - channels_in_brief(instance))
    points = 1 if group.role is PortRole.MIRRORED_SUB else group.count
    match group.role:
        case PortRole.FIXED_MAIN:
            return unused
        case PortRole.ASSIGNABLE if group.channels:
            return min(points - used_points, unused)
        case _:
            return points - used_points
