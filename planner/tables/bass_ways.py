"""The ways of control side by side, and what to set for each."""

from collections.abc import Sequence

from planner.bass.controls import Grouping, Setting
from planner.bass.shared_filters import PeakingFilter
from planner.bass.study import BassStudy, ComparedWay
from planner.tables.cells import decimals
from planner.tables.layout import Column, grid, paragraph, section
from planner.words import listed

_SHARE = "Share an output"
WAY_HEADINGS = ("Groups", _SHARE, "Before", "Spread", "MSV", "S-1", "Max-min", "Level", "Loss")
WAY_FIGURES = tuple(heading for heading in WAY_HEADINGS if heading != _SHARE)
SETTING_HEADINGS = ("Subwoofers", "Gain, dB", "Delay, ms", "Polarity")
SETTING_FIGURES = ("Gain, dB", "Delay, ms")


def ways_table(study: BassStudy) -> list[str]:
    """One line for each number of groups: spread before and after, max-minus-min, level, loss."""
    columns = [Column(heading, right=heading in WAY_FIGURES, flexible=heading == _SHARE) for heading in WAY_HEADINGS]
    lines = grid(columns, way_rows(study))
    searched = searched_words(study)
    after = paragraph(searched) if searched else []
    return section("Ways of control", [*lines, "", *paragraph(ways_legend(study)), *after])


def way_rows(study: BassStudy) -> list[tuple[str, ...]]:
    """The ways of control, fewest groups first, under `WAY_HEADINGS`."""
    return [_row(way, study) for way in study.ways]


def settings_table(study: BassStudy) -> list[str]:
    """What each output is set to, for each way of control that sets anything."""
    columns = (
        Column("Groups", right=True),
        Column("Subwoofers", flexible=True),
        *(Column(heading, right=heading in SETTING_FIGURES) for heading in SETTING_HEADINGS[1:]),
    )
    rows = [
        (str(len(way.way.best.groups)) if n == 0 else "", *row)
        for way in study.ways[1:]
        for n, row in enumerate(setting_rows(way))
    ]
    if not rows:
        return []
    lines = [*grid(columns, rows), "", *paragraph(ranges_words(study)), *_filters(study)]
    return section("Settings to start from", lines)


def setting_rows(compared: ComparedWay) -> list[tuple[str, ...]]:
    """What each output of one way of control is set to, under `SETTING_HEADINGS`."""
    best = compared.way.best
    return [
        (together(group), *setting_cells(setting)) for group, setting in zip(best.grouping, best.settings, strict=True)
    ]


def setting_cells(setting: Setting) -> tuple[str, str, str]:
    """Gain, delay and polarity."""
    return f"{setting.gain_db:.1f}", f"{setting.delay_ms:.1f}", "inverted" if setting.inverted else "normal"


def filters_line(filters: Sequence[PeakingFilter]) -> str:
    """The filters in a line: "-5.5 dB at 35 Hz, Q 5.6"."""
    return "; ".join(f"{one.gain_db:.1f} dB at {one.centre_hz:g} Hz, Q {one.q:g}" for one in filters)


def filters_sentence(compared: ComparedWay) -> str:
    """The shared filters of a way of control and what they do; empty where none is worth it."""
    filters = compared.filters
    if not filters.filters:
        return ""
    return (
        f"Then the same peaking filters on every output: {filters_line(filters.filters)}. They bring the mean of the"
        f" seats from {filters.before_db:.1f} to {filters.after_db:.1f} dB of the subwoofers' own slope (root mean"
        " square), and leave the spread as it is."
    )


def _filters(study: BassStudy) -> list[str]:
    """Those of the way with the most control."""
    sentence = filters_sentence(study.ways[-1])
    return paragraph(f"With each subwoofer on an output of its own: {sentence}") if sentence else []


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
        decimals(sample, 2),
        f"{spread.max_minus_min_db:.2f}",
        f"{spread.mean_level_db:.1f}",
        f"{round(compared.outcome.loss_db, 1) + 0.0:.1f}",  # no -0.0
    )


def ways_legend(study: BassStudy) -> str:
    """What the columns of the ways of control mean."""
    return (
        "All figures in dB, the variances in dB squared. Before: spread with one signal to all and nothing set."
        " Spread: root of MSV, with the best settings found. MSV: mean spatial variance, divisor S seats; S-1: with"
        " that divisor. Max-min: loudest less softest seat, mean over frequency. Level: mean output level re one"
        " subwoofer at 1 m in the open. Loss: how much less loud all can play than before, at most"
        f" {study.most_loss_db:g}; below zero, louder."
    )


def searched_words(study: BassStudy) -> str:
    """How far the groupings were searched; empty where there is no choice."""
    parts = tuple(
        f"{compared.way.tried} of {compared.way.possible} into {len(compared.way.best.groups)}"
        for compared in study.ways
        if compared.way.possible > 1
    )
    if not parts:
        return ""
    return (
        f"Groupings looked at: {listed(parts)} groups, mirror images of one another once."
        " No settings are proven best of all."
    )


def ranges_words(study: BassStudy) -> str:
    """Between what the settings were searched."""
    control = study.control
    return (
        f"Searched from {control.least_gain_db:g} to 0 dB in steps of {control.gain_step_db:g}, and from 0 to"
        f" {control.most_delay_ms:g} ms in steps of {control.delay_step_ms:g}. Check that the device that is to"
        " make them has these ranges."
    )
