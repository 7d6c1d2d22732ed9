"""Times the bass: responses per second beside two other ways to them, and the whole comparison of groupings.

    python -m tests.benchmarks.bass [--json FILE]

A response is the pressure of one source at one seat at 61 frequencies, 20 to 80 Hz. The other ways are a loop over
modes and frequencies as one would first write it, of the same modes, and image sources by pyroomacoustics, a
general-purpose library. Never a test: times depend on the machine. That all three find much the same levels is
asserted.
"""

import argparse
import json
import math
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TypeVar

import numpy as np
import pyroomacoustics

from planner.bass import bass_study
from planner.bass.arrays import Complexes, Reals
from planner.bass.controls import USUAL_RANGE
from planner.bass.room_modes import modes_up_to
from planner.bass.room_response import room_response
from planner.bass.shoebox import Shoebox
from planner.bass.ways import Search, ways_of_control
from tests.bass.rooms import BAND_HZ, random_field
from tests.plan.demo import demo_brief, demo_catalogue

T = TypeVar("T")

# Walls that take a fifth of the energy, and the reverberation time that follows by Sabine's formula.
ABSORPTION = 0.2
SIZE_M = (6.2, 4.1, 2.55)
SURFACE_M2 = 2 * (6.2 * 4.1 + 6.2 * 2.55 + 4.1 * 2.55)
SABINE_S = 0.161 * math.prod(SIZE_M) / (ABSORPTION * SURFACE_M2)
ROOM = Shoebox(size_m=SIZE_M, speed_m_per_s=343.2, reverberation_time_s=SABINE_S)
_REFLECTIONS = 60
_RATE_HZ = 2000
# The loop leaves out what lies above its last mode. Walls that absorb damp no two modes alike, and nulls differ
# most: so in the median.
_LOOP_DB, _LIBRARY_DB = 0.3, 1.5


@dataclass(frozen=True, kw_only=True, slots=True)
class BassBenchmark:
    """Responses a second, the ratios of ours to the others', and seconds of the whole comparisons."""

    responses_per_second: float
    loop_per_second: float
    library_per_second: float
    over_loop: float
    over_library: float
    demo_study_seconds: float | None
    four_by_eight_groupings_seconds: float | None
    eight_by_twelve_groupings_seconds: float | None


