"""What the seats get with given settings: spread, levels, and what is left of the loudness."""

from dataclasses import dataclass
from statistics import fmean

from planner.bass.bass_field import BassField
from planner.bass.best_settings import Best
from planner.bass.controls import Setting
from planner.bass.spread import BandSpread, FrequencySpread, SeatSpread, Spread, by_band, by_frequency, by_seat, spread
from planner.bass.subwoofers import PlacedSubwoofer
from planner.bass.task import Task
from planner.bass.trials import trial


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """Settings by subwoofer, and all that they do.

    Levels are dB re one subwoofer's free field at 1 m. `loss_db` is the level given up against the same subwoofers
    on one signal; `greatest_level_db` the mean level, dB SPL, when the first subwoofer reaches its own
    greatest, None where the catalogue does not say that of all.
    """

    settings: tuple[Setting, ...]
    loss_db: float
    greatest_level_db: float | None
    spread: Spread
    by_frequency: tuple[FrequencySpread, ...]
    by_band: tuple[BandSpread, ...]
    by_seat: tuple[SeatSpread, ...]


def seat_differences_db(outcome: Outcome, low_hz: float, high_hz: float) -> tuple[float, ...]:
    """How much louder each seat is than the mean of all, over a part of the band, both ends included.

    Where no frequency of the band lies within, the nearest stands for it.
    """
    hertz = [one.frequency_hz for one in outcome.by_frequency]
    within = [n for n, one in enumerate(hertz) if low_hz <= one <= high_hz]
    if not within:
        middle = (low_hz + high_hz) / 2
        within = [min(range(len(hertz)), key=lambda n: abs(hertz[n] - middle))]
    return tuple(
        fmean(seat.level_db[n] - outcome.by_frequency[n].mean_level_db for n in within) for seat in outcome.by_seat
    )


def outcome(
    task: Task, best: Best, field: BassField, subwoofers: tuple[PlacedSubwoofer, ...], seats: tuple[str, ...]
) -> Outcome:
    """The outcome of a result of the search. `subwoofers` are those of the task, in order."""
    level_db = task.levels_db(trial(best.settings))[:, 0]
    figures = spread(level_db, field.seat_weight)
    settings = tuple(setting for _, setting in sorted(best.by_subwoofer.items()))
    return Outcome(
        settings=settings,
        loss_db=best.loss_db,
        greatest_level_db=_greatest_level_db(figures.mean_level_db, settings, subwoofers),
        spread=figures,
        by_frequency=by_frequency(level_db, field.seat_weight, field.frequency_hz),
        by_band=by_band(level_db, field.seat_weight, field.frequency_hz),
        by_seat=by_seat(level_db, field.seat_weight, seats),
    )


def _greatest_level_db(
    mean_level_db: float, settings: tuple[Setting, ...], subwoofers: tuple[PlacedSubwoofer, ...]
) -> float | None:
    rooms = [
        one.max_spl_db - setting.gain_db
        for setting, one in zip(settings, subwoofers, strict=True)
        if one.max_spl_db is not None
    ]
    return mean_level_db + min(rooms) if len(rooms) == len(subwoofers) else None
