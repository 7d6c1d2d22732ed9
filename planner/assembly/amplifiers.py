"""Puts every amplified feed on a channel of an amplifier."""

from collections import defaultdict
from dataclasses import dataclass
from math import ceil

from planner.assembly.jacks import group_of_kind, speaker_group
from planner.assembly.members import Placed
from planner.catalogue.records import Catalogue
from planner.demand.build import Demand
from planner.demand.counts import Counts
from planner.demand.feeds import Inlet
from planner.demand.leads import Kind
from planner.design import Jack, Unit, UnitKind
from planner.errors import PlannerBug


@dataclass(frozen=True, slots=True)
class AmplifierChannel:
    """One channel: the input jack and the speaker output jack that belong together."""

    entry: Jack
    terminals: Jack


class AmplifierPlan:
    """All amplifiers of a design, and the channel of each feed on them."""

    def __init__(self, demand: Demand, counts: Counts, placed: list[Placed], catalogue: Catalogue) -> None:
        self._demand, self._catalogue = demand, catalogue
        self._lost = max(counts.claim.lost, 1)
        self.units: list[Unit] = []
        self._channel: dict[int, AmplifierChannel] = {}
        self._inlet = self._inlets(placed, counts)
        self._entry = self._entries(placed, counts)
        models = self._models(placed, counts)
        for sku, count in counts.amplifiers:
            ids = [f"Amp {len(self.units) + n}" for n in range(1, count + 1)]
            self.units += [Unit(id=name, sku=sku, kind=UnitKind.AMPLIFIER) for name in ids]
            self._fill(sku, ids, models.get(sku, []), placed)

    def channel(self, number: int) -> AmplifierChannel:
        """The channel of the feed at this position of the placed feeds."""
        return self._channel[number]

    def _models(self, placed: list[Placed], counts: Counts) -> dict[str, list[int]]:
        """Positions of the placed feeds that each amplifier model serves."""
        terminals = {a.sku: a.terminals for a in self._demand.amplifiers}
        room: dict[tuple[Kind, Kind, bool], list[str]] = defaultdict(list)
        for use in counts.amplifier_uses:
            ends = terminals[use.amplifier]
            room[use.inlet, ends, True] += [use.amplifier] * use.bass_channels
            room[use.inlet, ends, False] += [use.amplifier] * (use.channels - use.bass_channels)
        models: dict[str, list[int]] = defaultdict(list)
        for number, entry in self._entry.items():
            bass, out = placed[number].flow.feed.bass, self._inlet[number].amplifier_out
            if out is not None:
                models[room[entry, out, bass].pop(0)].append(number)
        return models

    def _inlets(self, placed: list[Placed], counts: Counts) -> dict[int, Inlet]:
        """The way into each amplified feed."""
        ways_in: dict[int | None, list[Inlet]] = defaultdict(list)
        for drive, n in zip(self._demand.drive_flows, counts.drive, strict=True):
            ways_in[drive.drive] += [drive.inlet] * n
        return {n: ways_in[feed.flow.drive].pop(0) for n, feed in enumerate(placed) if feed.flow.amplified}

    def _entries(self, placed: list[Placed], counts: Counts) -> dict[int, Kind]:
        """The amplifier input kind that each amplified feed goes in by."""
        ways_in: dict[object, list[Kind]] = defaultdict(list)
        for flow, n in zip(self._demand.amplifier_flows, counts.amplifier_in, strict=True):
            ways_in[flow.source, flow.out, flow.bass] += [flow.inlet] * n
        return {
            number: ways_in[placed[number].flow.start, inlet.amplifier_out, placed[number].flow.feed.bass].pop(0)
            for number, inlet in self._inlet.items()
        }

    def inlet(self, number: int) -> Inlet:
        """The way into the feed at this position of the placed feeds."""
        return self._inlet[number]

    def entry(self, number: int) -> Kind:
        """The amplifier input kind of the feed at this position of the placed feeds."""
        return self._entry[number]

    def _fill(self, sku: str, ids: list[str], feeds: list[int], placed: list[Placed]) -> None:
        """Subwoofers first, on as few amplifiers as one failure may silence and as leave none idle; then the rest."""
        channels = next(a.channels for a in self._demand.amplifiers if a.sku == sku)
        free = {name: list(range(1, channels + 1)) for name in ids}
        bass = [n for n in feeds if placed[n].flow.feed.bass]
        rest = [n for n in feeds if n not in bass]
        carriers = ids[: max(ceil(len(bass) / min(channels, self._lost)), len(ids) - len(rest))]
        for position, number in enumerate(bass):
            self._put(number, carriers[position % len(carriers)], free, sku)
        for position, number in enumerate(rest):
            idle = [name for name in ids if len(free[name]) == channels]
            last_chance = len(rest) - position <= len(idle)
            name = idle[0] if last_chance else next((i for i in ids if free[i]), None)
            if name is None:
                raise PlannerBug(f"{sku}: more feeds than amplifier channels")
            self._put(number, name, free, sku)

    def _put(self, number: int, name: str, free: dict[str, list[int]], sku: str) -> None:
        channel = free[name].pop(0)
        inputs, outputs = self._catalogue.inputs(sku), self._catalogue.outputs(sku)
        entry = group_of_kind(inputs, self._entry[number], self._demand.kinds, channel)
        self._channel[number] = AmplifierChannel(
            Jack(name, entry.name, channel), Jack(name, speaker_group(outputs).name, channel)
        )
