"""Which feeds would arrive too early, because nothing on their way can delay them enough (R15).

A feed is brought to the latest arrival at the listener: flight, and the latency of a DSP unit
on the way; that of the processor is common to all. Who is latest depends on the design, so
the search counts with the farthest place of the brief, and, where a DSP unit is used at all,
with the farthest place that one could serve. The delay is made at the nearest control point;
what a DSP output lacks, the processor output before it gives, as far as every feed of the
channel wants it.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from planner.brief.records import Brief, PhysicalLimit, Point
from planner.catalogue.records import Catalogue, Powering
from planner.demand.loads import LoadSet, Member, bus_channels
from planner.demand.shelf import Shelf
from planner.formulas.delay import arrival_ms, speed_of_sound_m_per_s
from planner.placement import listener

ALIGNED_MS = 0.1 - 1e-6
"""A hair less than the time within which loudspeakers count as aligned (ITU-R BS.2051-3: 100 µs, central seat)."""

_COLDEST_C, _WARMEST_C = -20.0, 50.0


@dataclass(frozen=True, slots=True)
class Delayer:
    """A DSP unit as delays see it."""

    sku: str
    latency_ms: float
    range_ms: float


def dsp_served(sets: Iterable[LoadSet]) -> list[Member]:
    """Members that a DSP unit may serve: those that share a channel, subwoofers, crossed loudspeakers."""
    sets = tuple(sets)
    shared = bus_channels(sets)
    return [
        member
        for load in sets
        for member in load.members
        if member.channel in shared or any(model.powering is Powering.CROSSED for model in load.models)
    ]


class Timing:
    """The arrivals of one brief, before any delay is set."""

    def __init__(self, brief: Brief, catalogue: Catalogue, shelf: Shelf, sets: Iterable[LoadSet]) -> None:
        self._held = PhysicalLimit.DELAY in brief.limits.physical
        self._ear = listener(brief.seats)
        self._speed = speed_of_sound_m_per_s(min(max(brief.room.temperature_c, _COLDEST_C), _WARMEST_C))
        self._delayers = [
            Delayer(unit.sku, unit.latency_ms, unit.controls.max_delay_ms)
            for unit in catalogue.dsp_units
            if shelf.usable(unit.sku) and brief.limits.most_dsp_units > 0
        ]
        self._by_sku = {delayer.sku: delayer for delayer in self._delayers}
        usable = (processor for processor in catalogue.processors if shelf.usable(processor.sku))
        self._ranges_ms = sorted({processor.controls.max_delay_ms for processor in usable})
        self._flights_ms: dict[Point, float] = {}
        self._rows: dict[Member, tuple[bool, ...] | None] = {}
        sets = tuple(sets)
        self._members = members = [member for load in sets for member in load.members]
        self._farthest_ms = max((self.flight_ms(member.position) for member in members), default=0.0)
        self._served = frozenset(dsp_served(sets))
        self._farthest_by_dsp_ms = max((self.flight_ms(member.position) for member in self._served), default=0.0)
        self._farthest_by_channel: dict[str, float] = {}
        for member in members:
            known_ms = self._farthest_by_channel.get(member.channel, 0.0)
            self._farthest_by_channel[member.channel] = max(known_ms, self.flight_ms(member.position))

    def flight_ms(self, position: Point) -> float:
        """The flight from a place to the listener."""
        if position not in self._flights_ms:
            ear = self._ear
            metres = math.dist((position.x_m, position.y_m, position.z_m), (ear.x_m, ear.y_m, ear.z_m))
            self._flights_ms[position] = arrival_ms(metres, self._speed)
        return self._flights_ms[position]

    @cached_property
    def matters(self) -> bool:
        """Whether any place is ever too early."""
        return any(self.row(member) is not None for member in self._members)

    def row(self, member: Member) -> tuple[bool, ...] | None:
        """What tells a place from another: whether it is too early, for every device; None where it never is."""
        if not self._held:
            return None
        if member not in self._rows:
            self._rows[member] = self._row(member)
        return self._rows[member]

    def _row(self, member: Member) -> tuple[bool, ...] | None:
        """A place that no DSP unit may serve is asked for processor outputs only."""
        served = member in self._served
        if not served and not self.too_early(member, min(self._ranges_ms, default=math.inf), None, self._slowest):
            return None
        every = (None, *self._by_sku)
        row = tuple(
            self.too_early(member, range_ms, own, used)
            for range_ms in self._ranges_ms
            for own in (every if served else (None,))
            for used in every
        )
        return row if any(row) else None

    @cached_property
    def _slowest(self) -> str | None:
        """The DSP unit of the greatest latency."""
        return max(self._by_sku, key=self._latency_ms, default=None)

    def too_early(self, member: Member, range_ms: float, own: str | None, used: str | None) -> bool:
        """Whether a member cannot be delayed enough by a processor of that range.

        `own`: the DSP unit that serves it, None where a processor output does; `used`: another
        that is in use, None where there is none.
        """
        flight_ms = self.flight_ms(member.position)
        latest_ms = max(self._farthest_ms, *(self._after_dsp_ms(sku) for sku in (own, used)))
        wanted_ms = latest_ms - flight_ms - self._latency_ms(own)
        if own is None:
            return wanted_ms > range_ms + ALIGNED_MS
        least_wanted_ms = latest_ms - self._farthest_by_channel[member.channel] - self._latency_ms(own)
        before_ms = min(range_ms, max(least_wanted_ms, 0.0))
        return wanted_ms - before_ms > self._by_sku[own].range_ms + ALIGNED_MS

    def _after_dsp_ms(self, sku: str | None) -> float:
        """When the last feed that a DSP unit may serve arrives, if that unit is used."""
        return 0.0 if sku is None else self._farthest_by_dsp_ms + self._latency_ms(sku)

    def _latency_ms(self, sku: str | None) -> float:
        return 0.0 if sku is None else self._by_sku[sku].latency_ms
