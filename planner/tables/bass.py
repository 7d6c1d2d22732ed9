"""What `bass` prints: the prediction as plain text, 80 columns."""

from collections.abc import Sequence

from planner.bass.notes import HEARING, PREDICTION
from planner.bass.study import BassStudy
from planner.bass.subwoofers import PlacedSubwoofer
from planner.brief.records import Brief
from planner.tables.bass_counts import counts_table
from planner.tables.bass_seats import frequency_table, seat_table
from planner.tables.bass_ways import settings_table, ways_table
from planner.tables.cells import NOT_KNOWN
from planner.tables.heading import heading
from planner.tables.layout import Column, grid, paragraph, section
from planner.words import counted, listed

SUBWOOFER_HEADINGS = ("No", "Subwoofer", "Model", "Low corner, Hz", "x, m", "y, m", "z, m")
SUBWOOFER_FIGURES = ("No", *SUBWOOFER_HEADINGS[3:])


def bass_report(study: BassStudy, brief: Brief) -> str:
    """The whole printed answer."""
    lines = [
        *heading(brief),
        "",
        *paragraph(PREDICTION),
        "",
        *paragraph(_basis(study)),
        *_subwoofers(study.subwoofers),
        *ways_table(study),
        *settings_table(study),
        *counts_table(study),
        *seat_table(study),
        *frequency_table(study),
        *_notes((*study.notes, HEARING)),
    ]
    return "\n".join(lines) + "\n"


def _basis(study: BassStudy) -> str:
    room, cut = study.room, study.truncation
    return (
        f"Bass at {counted(len(study.seats), 'seat')} from {study.band.low_hz:g} to {study.band.high_hz:g} Hz,"
        f" {len(study.frequency_hz)} frequencies that count alike. {_reverberation(study)},"
        f" separate up to {room.schroeder_hz:.0f} Hz. Speed of sound"
        f" {room.speed_m_per_s:.1f} m/s. {cut.modes} modes up to {cut.limit_hz:.0f} Hz summed, all others as at rest;"
        f" the last step changed the field by {cut.change_db:.3f} dB."
    )


def _reverberation(study: BassStudy) -> str:
    """The reverberation time, and how wide the modes are for it."""
    room, band = study.room, study.band
    if not room.reverberation_bands:
        return f"Reverberation time {room.reverberation_time_s:g} s: modes {room.bandwidth_hz(band.low_hz):.1f} Hz wide"
    times = listed(tuple(f"{seconds:g} s at {hertz:g} Hz" for hertz, seconds in room.reverberation_bands))
    low, high = room.bandwidth_hz(band.low_hz), room.bandwidth_hz(band.high_hz)
    return f"Reverberation time {times}: modes {low:.1f} Hz wide at the low end, {high:.1f} Hz at the high end"


def _subwoofers(subwoofers: Sequence[PlacedSubwoofer]) -> list[str]:
    columns = [
        Column(heading, right=heading in SUBWOOFER_FIGURES, flexible=heading in ("Subwoofer", "Model"))
        for heading in SUBWOOFER_HEADINGS
    ]
    return section("Subwoofers", grid(columns, subwoofer_rows(subwoofers)))


def subwoofer_rows(subwoofers: Sequence[PlacedSubwoofer]) -> list[tuple[str, ...]]:
    """Each position by its number, under `SUBWOOFER_HEADINGS`."""
    return [
        (
            str(number),
            one.name if one.used else f"{one.name} (position to choose)",
            one.model or "open",
            NOT_KNOWN if one.low_corner_hz is None else f"{one.low_corner_hz:g}",
            *(f"{value:.2f}" for value in (one.position.x_m, one.position.y_m, one.position.z_m)),
        )
        for number, one in enumerate(subwoofers, start=1)
    ]


def _notes(notes: Sequence[str]) -> list[str]:
    lines: list[str] = []
    for text in notes:
        lines.extend(paragraph(text, indent="  ", first="- "))
    return section("To be read with this", lines)
