"""R15: when each loudspeaker arrives at the listener, and the delays that bring all together.

The listener is the mean of the primary seats. A sound arrives after the latency of the processor
and of the DSP unit on its way, and the flight at the brief's temperature; latency inside active
loudspeakers and subwoofers is not in the catalogue. All are brought to the latest arrival. The
delay is set at the nearest control point upstream; what a DSP unit's output cannot give is set
at the processor output before the unit, as far as everything beneath that wants it. Feeds that
share a control point share its delay: the last of them arrives with the latest, the others
before it, and nothing can be set against that.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.brief.records import Point
from planner.catalogue.records import DspUnit, Processor
from planner.checks.case import Case
from planner.checks.control_points import ControlPoint
from planner.checks.view import Link
from planner.design import Jack, UnitKind
from planner.formulas.delay import alignment_delays_ms, arrival_ms, speed_of_sound_m_per_s
from planner.physics.listening import distance_m
from planner.placement import listener

COLDEST_C, WARMEST_C = -20.0, 50.0
"""Between which ISO 9613-1 gives the speed of sound; beyond, the nearer end is taken."""


@dataclass(frozen=True, kw_only=True, slots=True)
class DelayLine:
    """One feed: when it arrives, and the delay that it gets.

    `wanted_ms` would bring it to the latest arrival. `set_ms` is set at `control`, an output of
    `device`, whose range is `range_ms`; `before_ms` at `before`, the processor output before a
    DSP unit. `early_ms` is how much before the latest it arrives all the same: `short_ms` of it
    for want of range, the rest because it shares its control point.
    """

    unit: str
    jack: Jack
    distance_m: float
    latency_ms: float
    arrival_ms: float
    wanted_ms: float
    control: str
    device: str
    range_ms: float
    set_ms: float
    before: str
    before_ms: float
    short_ms: float

    @property
    def early_ms(self) -> float:
        """What is left between its arrival and the latest."""
        return self.wanted_ms - self.set_ms - self.before_ms


@dataclass(frozen=True, slots=True)
class _Air:
    """Where the listener's ear is, and how fast sound comes there."""

    ear: Point
    speed_m_per_s: float


@dataclass(frozen=True, slots=True)
class _Flight:
    """The way of one feed's sound, before any delay is set."""

    link: Link
    distance_m: float
    latency_ms: float
    arrival_ms: float


def delay_table(case: Case) -> tuple[DelayLine, ...]:
    """The delays of one design, control point by control point."""
    output_before = _outputs_before(case)
    air = _Air(listener(case.known.brief.seats), _speed_m_per_s(case.known.brief.room.temperature_c))
    flights = [
        (point, flight) for point in case.points for flight in _flights(case, point, output_before.get(point), air)
    ]
    wanted_ms = alignment_delays_ms([flight.arrival_ms for _, flight in flights])
    feeds: dict[ControlPoint, list[tuple[_Flight, float]]] = {}
    for (point, flight), wanted in zip(flights, wanted_ms, strict=True):
        feeds.setdefault(point, []).append((flight, wanted))
    shared_ms = {point: min(wanted for _, wanted in of_point) for point, of_point in feeds.items()}
    before_ms = _set_before(shared_ms, output_before)
    return tuple(
        line
        for point, of_point in feeds.items()
        for line in _lines(point, of_point, shared_ms[point], output_before.get(point), before_ms)
    )


def _outputs_before(case: Case) -> Mapping[ControlPoint, ControlPoint]:
    """For each DSP output, the processor output that feeds the input it derives from."""
    output_by_link = {link: point for point in case.points for link in point.dsp_inputs}
    found: dict[ControlPoint, ControlPoint] = {}
    for point in case.points:
        for route in case.view.routes_to.get(point.jack, ()) if point.is_dsp else ():
            for link in case.view.links_to.get(route.source, ()):
                if link in output_by_link:
                    found.setdefault(point, output_by_link[link])
    return found


def _speed_m_per_s(temperature_c: float) -> float:
    return speed_of_sound_m_per_s(min(max(temperature_c, COLDEST_C), WARMEST_C))


def _flights(case: Case, point: ControlPoint, before: ControlPoint | None, air: _Air) -> Iterator[_Flight]:
    latency_ms = _latency_ms(case, point) + (_latency_ms(case, before) if before is not None else 0.0)
    for link in point.feeds:
        place = case.view.place(link.sink_unit)
        if place is not None:
            metres = distance_m(place.position, air.ear)
            yield _Flight(link, metres, latency_ms, arrival_ms(metres, air.speed_m_per_s, latency_ms))


def _latency_ms(case: Case, point: ControlPoint) -> float:
    unit = point.unit if point.unit.kind is UnitKind.DSP else case.view.processor_of(point.unit)
    item = case.view.item(unit) if unit is not None else None
    return item.latency_ms if isinstance(item, Processor | DspUnit) else 0.0


def _range_ms(point: ControlPoint) -> float:
    return point.controls.max_delay_ms if point.controls is not None else 0.0


def _set_before(
    shared_ms: Mapping[ControlPoint, float], output_before: Mapping[ControlPoint, ControlPoint]
) -> Mapping[ControlPoint, float]:
    """The delay of each processor output before a DSP unit: what the unit lacks, if all beneath wants it."""
    beneath: dict[ControlPoint, list[ControlPoint]] = {}
    for point in shared_ms:
        if point in output_before:
            beneath.setdefault(output_before[point], []).append(point)
    return {
        output: min(
            max(max(shared_ms[point] - _range_ms(point), 0.0) for point in points),
            min(shared_ms[point] for point in points),
            _range_ms(output),
        )
        for output, points in beneath.items()
    }


def _lines(
    point: ControlPoint,
    feeds: Sequence[tuple[_Flight, float]],
    shared_ms: float,
    before: ControlPoint | None,
    before_ms: Mapping[ControlPoint, float],
) -> Iterator[DelayLine]:
    already_ms = before_ms.get(before, 0.0) if before is not None else 0.0
    set_ms = min(shared_ms - already_ms, _range_ms(point))
    for flight, wanted_ms in feeds:
        yield DelayLine(
            unit=flight.link.sink_unit.id,
            jack=flight.link.connection.sink,
            distance_m=flight.distance_m,
            latency_ms=flight.latency_ms,
            arrival_ms=flight.arrival_ms,
            wanted_ms=wanted_ms,
            control=str(point),
            device=point.unit.id,
            range_ms=_range_ms(point),
            set_ms=set_ms,
            before=str(before) if already_ms and before is not None else "",
            before_ms=already_ms,
            short_ms=shared_ms - already_ms - set_ms,
        )
