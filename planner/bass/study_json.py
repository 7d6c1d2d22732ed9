"""The prediction as JSON: the tree that `planner/bass.schema.json` describes.

Subwoofers are numbered from 1, in the order of the tree's `subwoofers`. Nothing differs between two
runs of the same input.
"""

import math

from planner.bass.bass_field import seat_weights
from planner.bass.best_settings import Best
from planner.bass.counts import Count
from planner.bass.notes import HEARING, PREDICTION
from planner.bass.outcome import Outcome
from planner.bass.spread import FrequencySpread, SeatSpread, Spread
from planner.bass.study import BassStudy, ComparedWay
from planner.bass.subwoofers import PlacedSubwoofer
from planner.brief.records import Project

Json = dict[str, object]

_PLACES = 4


def study_tree(study: BassStudy, project: Project) -> Json:
    """The whole prediction as plain dicts and lists."""
    room, cut, control = study.room, study.truncation, study.control
    weights = seat_weights(study.seats)
    return {
        "project": {
            "name": project.name,
            "client": project.client,
            "reference": project.reference,
            "dated": project.dated.isoformat(),
        },
        "prediction": PREDICTION,
        "hearing": HEARING,
        "notes": list(study.notes),
        "band": {"low_hz": study.band.low_hz, "high_hz": study.band.high_hz},
        "frequencies_hz": [_rounded(one) for one in study.frequency_hz],
        "room": {
            "speed_of_sound_m_per_s": _rounded(room.speed_m_per_s),
            "reverberation_time_s": room.reverberation_time_s,
            "reverberation_bands": [{"hz": hertz, "time_s": seconds} for hertz, seconds in room.reverberation_bands],
            "mode_bandwidth_low_hz": _rounded(room.bandwidth_hz(study.band.low_hz)),
            "mode_bandwidth_high_hz": _rounded(room.bandwidth_hz(study.band.high_hz)),
            "schroeder_hz": _rounded(room.schroeder_hz),
        },
        "truncation": {"limit_hz": _rounded(cut.limit_hz), "modes": cut.modes, "change_db": _rounded(cut.change_db)},
        "control": {
            "least_gain_db": control.least_gain_db,
            "gain_step_db": control.gain_step_db,
            "most_delay_ms": control.most_delay_ms,
            "delay_step_ms": control.delay_step_ms,
            "polarity": control.polarity,
        },
        "most_loss_db": study.most_loss_db,
        "seats": [
            {"name": seat.name, "primary": seat.primary, "weight": _rounded(float(weight))}
            for seat, weight in zip(study.seats, weights, strict=True)
        ],
        "subwoofers": [_subwoofer(n, one) for n, one in enumerate(study.subwoofers, start=1)],
        "ways": [_way(compared) for compared in study.ways],
        "counts": [_count(count) for count in study.counts],
    }


def _subwoofer(number: int, one: PlacedSubwoofer) -> Json:
    return {
        "number": number,
        "set": one.set_name,
        "index": one.position_index,
        "position_m": [one.position.x_m, one.position.y_m, one.position.z_m],
        "used": one.used,
        "model": one.model,
        "low_corner_hz": one.low_corner_hz,
        "max_spl_db": one.max_spl_db,
    }


def _way(compared: ComparedWay) -> Json:
    outcome = compared.outcome
    return {
        "groups": _numbers(compared.way.best),
        "tried": compared.way.tried,
        "possible": compared.way.possible,
        "settings": _settings(outcome),
        "loss_db": _rounded(outcome.loss_db),
        "greatest_level_db": None if outcome.greatest_level_db is None else _rounded(outcome.greatest_level_db),
        "spread": _spread(outcome.spread),
        "filters": [
            {"centre_hz": one.centre_hz, "gain_db": one.gain_db, "q": one.q} for one in compared.filters.filters
        ],
        "level_deviation_db": {
            "without_filters": _rounded(compared.filters.before_db),
            "with_filters": _rounded(compared.filters.after_db),
        },
        "by_band": [
            {"nominal_hz": one.nominal_hz, "frequencies": one.frequencies, "spread": _spread(one.spread)}
            for one in outcome.by_band
        ],
        "by_frequency": [_frequency(one) for one in outcome.by_frequency],
        "by_seat": [_seat(one) for one in outcome.by_seat],
    }


def _settings(outcome: Outcome) -> list[Json]:
    return [
        {"subwoofer": number, "gain_db": one.gain_db, "delay_ms": one.delay_ms, "inverted": one.inverted}
        for number, one in enumerate(outcome.settings, start=1)
    ]


def _spread(spread: Spread) -> Json:
    sample = spread.sample_variance_db2
    return {
        "spread_db": _rounded(spread.spread_db),
        "mean_spatial_variance_db2": _rounded(spread.mean_spatial_variance_db2),
        "sample_variance_db2": None if sample is None else _rounded(sample),
        "mean_deviation_db": _rounded(spread.mean_deviation_db),
        "max_minus_min_db": _rounded(spread.max_minus_min_db),
        "mean_level_db": _rounded(spread.mean_level_db),
    }


def _frequency(one: FrequencySpread) -> Json:
    return {
        "frequency_hz": _rounded(one.frequency_hz),
        "mean_level_db": _rounded(one.mean_level_db),
        "deviation_db": _rounded(one.deviation_db),
        "max_minus_min_db": _rounded(one.max_minus_min_db),
    }


def _seat(one: SeatSpread) -> Json:
    return {
        "seat": one.seat,
        "mean_level_db": _rounded(one.mean_level_db),
        "mean_difference_db": _rounded(one.mean_difference_db),
        "deviation_db": _rounded(one.deviation_db),
        "max_minus_min_db": _rounded(one.max_minus_min_db),
        "level_db": [_rounded(level) for level in one.level_db],
    }


def _count(count: Count) -> Json:
    return {
        "subwoofers": count.subwoofers,
        "choices": count.choices,
        "in_order_one_signal": _placed(count.in_order_one_signal),
        "in_order_own": _placed(count.in_order_own),
        "best_one_signal": _placed(count.best_one_signal),
        "best_own": _placed(count.best_own),
    }


def _placed(best: Best | None) -> Json | None:
    if best is None:
        return None
    return {
        "subwoofers": sorted(number for group in _numbers(best) for number in group),
        "spread_db": _rounded(math.sqrt(best.variance_db2)),
    }


def _numbers(best: Best) -> list[list[int]]:
    return [[member + 1 for member in group] for group in best.grouping]


def _rounded(value: float) -> float:
    """Four decimals: far finer than the prediction, and no -0.0."""
    return round(value, _PLACES) + 0.0
