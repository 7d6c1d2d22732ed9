"""What a design costs at the least, by counting: its processor, its loads, and what drives each of them.

A bound without a search. Every loudspeaker and subwoofer takes the cheapest way in that it has;
an amplifier costs a channel its share of the least price for which any has so many. DSP units and
splitters, and what the design shares, are left out. The bound tells processors that cannot win,
and loudspeakers and subwoofers too dear to look at beside a design that is known.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from planner.demand.build import Demand, ModelKey
from planner.demand.flows import Cost
from planner.demand.leads import Kind
from planner.demand.links import LinkTable
from planner.demand.loads import LoadSet, Model, linked_models
from planner.house import Task

UNREACHED = 1 << 48
"""More than any design costs: no way leads there."""


@dataclass(frozen=True, slots=True)
class WaysIn:
    """The least cost of driving one member of a class: by an amplifier or a line output, and directly."""

    by_line: int
    direct: int

    @property
    def saving(self) -> int:
        """What a speaker output of the processor saves at the most; nothing where no other way leads there."""
        return max(self.by_line - self.direct, 0) if self.by_line < UNREACHED else 0

    @property
    def without_direct(self) -> int:
        """The cost where it is driven as if the processor had no speaker outputs."""
        return self.by_line if self.by_line < UNREACHED else self.direct


class PriceFloor:
    """Least prices before tax, in minor units, of the designs of a demand with one processor.

    Two counts, of which the greater holds: with the processor's own speaker outputs free for
    all, and with none of them, less what they save where they save most.
    """

    def __init__(self, part: Demand) -> None:
        (processor,) = part.processors
        self._part, self._price = part, processor.price_minor
        self._ways = _ways_in(part)
        self._linked = linked_models(part.sets)
        inside = sum(jacks for outlet, jacks in processor.outlets.items() if outlet.speaker)
        self._saved = inside * max((ways.saving for ways in self._ways.values()), default=0)
        self._costs = self._of_models()
        self._least = {s.name: self._cheapest(s) for s in part.sets}

    def of_all(self) -> int:
        """No design costs less."""
        return self._sum(self._least)

    def of_model(self, key: ModelKey) -> int:
        """No design with this model in this set costs less."""
        return self._sum({**self._least, key[0]: self._costs[key]})

    def dearer(self, minor: int) -> frozenset[ModelKey]:
        """The models with which no design costs less than that."""
        return frozenset(key for key in self._costs if self.of_model(key) >= minor)

    def _sum(self, costs: Mapping[str, tuple[int, int]]) -> int:
        free = sum(cost for cost, _ in costs.values())
        without = sum(cost for _, cost in costs.values()) - self._saved
        return self._price + max(free, without)

    def _cheapest(self, load: LoadSet) -> tuple[int, int]:
        costs = [self._costs[load.name, model.sku] for model in load.models]
        return min(free for free, _ in costs), min(without for _, without in costs)

    def _of_models(self) -> dict[ModelKey, tuple[int, int]]:
        """What the certain members of each set cost as each model: speaker outputs free for all, and none."""
        ways: dict[ModelKey, list[tuple[int, int]]] = defaultdict(list)
        for feed in self._part.feeds:
            found = self._ways[feed.index]
            key = feed.set_name, feed.sku
            for member, extra in zip(feed.members, feed.extra_minor, strict=True):
                certain = member < next(s.least for s in self._part.sets if s.name == feed.set_name)
                if certain and key not in self._linked:
                    ways[key].append((min(found.by_line, found.direct) + extra, found.without_direct + extra))
        return {
            (s.name, m.sku): (
                self._alone(s, m) + sum(free for free, _ in ways[s.name, m.sku]),
                self._alone(s, m) + sum(without for _, without in ways[s.name, m.sku]),
            )
            for s in self._part.sets
            for m in s.models
        }

    def _alone(self, load: LoadSet, model: Model) -> int:
        """What the certain members of a set cost by themselves."""
        task = Task.SUBWOOFER if load.bass else Task.LOUDSPEAKER
        return load.least * (self._part.shelf.floor_minor(model.sku) + self._part.prices.labour_minor(task))


def _ways_in(part: Demand) -> dict[int, WaysIn]:
    """By feed class: its cheapest flow, with the channel and the lead before it where an amplifier drives it."""
    channel, links = _channel_minor(part), part.links
    entries: dict[tuple[Kind, Kind], int] = {}
    for entry in part.amplifier_flows:
        key = entry.source, entry.out
        entries[key] = min(entries.get(key, UNREACHED), _least_minor(entry.cost, links))
    drives: dict[int | None, int] = {}
    for drive in part.drive_flows:
        before = entries.get((drive.start, drive.out), UNREACHED) + channel.get(drive.out, UNREACHED)
        cost = min(before + _least_minor(drive.cost, links), UNREACHED)
        drives[drive.drive] = min(drives.get(drive.drive, UNREACHED), cost)
    by_line = {feed.index: UNREACHED for feed in part.feeds}
    direct = dict(by_line)
    for flow in part.feed_flows:
        cost = drives.get(flow.drive, UNREACHED) if flow.amplified else _least_minor(flow.cost, links)
        ways = direct if flow.outlet.speaker else by_line
        ways[flow.feed.index] = min(ways[flow.feed.index], cost)
    return {index: WaysIn(by_line[index], direct[index]) for index in by_line}


def _least_minor(cost: Cost, links: LinkTable) -> int:
    """What a flow costs at the least, whatever its links are made of."""
    return cost.price_minor + sum(min(option.fixed_minor for option in links.options(key)) for key in cost.open_links)


def _channel_minor(part: Demand) -> dict[Kind, int]:
    """The least price of a channel of each kind, an amplifier's price shared among all it has."""
    least: dict[Kind, int] = {}
    for amplifier in part.amplifiers:
        each = (part.shelf.floor_minor(amplifier.sku) + amplifier.fitting_minor) // amplifier.channels
        least[amplifier.terminals] = min(least.get(amplifier.terminals, each), each)
    return least
