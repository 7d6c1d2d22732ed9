"""What must be said beside every prediction, and what this one took for granted."""

from collections.abc import Iterator, Sequence

from planner.bass.bass_field import CROSSOVER_HZ, MOST_FREQUENCIES, PRIMARY_WEIGHT
from planner.bass.shoebox import Shoebox
from planner.bass.subwoofers import PlacedSubwoofer
from planner.bass.ways import MOST_SUBWOOFERS
from planner.brief.records import Seat

PREDICTION = (
    "These are predictions for an idealised room: an empty rectangular box with hard walls that all absorb alike."
    " Take the settings as starting points, to be confirmed by measurement in the finished room."
)

HEARING = (
    "Measuring needs test tones. Low tones are louder than they seem: start softly, protect your hearing, and stay"
    " no longer than needed. More than 85 dB(A) over a working day is held to endanger hearing (NIOSH 98-126);"
    " local codes prevail."
)

_HEAVY_DAMPING = 0.3


def notes(
    room: Shoebox, frequency_count: int, low_hz: float, high_hz: float,
    subwoofers: Sequence[PlacedSubwoofer], seats: Sequence[Seat],
) -> tuple[str, ...]:  # fmt: skip
    """What this prediction took for granted, in sentences."""
    return (
        *_about_subwoofers(subwoofers),
        *_about_seats(seats),
        *_about_room(room, frequency_count, low_hz, high_hz),
    )


def _about_subwoofers(subwoofers: Sequence[PlacedSubwoofer]) -> Iterator[str]:
    yield (
        "All subwoofers are first set to the same level at 1 m in the open. Each rolls off at its own low corner as a"
        f" second-order high-pass, and all at {CROSSOVER_HZ:g} Hz as one fourth-order Linkwitz-Riley low-pass."
    )
    for name in dict.fromkeys(one.set_name for one in subwoofers if one.low_corner_hz is None):
        yield f"The model of {name!r} is open, so it is taken to have no low corner."
    if any(one.max_spl_db is None for one in subwoofers):
        yield "The greatest level of some subwoofer is not known, so all are taken to reach the same."
    used = sum(one.used for one in subwoofers)
    if used > MOST_SUBWOOFERS:
        yield (
            f"With more than {MOST_SUBWOOFERS} subwoofers, groups of them, fewer of them and other positions"
            " are not compared."
        )


def _about_seats(seats: Sequence[Seat]) -> Iterator[str]:
    primary = [seat.name for seat in seats if seat.primary]
    if len(seats) == 1:
        yield "There is one seat, so there is no difference between seats to make less, and nothing is set."
    elif 0 < len(primary) < len(seats):
        yield f"A primary seat counts as {PRIMARY_WEIGHT:g} others ({', '.join(primary)})."


def _about_room(room: Shoebox, frequency_count: int, low_hz: float, high_hz: float) -> Iterator[str]:
    if high_hz > room.schroeder_hz:
        yield (
            f"Above {room.schroeder_hz:.0f} Hz (Schroeder's limit) the modes of this room overlap,"
            " and its details decide: the prediction is weak there."
        )
    if room.bandwidth_hz(low_hz) > 2 * _HEAVY_DAMPING * low_hz:
        yield (
            "The reverberation time is so short that the modal sum, which assumes light damping, is weak"
            " at the low end."
        )
    if frequency_count == MOST_FREQUENCIES:
        yield (
            f"The modes ring so long that {frequency_count} frequencies may miss the tops of some;"
            " a narrower band shows more."
        )
