"""For brute force: levels, loads and earth loops of a sketch, by the rule of thumb of the trade.

Gear is given figures on a grid, so that a rule of thumb is all it takes: a symmetrical output
gives 6 dB less into an unbalanced input, and nothing else matters, since outputs of 1 ohm do not
feel inputs of 20 kilohm. All margins lie half a decibel from any whole number, so no rounding
decides. Nothing of the planner is called; loops are the cyclomatic number by networkx.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import floor, inf, log10
from random import Random
from typing import TypeVar

import networkx as nx

from planner.brief.records import Limits, PhysicalLimit
from planner.catalogue.records import (
    Amplifier,
    DspUnit,
    Item,
    Loudspeaker,
    Mains,
    OutputStage,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.contacts import DIGITAL, SPEAKER_LEVEL, Direction
from tests.oracle.instance import Instance
from tests.oracle.tally import Sketch
from tests.oracle.wiring import Serving

Load = TypeVar("Load", Loudspeaker, Subwoofer)

_LEVELS_DBU = (-4.0, 2.0, 8.0, 14.0)
_HALF_DB = 0.5
_CONVERSION_DB = 6.0
MOST_MARGIN_DB = 12


def electrified(instance: Instance, rng: Random) -> Instance:
    """The instance with figures on the grid, and the limits of R11 and R14 kept."""
    catalogue = instance.catalogue
    ports = {sku: tuple(_figures(port, rng) for port in groups) for sku, groups in catalogue.ports.items()}
    electric = replace(
        catalogue,
        processors=tuple(
            replace(p, amp_power_8ohm_w=100.0, amp_least_load_ohm=rng.choice((4.0, 6.0)), mains=_mains(p.mains, rng))
            for p in catalogue.processors
        ),
        dsp_units=tuple(
            replace(unit, max_gain_db=rng.choice((0.0, 6.0, 12.0)), mains=_mains(unit.mains, rng))
            for unit in catalogue.dsp_units
        ),
        amplifiers=tuple(
            replace(a, least_load_ohm=rng.choice((2.0, 4.0, 6.0)), mains=_mains(a.mains, rng))
            for a in catalogue.amplifiers
        ),
        loudspeakers=tuple(_loaded(speaker, rng) for speaker in catalogue.loudspeakers),
        subwoofers=tuple(_loaded(subwoofer, rng) for subwoofer in catalogue.subwoofers),
        ports=ports,
    )
    limits = replace(
        instance.brief.limits,
        physical=frozenset({PhysicalLimit.LEVEL, PhysicalLimit.LOAD}),
        level_tolerance_db=1.0,
        least_margin_db=rng.choice((None, None, 3.0)),
        most_earth_loops=rng.choice((None, None, 1, 3)),
    )
    return replace(instance, catalogue=electric, brief=replace(instance.brief, limits=limits))


def _figures(port: PortGroup, rng: Random) -> PortGroup:
    if port.connector in SPEAKER_LEVEL | DIGITAL:
        return port
    if port.role is PortRole.LINK:  # wired straight through: nothing is known of it
        return port
    level_dbu = rng.choice(_LEVELS_DBU)
    if port.direction is Direction.OUT:
        stage = OutputStage.SYMMETRICAL if port.balanced else OutputStage.UNBALANCED
        return replace(port, max_level_dbu=level_dbu + 10.0, impedance_ohm=1.0, output_stage=stage)
    sensitivity_v = 0.7746 * 10 ** ((level_dbu + _HALF_DB) / 20)
    return replace(port, max_level_dbu=20.0, impedance_ohm=20_000.0, sensitivity_v=sensitivity_v)


def _mains(mains: Mains, rng: Random) -> Mains:
    return replace(mains, rated_w=100.0, class_ii=rng.random() < 0.4)


def _loaded(item: Load, rng: Random) -> Load:
    ohm = None if item.powering is Powering.ACTIVE else rng.choice((3.0, 5.0, 8.0))
    return replace(item, impedance_ohm=ohm, mains=_mains(item.mains, rng))


@dataclass(frozen=True, slots=True)
class Judged:
    """What the physics of a sketch come to; `margin` in whole dB as the trade-off set counts it."""

    margin: int
    loops: int


class Electrics:
    """Judges the sketches of one instance."""

    def __init__(self, instance: Instance) -> None:
        self._instance, self._catalogue = instance, instance.catalogue
        self._items = {item.sku: item for item in self._catalogue.items()}

    def judged(self, sketch: Sketch) -> Judged | None:
        """The margin and the loops, or None where a limit of the brief is broken."""
        limits = self._instance.brief.limits
        margin_db = min(self._margins_db(sketch), default=inf)
        loops = self._loops(sketch)
        if not self._keeps(limits, margin_db, loops) or not self._carries(sketch):
            return None
        return Judged(margin=min(MOST_MARGIN_DB, floor(margin_db)) if margin_db < inf else MOST_MARGIN_DB, loops=loops)

    def _keeps(self, limits: Limits, margin_db: float, loops: int) -> bool:
        return (
            margin_db > -limits.level_tolerance_db
            and (limits.least_margin_db is None or margin_db > limits.least_margin_db)
            and (limits.most_earth_loops is None or loops <= limits.most_earth_loops)
        )

    def _margins_db(self, sketch: Sketch) -> Iterator[float]:
        """The margin of every input of every chain, at every output before it and at itself."""
        entering = self._entering_dbu(sketch)
        for serving in sketch.servings:
            if serving.point.speaker_level:
                continue
            group = serving.point.group
            for wanted_dbu, ceiling_dbu, lost_db in self._inputs(serving):
                yield ceiling_dbu - wanted_dbu
                needed_dbu = wanted_dbu + lost_db
                yield (group.max_level_dbu or 0.0) - needed_dbu
                if serving.point.box is not None:
                    unit = sketch.boxes[serving.point.box]
                    yield entering[serving.point.box, serving.feeds[0].channel] + unit.max_gain_db - needed_dbu

    def _entering_dbu(self, sketch: Sketch) -> dict[tuple[int, str], float]:
        """The most that enters each DSP unit of each channel: of several inputs the least."""
        found: dict[tuple[int, str], float] = {}
        for entry in sketch.feeds_in:
            lost_db = _CONVERSION_DB if entry.point.group.balanced and not entry.group.balanced else 0.0
            arriving_dbu = (entry.point.group.max_level_dbu or 0.0) - lost_db
            level_dbu = min(arriving_dbu, entry.group.max_level_dbu or 0.0)
            place = (entry.box, entry.channel)
            found[place] = min(level_dbu, found.get(place, inf))
        return found

    def _inputs(self, serving: Serving) -> Iterator[tuple[float, float, float]]:
        """Full output, ceiling and conversion loss of every line input behind an output."""
        output = serving.point.group
        whole = output.balanced and all(self._keeps_both_cores(sku) for sku in serving.wires.splitters)
        lines = [line for line in serving.wires.lines if not line.speaker_level]
        for number, (line, group) in enumerate(zip(lines, serving.wires.ends, strict=True)):
            whole = whole and (not serving.chained or number == 0 or line.source.balanced)
            reached = whole and group.balanced
            whole = reached if serving.chained else whole
            lost_db = _CONVERSION_DB if output.balanced and not reached else 0.0
            yield _dbu(group.sensitivity_v or 1.0), group.max_level_dbu or 0.0, lost_db

    def _keeps_both_cores(self, sku: str) -> bool:
        splitter = self._items[sku]
        assert isinstance(splitter, Splitter)
        return splitter.balanced

    def _carries(self, sketch: Sketch) -> bool:
        """R14: no channel below its least load."""
        for serving in sketch.servings:
            for channel, feed in serving.wires.channels:
                amplifier = self._items[channel[0]]
                assert isinstance(amplifier, Amplifier)
                if self._ohm(feed.groups[0].device) < amplifier.least_load_ohm:
                    return False
            if serving.point.speaker_level:
                least_ohm = sketch.scenario.processor.amp_least_load_ohm or 0.0
                if any(self._ohm(feed.groups[0].device) < least_ohm for feed in serving.feeds):
                    return False
        return True

    def _ohm(self, sku: str) -> float:
        item = self._items[sku]
        assert isinstance(item, Loudspeaker | Subwoofer)
        return item.impedance_ohm or inf

    def _loops(self, sketch: Sketch) -> int:
        """M7: edges less nodes and parts, of protective earths and shields."""
        graph = nx.MultiGraph()
        for entry in sketch.feeds_in:
            graph.add_nodes_from(("processor", f"box {entry.box}"))
            if not entry.line.isolated:
                graph.add_edge("processor", f"box {entry.box}")
        for serving in sketch.servings:
            if not serving.point.speaker_level:
                self._shields(serving, graph)
        devices: dict[str, Item] = {"processor": sketch.scenario.processor}
        devices |= {f"box {number}": unit for number, unit in enumerate(sketch.boxes)}
        devices |= {f"{sku} {number}": self._items[sku] for sku, number in sketch.amplifiers}
        devices |= {feed.member: self._items[feed.groups[0].device] for feed in sketch.scenario.feeds}
        graph.add_edges_from(("earth", node) for node, item in devices.items() if is_earthed(item))
        return int(graph.number_of_edges() - graph.number_of_nodes() + nx.number_connected_components(graph))

    def _shields(self, serving: Serving, graph: "nx.MultiGraph[str]") -> None:
        """A shield to each input that has no isolator before it.

        A splitter is one more node and one more edge, and closes nothing.
        """
        before = "processor" if serving.point.box is None else f"box {serving.point.box}"
        lines = [line for line in serving.wires.lines if not line.speaker_level]
        channels = [f"{channel[0]} {channel[1]}" for channel, _ in serving.wires.channels]
        for line, node in zip(lines, channels or _in_order(serving), strict=True):
            graph.add_node(node)
            if not line.isolated:
                graph.add_edge(before, node)
            before = node if serving.chained else before


def _in_order(serving: Serving) -> list[str]:
    """The feeds in the order of their leads, by what each lead ends at: alike ones stand for one another."""
    left, found = list(serving.feeds), []
    for group in serving.wires.ends:
        feed = next(feed for feed in left if group in feed.groups)
        left.remove(feed)
        found.append(feed.member)
    return found


def is_earthed(item: Item) -> bool:
    """A mains cord that is not of class II; what is passive has none."""
    if isinstance(item, Loudspeaker | Subwoofer) and item.powering is not Powering.ACTIVE:
        return False
    assert isinstance(item, Processor | DspUnit | Amplifier | Loudspeaker | Subwoofer)
    return item.mains.rated_w > 0 and not item.mains.class_ii


def _dbu(volts: float) -> float:
    return 20 * log10(volts / 0.7746)