def main(arguments: Sequence[str] | None = None) -> int:
    """Measures and prints."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks.bass",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--json", type=Path, help="write the figures to this file")
    parser.add_argument("--responses-only", action="store_true", help="leave out the comparisons of groupings")
    wanted = parser.parse_args(arguments)
    found = measured(whole=not wanted.responses_only)
    for name, value in asdict(found).items():
        if value is not None:
            print(f"{name.replace('_', ' '):36} {value:12,.2f}")
    if wanted.json is not None:
        wanted.json.write_text(json.dumps(asdict(found), indent=2) + "\n", encoding="utf-8")
    return 0


def measured(*, whole: bool) -> BassBenchmark:
    """One run of everything. Raises AssertionError where the three ways disagree."""
    sources_m = np.array([(0.4, 1.1, 0.3), (0.4, 3.0, 0.3), (5.8, 1.1, 0.3), (5.8, 3.0, 0.3)])
    seats_m = np.array([(x, y, 1.15) for x in (3.2, 4.4) for y in (0.8, 1.6, 2.4, 3.2)])
    pairs = len(sources_m) * len(seats_m)
    ours_s, ours = timed(lambda: room_response(ROOM, BAND_HZ, seats_m, sources_m))
    loop_s, loop = timed(lambda: _loop(ours.truncation.limit_hz, seats_m[:1], sources_m[:2]))
    library_s, library = timed(lambda: _library(seats_m, sources_m))
    _confirm(ours.pressure[:, :1, :2], loop, _LOOP_DB)
    _confirm(ours.pressure, library, _LIBRARY_DB)
    return BassBenchmark(
        responses_per_second=pairs / ours_s,
        loop_per_second=2 / loop_s,
        library_per_second=pairs / library_s,
        over_loop=pairs / ours_s * loop_s / 2,
        over_library=library_s / ours_s,
        demo_study_seconds=_demo_study_s() if whole else None,
        four_by_eight_groupings_seconds=_groupings_s(4, 8) if whole else None,
        eight_by_twelve_groupings_seconds=_groupings_s(8, 12) if whole else None,
    )


def timed(work: Callable[[], T]) -> tuple[float, T]:
    """Seconds by the clock, and what came of the work."""
    started = time.perf_counter()
    result = work()
    return time.perf_counter() - started, result


def _loop(limit_hz: float, seats_m: Reals, sources_m: Reals) -> Complexes:
    """The modal sum as one would first write it: four loops and the formula."""
    modes = modes_up_to(ROOM, limit_hz)
    decay = 3 * math.log(10) / ROOM.reverberation_time_s
    found = np.zeros((len(BAND_HZ), len(seats_m), len(sources_m)), dtype=np.complex128)
    for s, seat in enumerate(seats_m.tolist()):
        for n, source in enumerate(sources_m.tolist()):
            shapes = [
                math.prod(math.cos(k * x) * math.cos(k * x0) for k, x, x0 in zip(wave, seat, source, strict=True))
                for wave in modes.wavenumber_rad_per_m.tolist()
            ]
            norms = modes.norm_m3.tolist()
            own = [2 * math.pi * hertz for hertz in modes.frequency_hz.tolist()]
            for f, hertz in enumerate(BAND_HZ.tolist()):
                driven = 2 * math.pi * hertz
                total = 0j
                for shape, norm, mode in zip(shapes, norms, own, strict=True):
                    total += shape / norm / (mode**2 - driven**2 + 2j * decay * mode)
                found[f, s, n] = 4 * math.pi * ROOM.speed_m_per_s**2 * total
    return found


def _library(seats_m: Reals, sources_m: Reals) -> Complexes:
    """Image sources by pyroomacoustics, and their Fourier transform; it too has the source's free field at 1 m as 1."""
    pyroomacoustics.constants.set("rir_hpf_enable", False)
    pyroomacoustics.constants.set("c", ROOM.speed_m_per_s)
    room = pyroomacoustics.ShoeBox(
        SIZE_M, fs=_RATE_HZ, materials=pyroomacoustics.Material(ABSORPTION), max_order=_REFLECTIONS
    )
    for source in sources_m:
        room.add_source(source)
    room.add_microphone_array(seats_m.T)
    room.compute_rir()
    found = np.empty((len(BAND_HZ), len(seats_m), len(sources_m)), dtype=np.complex128)
    for s, of_seat in enumerate(room.rir):
        for n, impulse in enumerate(of_seat):
            times = np.arange(len(impulse)) / _RATE_HZ
            found[:, s, n] = np.exp(-2j * np.pi * BAND_HZ[:, None] * times) @ impulse
    return found


def _confirm(ours: Complexes, other: Complexes, tolerance_db: float) -> None:
    apart_db = np.abs(20 * np.log10(np.abs(ours) / np.abs(other)))
    assert np.median(apart_db) <= tolerance_db, f"levels differ by {np.median(apart_db):.2f} dB in the median"


def _demo_study_s() -> float:
    """The whole study of the 7.1.4 demo: field, groupings, counts and positions."""
    catalogue, brief = demo_catalogue(), demo_brief("cinema-7-1-4-four-mixed-subs")
    return timed(lambda: bass_study(brief, catalogue))[0]


def _groupings_s(subwoofers: int, seats: int) -> float:
    """All ways of control of subwoofers and seats that have no symmetry, every hertz."""
    field = random_field(0, subwoofers, seats, BAND_HZ)
    search = Search(field=field, subwoofers=subwoofers, control=USUAL_RANGE, most_loss_db=3.0)
    return timed(lambda: ways_of_control(search))[0]


if __name__ == "__main__":
    sys.exit(main())
