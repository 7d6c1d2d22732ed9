"""The ways of control side by side, and what to set for each."""

from planner.bass.controls import Grouping, Setting
from planner.bass.shared_filters import SharedFilters
from planner.bass.study import BassStudy, ComparedWay
from planner.tables.layout import Column, grid, paragraph, section
from planner.words import listed


def ways_table(study: BassStudy) -> list[str]:
    """One line for each number of groups: spread before and after, max-minus-min, level, loss."""
    columns = (
        Column("Groups", right=True),
        Column("Share an output", flexible=True),
        Column("Before", right=True),
        Column("Spread", right=True),
        Column("MSV", right=True),
        Column("S-1", right=True),
        Column("Max-min", right=True),
        Column("Level", right=True),
        Column("Loss", right=True),
    )
    rows = [_row(way, study) for way in study.ways]
    return section("Ways of control", [*grid(columns, rows), "", *paragraph(_legend(study)), *_searched(study)])


def settings_table(study: BassStudy) -> list[str]:
    """What each output is set to, for each way of control that sets anything."""
    columns = (
        Column("Groups", right=True),
        Column("Subwoofers", flexible=True),
        Column("Gain, dB", right=True),
        Column("Delay, ms", right=True),
        Column("Polarity"),
    )
    rows = [
        (str(len(way.way.best.groups)) if first else "", together(group), *_setting(setting))
        for way in study.ways[1:]
        for first, group, setting in _lines(way)
    ]
    if not rows:
        return []
    lines = [*grid(columns, rows), "", *paragraph(_ranges(study)), *_filters(study)]
    return section("Settings to start from", lines)


def filter_words(filters: SharedFilters) -> str:
    """The filters in a line: "-5.5 dB at 35 Hz, Q 5.6"."""
    return "; ".join(f"{one.gain_db:.1f} dB at {one.centre_hz:g} Hz, Q {one.q:g}" for one in filters.filters)


def _filters(study: BassStudy) -> list[str]:
    """The shared filters of the way with the most control, where there are any."""
    filters = study.ways[-1].filters
    if not filters.filters:
        return []
    return paragraph(
        f"Then, with each subwoofer on an output of its own, the same peaking filters on every output:"
        f" {filter_words(filters)}. They bring the mean of the seats from {filters.before_db:.1f} to"
        f" {filters.after_db:.1f} dB of the subwoofers' own slope (root mean square), and leave the spread as it is."
    )


def grouping_words(grouping: Grouping) -> str:
    """Which subwoofers share an output, by their numbers: "1+2, 3+4"."""
    return ", ".join(together(group) for group in grouping)


def together(group: tuple[int, ...]) -> str:
    """The numbers of subwoofers that share an output: "1+2"."""
    return "+".join(str(member + 1) for member in group)


def _row(compared: ComparedWay, study: BassStudy) -> tuple[str, ...]:
    spread, best = compared.outcome.spread, compared.way.best
    sample = spread.sample_variance_db2
    return (
        str(len(best.groups)),
        grouping_words(best.grouping),
        f"{study.before.spread.spread_db:.2f}",
        f"{spread.spread_db:.2f}",
        f"{spread.mean_spatial_variance_db2:.2f}",
        "-" if sample is None else f"{sample:.2f}",
        f"{spread.max_minus_min_db:.2f}",
        f"{spread.mean_level_db:.1f}",
        f"{round(compared.outcome.loss_db, 1) + 0.0:.1f}",  # no -0.0
    )


def _legend(study: BassStudy) -> str:
    return (
        "All figures in dB, the variances in dB squared. Before: spread with one signal to all and nothing set."
        " Spread: root of MSV, with the best settings found. MSV: mean spatial variance, divisor S seats; S-1: with"
        " that divisor. Max-min: loudest less softest seat, mean over frequency. Level: mean output level re one"
        " subwoofer at 1 m in the open. Loss: how much less loud all can play than before, at most"
        f" {study.most_loss_db:g}; below zero, louder."
    )


def _searched(study: BassStudy) -> list[str]:
    """How far the groupings were searched, where there is a choice."""
    parts = tuple(
        f"{compared.way.tried} of {compared.way.possible} into {len(compared.way.best.groups)}"
        for compared in study.ways
        if compared.way.possible > 1
    )
    if not parts:
        return []
    return paragraph(
        f"Groupings looked at: {listed(parts)} groups, mirror images of one another once."
        " No settings are proven best of all."
    )


def _lines(compared: ComparedWay) -> list[tuple[bool, tuple[int, ...], Setting]]:
    best = compared.way.best
    pairs = zip(best.grouping, best.settings, strict=True)
    return [(n == 0, group, setting) for n, (group, setting) in enumerate(pairs)]


def _setting(setting: Setting) -> tuple[str, str, str]:
    return f"{setting.gain_db:.1f}", f"{setting.delay_ms:.1f}", "inverted" if setting.inverted else "normal"


def _ranges(study: BassStudy) -> str:
    control = study.control
    return (
        f"Searched from {control.least_gain_db:g} to 0 dB in steps of {control.gain_step_db:g}, and from 0 to"
        f" {control.most_delay_ms:g} ms in steps of {control.delay_step_ms:g}. Check that the device that is to"
        " make them has these ranges."
    )
