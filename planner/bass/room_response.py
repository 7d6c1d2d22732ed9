"""The room's response from every source to every seat, with as many modes as it takes.

The number of modes is no constant: the limit is raised until raising it changes the field by less
than a tolerance, and what the last step changed is reported.
"""

import math
from dataclasses import dataclass

import numpy as np

from planner.bass.arrays import Complexes, Reals
from planner.bass.modal_sum import modal_sum, still_sum
from planner.bass.room_modes import modes_up_to
from planner.bass.shoebox import Shoebox
from planner.bass.still_field import still_field

TOLERANCE_DB = 0.02
"""By how much the last step may have changed the field: far below what a room is known to."""

_FIRST_LIMIT = 3.0
_STEP = 1.5


@dataclass(frozen=True, kw_only=True, slots=True)
class Truncation:
    """Where the modal sum was ended: the limit, the modes below it, and the last step's change.

    `change_db` is the change of the field over all seats and sources together, at the frequency where
    it is greatest. A level near a null can be off by more.
    """

    limit_hz: float
    modes: int
    change_db: float


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class RoomResponse:
    """`pressure` is (frequency, seat, source), complex, re each source's free field at 1 m."""

    pressure: Complexes
    truncation: Truncation


def room_response(
    room: Shoebox, frequency_hz: Reals, seats_m: Reals, sources_m: Reals, tolerance_db: float = TOLERANCE_DB
) -> RoomResponse:
    """The converged response, (frequency, seat, source); seats and sources are (point, axis)."""
    still = still_field(room, seats_m, sources_m)
    limit_hz = _FIRST_LIMIT * float(frequency_hz.max())
    before = _up_to(room, limit_hz, frequency_hz, seats_m, sources_m, still)
    while True:
        limit_hz *= _STEP
        now = _up_to(room, limit_hz, frequency_hz, seats_m, sources_m, still)
        change_db = _change_db(before.pressure, now.pressure)
        if change_db <= tolerance_db:
            truncation = Truncation(limit_hz=limit_hz, modes=now.truncation.modes, change_db=change_db)
            return RoomResponse(pressure=now.pressure, truncation=truncation)
        before = now


def _up_to(
    room: Shoebox, limit_hz: float, frequency_hz: Reals, seats_m: Reals, sources_m: Reals, still: Reals
) -> RoomResponse:
    """The modes up to a limit as they move, and all the others as at rest."""
    modes = modes_up_to(room, limit_hz)
    moving = modal_sum(room, modes, frequency_hz, seats_m, sources_m)
    at_rest = still - still_sum(modes, seats_m, sources_m)
    truncation = Truncation(limit_hz=limit_hz, modes=len(modes.frequency_hz), change_db=math.inf)
    return RoomResponse(pressure=moving + at_rest, truncation=truncation)


def _change_db(before: Complexes, now: Complexes) -> float:
    """The change as a level, from its energy over seats and sources, at the worst frequency."""
    changed = np.sqrt((np.abs(now - before) ** 2).sum(axis=(1, 2)) / (np.abs(now) ** 2).sum(axis=(1, 2)))
    return 20 * math.log10(1 + float(changed.max()))
