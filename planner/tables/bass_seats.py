"""The bass seat by seat and frequency by frequency: before, and with the most control."""

from planner.bass.outcome import Outcome
from planner.bass.spread import SeatSpread
from planner.bass.study import BassStudy, ComparedWay
from planner.brief.records import Seat
from planner.tables.layout import Column, grid, paragraph, section

_MOST_ROWS = 13


SEAT_HEADINGS = ("Seat", "Before: level", "Before: differs by", "After: level", "After: differs by")
SEAT_FIGURES = (SEAT_HEADINGS[2], SEAT_HEADINGS[4])
SEATS_LEGEND = (
    "Level: louder (+) or softer than the seats on the whole, mean over the band, dB. Differs by: root mean square over"
    " the band, dB."
)


def seat_rows(study: BassStudy, way: ComparedWay) -> list[tuple[str, ...]]:
    """Each seat before, and after with a way of control, under `SEAT_HEADINGS`."""
    pairs = zip(study.seats, study.before.by_seat, way.outcome.by_seat, strict=True)
    return [(_name(seat), *_cells(before), *_cells(after)) for seat, before, after in pairs]


def _name(seat: Seat) -> str:
    return f"{seat.name} (primary)" if seat.primary else seat.name


def _cells(found: SeatSpread) -> tuple[str, str]:
    return f"{round(found.mean_difference_db, 1) + 0.0:+.1f}", f"{found.deviation_db:.1f}"


def seat_table(study: BassStudy) -> list[str]:
    """How each seat differs from the mean of all; nothing for a single seat."""
    if len(study.seats) == 1:
        return []
    parts = _before_and_after(study)
    columns = [Column("Seat", flexible=True)]
    rows = [[_name(seat)] for seat in study.seats]
    for when, outcome in parts:
        columns += [Column(f"{when}level", right=True), Column("differs by", right=True)]
        for row, seat in zip(rows, outcome.by_seat, strict=True):
            row += _cells(seat)
    legend = f"{SEATS_LEGEND}{_after_words(study)}"
    return section("Seat by seat", [*grid(columns, rows), "", *paragraph(legend)])


def frequency_table(study: BassStudy) -> list[str]:
    """The mean level along the band, and how far the seats differ."""
    columns = [Column("Hz", right=True)]
    chosen = _chosen(len(study.frequency_hz))
    rows = [[f"{study.frequency_hz[n]:.1f}"] for n in chosen]
    for when, outcome in _before_and_after(study):
        columns += [Column(f"{when}level", right=True), Column("deviation", right=True), Column("max-min", right=True)]
        for row, n in zip(rows, chosen, strict=True):
            one = outcome.by_frequency[n]
            row += [f"{one.mean_level_db:.1f}", f"{one.deviation_db:.2f}", f"{one.max_minus_min_db:.2f}"]
    legend = (
        "Level: mean of the seats, dB re one subwoofer at 1 m in the open. Deviation: standard deviation over the"
        f" seats, divisor S, dB.{_after_words(study)} Every frequency is in the JSON result (--json FILE)."
    )
    return section("Along the band", [*grid(columns, rows), "", *paragraph(legend)])


def _before_and_after(study: BassStudy) -> list[tuple[str, Outcome]]:
    """What stands before the headings, and the outcome; one only where nothing can be set."""
    if len(study.ways) == 1:
        return [("", study.before)]
    return [("Before: ", study.before), ("After: ", study.ways[-1].outcome)]


def _after_words(study: BassStudy) -> str:
    if len(study.ways) == 1:
        return ""
    return " After: with each subwoofer on an output of its own, at the settings above."


def _chosen(count: int) -> list[int]:
    """So many rows at most, evenly spread, the first and the last among them."""
    rows = min(count, _MOST_ROWS)
    return [round(n * (count - 1) / max(rows - 1, 1)) for n in range(rows)]
