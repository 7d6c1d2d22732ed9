"""What the bass depends on and nothing else, as a key: the same scene is worked out once, whatever else changes.

A change of a price, of a loudspeaker or of the rack leaves the scene as it was.
"""

from dataclasses import dataclass
from functools import lru_cache

from planner.bass.band import Band
from planner.bass.bass_field import BassField, bass_field, frequencies, seat_weights
from planner.bass.groupings import Permutation
from planner.bass.mirrors import mirror_symmetries
from planner.bass.room_response import Truncation
from planner.bass.shoebox import Shoebox
from planner.bass.subwoofers import PlacedSubwoofer
from planner.brief.records import Point, Seat


@dataclass(frozen=True, kw_only=True, slots=True)
class Scene:
    """A room that can be predicted, its subwoofers, and its seats."""

    room: Shoebox
    band: Band
    subwoofers: tuple[PlacedSubwoofer, ...]
    seats: tuple[Seat, ...]


@lru_cache(maxsize=16)
def field_of(scene: Scene) -> tuple[BassField, Truncation]:
    """What each subwoofer alone does to each seat."""
    frequency_hz = frequencies(scene.room, scene.band.low_hz, scene.band.high_hz)
    return bass_field(scene.room, frequency_hz, scene.subwoofers, scene.seats)


@lru_cache(maxsize=16)
def symmetries_of(scene: Scene) -> tuple[Permutation, ...]:
    """How mirror images of the room move the subwoofers. One's kind is its model and its set, which limits how many."""
    weights = seat_weights(scene.seats)
    return mirror_symmetries(
        scene.room.size_m,
        [(_place(one.position), (one.set_index, one.model)) for one in scene.subwoofers],
        [(_place(seat.position), float(weight)) for seat, weight in zip(scene.seats, weights, strict=True)],
    )


def _place(point: Point) -> tuple[float, float, float]:
    return point.x_m, point.y_m, point.z_m
