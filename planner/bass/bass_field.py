"""The bass at the seats before anything is set: what each subwoofer alone does to each seat."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Complexes, Reals
from planner.bass.biquads import crossover, low_corner
from planner.bass.room_response import Truncation, room_response
from planner.bass.shoebox import Shoebox
from planner.bass.subwoofers import PlacedSubwoofer
from planner.brief.records import Seat

PRIMARY_WEIGHT = 2.0
"""A primary seat counts for so many others. Common practice, no published source."""

CROSSOVER_HZ = 80.0
"""Where the subwoofers hand over to the loudspeakers. Common practice, no published source."""

MOST_FREQUENCIES = 241
_STEP_HZ = 1.0
_STEPS_PER_BANDWIDTH = 4


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class BassField:
    """Pressures of subwoofers that are set to one level at 1 m in the open.

    Attributes:
        frequency_hz: (frequency,).
        pressure: complex, (frequency, subwoofer, seat), re the free field at 1 m.
        seat_weight: (seat,), adding up to 1.
        headroom_db: how much more each subwoofer can play than the one that can play least, (subwoofer,).
    """

    frequency_hz: Reals
    pressure: Complexes
    seat_weight: Reals
    headroom_db: Reals


def frequencies(room: Shoebox, low_hz: float, high_hz: float) -> Reals:
    """Evenly spaced, both ends included, at least four to a mode's bandwidth and one to a hertz.

    In a room that rings very long they are fewer, no more than `MOST_FREQUENCIES`.
    """
    narrowest_hz = min(map(room.bandwidth_hz, (low_hz, high_hz, *(hertz for hertz, _ in room.reverberation_bands))))
    step_hz = min(_STEP_HZ, narrowest_hz / _STEPS_PER_BANDWIDTH)
    count = int(np.ceil((high_hz - low_hz) / step_hz - 1e-9)) + 1
    return np.linspace(low_hz, high_hz, min(count, MOST_FREQUENCIES))


def seat_weights(seats: Sequence[Seat]) -> Reals:
    """The weight of each seat in the spread, (seat,), adding up to 1."""
    weight = np.array([PRIMARY_WEIGHT if seat.primary else 1.0 for seat in seats])
    shares: Reals = weight / weight.sum()
    return shares


def bass_field(
    room: Shoebox, frequency_hz: Reals, subwoofers: Sequence[PlacedSubwoofer], seats: Sequence[Seat]
) -> tuple[BassField, Truncation]:
    """The room's response, each subwoofer's own low corner, and the crossover that all share.

    A subwoofer whose low corner is not known is taken to have none.
    """
    response = room_response(room, frequency_hz, _points(seats), _points(subwoofers))
    filters = np.stack([_filter(one, frequency_hz) for one in subwoofers], axis=1)
    field = BassField(
        frequency_hz=frequency_hz,
        pressure=np.ascontiguousarray(response.pressure.transpose(0, 2, 1)) * filters[:, :, None],
        seat_weight=seat_weights(seats),
        headroom_db=_headroom_db(subwoofers),
    )
    return field, response.truncation


def own_slope_db(subwoofers: Sequence[PlacedSubwoofer], frequency_hz: Reals) -> Reals:
    """The level of these subwoofers together in the open, from low corner to crossover, (frequency,)."""
    mean = np.mean([_filter(one, frequency_hz) for one in subwoofers], axis=0)
    slope: Reals = 20 * np.log10(np.abs(mean))
    return slope


def _filter(subwoofer: PlacedSubwoofer, frequency_hz: Reals) -> Complexes:
    upper = crossover(CROSSOVER_HZ, frequency_hz)
    if subwoofer.low_corner_hz is None:
        return upper
    return upper * low_corner(subwoofer.low_corner_hz, frequency_hz)


def _headroom_db(subwoofers: Sequence[PlacedSubwoofer]) -> Reals:
    """0 for all where the greatest level of any is not known."""
    known = [one.max_spl_db for one in subwoofers if one.max_spl_db is not None]
    if len(known) < len(subwoofers):
        return np.zeros(len(subwoofers))
    return np.array(known) - min(known)


def _points(things: "Sequence[Seat] | Sequence[PlacedSubwoofer]") -> Reals:
    return np.array([[one.position.x_m, one.position.y_m, one.position.z_m] for one in things])
