"""The whole prediction for a brief: before, each way of control, and one subwoofer to all of them."""

from dataclasses import dataclass, replace

import numpy as np

from planner.bass.band import USUAL_BAND, Band
from planner.bass.bass_field import own_slope_db
from planner.bass.best_of_groups import ways_of
from planner.bass.controls import USUAL_RANGE, ControlRange
from planner.bass.counts import Count, Positions, counts
from planner.bass.notes import notes
from planner.bass.outcome import Outcome, outcome
from planner.bass.refusals import bass_faults, shoebox
from planner.bass.room_response import Truncation
from planner.bass.scene import Scene, field_of, symmetries_of
from planner.bass.shared_filters import SharedFilters, shared_filters
from planner.bass.shoebox import Shoebox
from planner.bass.subwoofers import PlacedSubwoofer, placed_subwoofers
from planner.bass.task import MOST_LOSS_DB
from planner.bass.ways import MOST_SUBWOOFERS, Search, Way
from planner.brief.records import Brief, Seat
from planner.catalogue.records import Catalogue
from planner.errors import BadInput


@dataclass(frozen=True, kw_only=True, slots=True)
class ComparedWay:
    """A way of control with what it does to the seats.

    `filters` come after the settings: the same on every output, as many as the brief asks of each at most. They are
    not in the outcome: the spread stays as it is with any.
    """

    way: Way
    outcome: Outcome
    filters: SharedFilters


@dataclass(frozen=True, kw_only=True, slots=True)
class BassStudy:
    """All that was predicted. Subwoofers are numbered by their place in `subwoofers`, from 0.

    `ways` has one entry for each number of groups, one signal to all first: the bass before anything is set.
    `counts` is empty where there is only one subwoofer to place, or too many.
    """

    band: Band
    room: Shoebox
    frequency_hz: tuple[float, ...]
    truncation: Truncation
    control: ControlRange
    most_loss_db: float
    seats: tuple[Seat, ...]
    subwoofers: tuple[PlacedSubwoofer, ...]
    ways: tuple[ComparedWay, ...]
    counts: tuple[Count, ...]
    notes: tuple[str, ...]

    @property
    def before(self) -> Outcome:
        """One signal to all, nothing set."""
        return self.ways[0].outcome


def bass_study(
    brief: Brief,
    catalogue: Catalogue,
    band: Band = USUAL_BAND,
    control: ControlRange = USUAL_RANGE,
    most_loss_db: float = MOST_LOSS_DB,
    name: str = "brief.toml",
) -> BassStudy:
    """Predicts the bass at the seats of a brief; `name` is its file in messages.

    Raises BadInput with every reason why it cannot.
    """
    if faults := bass_faults(brief, band.low_hz, name):
        raise BadInput(faults)
    room = shoebox(brief.room)
    subwoofers = placed_subwoofers(brief, catalogue)
    used = tuple(one for one in subwoofers if one.used)
    scene = Scene(room=room, band=band, subwoofers=used, seats=brief.seats)
    everywhere = replace(scene, subwoofers=subwoofers)
    field, truncation = field_of(everywhere)
    search = Search(
        field=field,
        subwoofers=len(used),
        control=control,
        most_loss_db=most_loss_db,
        symmetries=symmetries_of(scene),
    )
    ways = ways_of(scene, control, most_loss_db)
    return BassStudy(
        band=band,
        room=room,
        frequency_hz=tuple(field.frequency_hz.tolist()),
        truncation=truncation,
        control=control,
        most_loss_db=most_loss_db,
        seats=brief.seats,
        subwoofers=subwoofers,
        ways=tuple(_compared(search, way, used, brief) for way in ways),
        counts=_counts(search, brief, everywhere, ways),
        notes=notes(room, len(field.frequency_hz), band.low_hz, band.high_hz, subwoofers, brief.seats),
    )


def _compared(search: Search, way: Way, used: tuple[PlacedSubwoofer, ...], brief: Brief) -> ComparedWay:
    names = tuple(seat.name for seat in brief.seats)
    found = outcome(search.task(way.best.grouping), way.best, search.field, used, names)
    frequency_hz = search.field.frequency_hz
    return ComparedWay(
        way=way,
        outcome=found,
        filters=shared_filters(
            frequency_hz,
            np.array([one.mean_level_db for one in found.by_frequency]),
            own_slope_db(used, frequency_hz),
            brief.limits.filters_per_subwoofer,
        ),
    )


def _counts(search: Search, brief: Brief, everywhere: Scene, ways: tuple[Way, ...]) -> tuple[Count, ...]:
    if len(everywhere.subwoofers) == 1 or search.subwoofers > MOST_SUBWOOFERS:
        return ()
    positions = Positions(
        set_of=tuple(one.set_index for one in everywhere.subwoofers),
        most=tuple(group.most for group in brief.subwoofers),
        symmetries=symmetries_of(everywhere),
    )
    return counts(search, positions, ways)
