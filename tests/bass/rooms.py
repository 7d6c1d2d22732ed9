"""Rooms and fields that the tests of the bass share. All of them are invented."""

import numpy as np

from planner.bass.arrays import Complexes, Reals
from planner.bass.bass_field import BassField
from planner.bass.controls import ControlGroup, ControlRange, Grouping
from planner.bass.room_response import room_response
from planner.bass.shoebox import Shoebox
from planner.bass.spread import equal_weights
from planner.bass.task import Task, task

BAND_HZ = np.arange(20.0, 81.0)

ROOM = Shoebox(size_m=(6.2, 4.1, 2.55), speed_m_per_s=343.2, reverberation_time_s=0.4)

SEATS_M = np.array([(x, y, z) for x, z in ((3.4, 1.1), (4.6, 1.4)) for y in (1.0, 2.05, 3.1)])

CORNERS_M = np.array([(0.3, 0.3, 0.2), (0.3, 3.8, 0.2), (5.9, 0.3, 0.2), (5.9, 3.8, 0.2)])


def decay_per_s(room: Shoebox) -> float:
    """The decay of a room that has one reverberation time for all."""
    assert not room.reverberation_bands
    return float(room.decays_per_s(np.array([50.0]))[0])


def points(*places: tuple[float, float, float]) -> Reals:
    """Places as an array, (point, axis)."""
    return np.array(places, dtype=np.float64)


def level_db(pressure: Complexes) -> Reals:
    """20 log10 of a pressure ratio."""
    level: Reals = 20 * np.log10(np.abs(pressure))
    return level


def field(room: Shoebox, sources_m: Reals, seats_m: Reals, frequency_hz: Reals = BAND_HZ) -> BassField:
    """The bare room: equal subwoofers without filters, seats that count alike."""
    pressure = room_response(room, frequency_hz, seats_m, sources_m).pressure
    return field_of(pressure.transpose(0, 2, 1), frequency_hz)


def field_of(pressure: Complexes, frequency_hz: Reals = BAND_HZ) -> BassField:
    """A field of given pressures, (frequency, subwoofer, seat)."""
    return BassField(
        frequency_hz=frequency_hz,
        pressure=np.ascontiguousarray(pressure),
        seat_weight=equal_weights(pressure.shape[2]),
        headroom_db=np.zeros(pressure.shape[1]),
    )


def random_field(seed: int, subwoofers: int, seats: int, frequency_hz: Reals = BAND_HZ[::2]) -> BassField:
    """Subwoofers on the floor and seats anywhere in a room of random size, every other hertz unless said."""
    random = np.random.default_rng(seed)
    length, width, height = random.uniform((4.5, 3.5, 2.3), (8.0, 6.0, 3.2))
    room = Shoebox(
        size_m=(length, width, height), speed_m_per_s=343.2, reverberation_time_s=float(random.uniform(0.25, 0.7))
    )
    low = random.uniform(0.0, 1.0, (subwoofers, 3)) * (length, width, 0.3)
    ears = random.uniform(0.3, 0.9, (seats, 3)) * (length, width, 0) + (0, 0, 1.2)
    return field(room, low, ears, frequency_hz)


def grouped(field: BassField, grouping: Grouping, control: ControlRange, most_loss_db: float = 3.0) -> Task:
    """A task with one range for all groups."""
    return task(field, [ControlGroup(members=members, range=control) for members in grouping], most_loss_db)
