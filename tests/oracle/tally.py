"""For brute force: a whole design before it is priced, and its measures M2 to M6, counted."""

from collections import Counter
from typing import NamedTuple

from planner.brief.records import Limits
from planner.catalogue.records import DspUnit, PortGroup
from planner.contacts import SPEAKER_LEVEL
from tests.oracle.instance import Bounds, Instance
from tests.oracle.leads import Line
from tests.oracle.points import ControlPoint, OutputGroup, spare
from tests.oracle.scenario import Scenario
from tests.oracle.wiring import Serving


class Tally(NamedTuple):
    """The measures of a design, and its control groups."""

    independent: int
    groups: int
    spare: int
    lost: int
    conversions: int
    joints: int

    def within(self, bounds: Bounds) -> bool:
        return (
            self.independent >= bounds.least_independent
            and self.spare >= bounds.least_spare
            and (bounds.most_lost is None or self.lost <= bounds.most_lost)
            and (bounds.most_conversions is None or self.conversions <= bounds.most_conversions)
            and (bounds.most_joints is None or self.joints <= bounds.most_joints)
        )

    def keeps(self, limits: Limits) -> bool:
        """Whether the brief's limits on measures hold."""
        return (
            self.independent >= limits.least_independent_subwoofers
            and self.groups >= limits.least_control_groups
            and self.spare >= limits.spare_outputs
            and (limits.most_subwoofers_lost is None or self.lost <= limits.most_subwoofers_lost)
        )


class Entry(NamedTuple):
    """A processor point that feeds an input group of a DSP unit, number `box`, with a channel."""

    point: ControlPoint
    line: Line
    group: PortGroup
    box: int
    channel: str


class Sketch(NamedTuple):
    """A design but for how its leads are made. `feeds_in`: the processor points that feed DSP units."""

    scenario: Scenario
    outputs: tuple[OutputGroup, ...]
    boxes: tuple[DspUnit, ...]
    servings: tuple[Serving, ...]
    feeds_in: tuple[Entry, ...]

    @property
    def lines(self) -> list[Line]:
        served = [line for serving in self.servings for line in serving.wires.lines]
        return served + [entry.line for entry in self.feeds_in]

    @property
    def amplifiers(self) -> set[tuple[str, int]]:
        """Each amplifier by its sku and number."""
        return {channel[:2] for serving in self.servings for channel, _ in serving.wires.channels}

    @property
    def processor_points(self) -> list[ControlPoint]:
        """The processor's control points in use."""
        return [s.point for s in self.servings if s.point.box is None] + [entry.point for entry in self.feeds_in]


def tally(instance: Instance, sketch: Sketch, adapters_to_subs: int) -> Tally:
    """The measures, counted from the sketch."""
    bass = [serving for serving in sketch.servings if serving.feeds[0].is_subwoofer]
    lines = sketch.lines
    return Tally(
        independent=sum(_independent(instance, serving) for serving in bass),
        groups=len(bass),
        spare=_spare(instance, sketch),
        lost=max(_losses(bass), default=0),
        conversions=sum(line.converts for line in lines) + sum(s.wires.conversions for s in sketch.servings),
        joints=sum((5 if line.isolated else 2) for line in lines if line.to_sub) + adapters_to_subs + _boxes(bass),
    )


def _independent(instance: Instance, serving: Serving) -> bool:
    filters = instance.brief.limits.filters_per_subwoofer
    return len(serving.feeds) == 1 and serving.point.controls.independent(filters)


def _spare(instance: Instance, sketch: Sketch) -> int:
    used = sketch.processor_points
    free = sum(
        spare(instance, output.group, sum(point in used for point in output.points))
        for output in sketch.outputs
        if output.group.connector not in SPEAKER_LEVEL
    )
    return min(free, sketch.scenario.processed - len(used), instance.brief.limits.spare_ceiling)


def _losses(bass: list[Serving]) -> list[int]:
    """How many subwoofers each failure silences, the lesser ones of a path left out."""
    by_box = Counter(s.point.box for s in bass for _ in s.feeds if s.point.box is not None)
    by_amplifier = Counter(channel[:2] for s in bass for channel, _ in s.wires.channels)
    behind_splitters = [root for s in bass for root in s.wires.roots]
    chains = [len(s.feeds) if s.chained else 1 for s in bass]
    return [*by_box.values(), *by_amplifier.values(), *behind_splitters, *chains]


def _boxes(bass: list[Serving]) -> int:
    """DSP units and amplifiers on the way to subwoofers, and splitters with their plugs."""
    splitters = sum(len(s.wires.splitters) for s in bass)
    dsp_units = {s.point.box for s in bass} - {None}
    amplifiers = {channel[:2] for s in bass for channel, _ in s.wires.channels}
    return 2 * splitters + len(dsp_units) + len(amplifiers)
