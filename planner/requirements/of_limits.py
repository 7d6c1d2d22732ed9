"""The limits of a brief as requirements: each that differs from none at all."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from planner.brief.records import Brief, Drive, Limits, PhysicalLimit
from planner.requirements.requirement import Looser, Requirement, Sacrifice
from planner.words import counted


def of_limits(brief: Brief) -> Iterator[Requirement]:
    """Each limit that differs from none at all."""
    now, none = brief.limits, _unlimited(brief)
    for name, word in _LIMIT_WORDS.items():
        value, free = getattr(now, name), getattr(none, name)
        if value != free:
            yield Requirement(
                word.asked(value, brief),
                partial(_with_limit, name=name, value=free),
                word.sacrifice,
                word.given_up,
                tuple(
                    Looser(word.asked(other, brief), partial(_with_limit, name=name, value=other))
                    for other in word.between(value, free, brief)
                ),
            )
    yield from _of_physics(now)
    if brief.rack.units is not None:
        steps = range(brief.rack.units + 1, _LARGEST_RACK + 1)
        yield Requirement(
            _rack_words(brief.rack.units),
            partial(_with_rack, units=None),
            Sacrifice.FITTING,
            "the rack may be of any height",
            tuple(Looser(_rack_words(units), partial(_with_rack, units=units)) for units in steps),
        )


_LARGEST_RACK = 84  # two full racks of 42 units; beyond that the rack is not the question


def _verb(count: int, one: str, more: str) -> str:
    """The verb that goes with a count."""
    return one if count == 1 else more


def _nothing_between(value: object, free: object, brief: Brief) -> Iterable[object]:
    return ()


def _down(value: object, free: object, brief: Brief) -> Iterable[int]:
    assert isinstance(value, int)
    return range(value - 1, 0, -1)


def _up(value: object, free: object, brief: Brief) -> Iterable[int]:
    """Up to the value that is no limit, or to all subwoofers."""
    assert isinstance(value, int)
    most = free if isinstance(free, int) else sum(s.most for s in brief.subwoofers)
    return range(value + 1, most)


def _a_few_more(value: object, free: object, brief: Brief) -> Iterable[int]:
    assert isinstance(value, int)
    return range(value + 1, value + 1 + _MOST_MORE_LOOPS)


_MOST_MORE_LOOPS = 8


@dataclass(frozen=True, slots=True)
class _LimitWords:
    """How one limit is asked for, what giving it up means and costs, and the values between it and none."""

    asked: Callable[[Any, Brief], str]
    given_up: str
    sacrifice: Sacrifice
    between: Callable[[object, object, Brief], Iterable[object]] = _nothing_between


_LIMIT_WORDS = {
    "budget": _LimitWords(
        lambda value, brief: f"the price with tax is at most {brief.project.currency} {value or 0:,}",
        "the budget is as much as it takes",
        Sacrifice.MONEY,
    ),
    "spare_outputs": _LimitWords(
        lambda value, _: f"{counted(value, 'output')} {_verb(value, 'stays', 'stay')} spare",
        "no output need stay spare",
        Sacrifice.RESERVE,
        _down,
    ),
    "most_subwoofers_lost": _LimitWords(
        lambda value, _: f"no single failure silences more than {counted(value, 'subwoofer')}",
        "one failure may silence any number of subwoofers",
        Sacrifice.RESERVE,
        _up,
    ),
    "least_independent_subwoofers": _LimitWords(
        lambda value, _: f"at least {counted(value, 'subwoofer')} {_verb(value, 'is', 'are')} independently controlled",
        "no subwoofer need be independently controlled",
        Sacrifice.SOUND,
        _down,
    ),
    "least_control_groups": _LimitWords(
        lambda value, _: f"the subwoofers form at least {counted(value, 'control group')}",
        "the subwoofers may all share one control point",
        Sacrifice.SOUND,
        _down,
    ),
    "filters_per_subwoofer": _LimitWords(
        lambda value, _: f"a control point has {counted(value, 'filter')}",
        "a control point need have no filters",
        Sacrifice.SOUND,
        _down,
    ),
    "balanced_only": _LimitWords(
        lambda _, __: "every line connection is balanced", "line connections may be unbalanced", Sacrifice.RESERVE
    ),
    "drives": _LimitWords(
        lambda value, _: f"the only drives allowed are: {', '.join(_drive_words(value))}",
        "any drive is allowed",
        Sacrifice.FITTING,
    ),
    "largest_split": _LimitWords(
        lambda value, _: f"at most {counted(value, 'feed')} {_verb(value, 'shares', 'share')} an output",
        "any number of subwoofers may share an output",
        Sacrifice.FITTING,
        _up,
    ),
    "most_dsp_units": _LimitWords(
        lambda value, _: f"there {_verb(value, 'is', 'are')} at most {counted(value, 'DSP unit')}",
        "there may be as many DSP units as it takes",
        Sacrifice.FITTING,
        _up,
    ),
    "least_margin_db": _LimitWords(
        lambda value, _: f"every level margin is at least {value or 0.0:g} dB",
        "level margins may be of any size",
        Sacrifice.RESERVE,
    ),
    "most_earth_loops": _LimitWords(
        lambda value, _: f"there are at most {value} earth loops",
        "there may be any number of earth loops",
        Sacrifice.SOUND,
        _a_few_more,
    ),
}


def _rack_words(units: int) -> str:
    return f"everything fits {units} rack units"


def _of_physics(limits: Limits) -> Iterator[Requirement]:
    """The limits of R11 to R15 that are kept."""
    sentences = {
        PhysicalLimit.LEVEL: (
            f"no input is more than {limits.level_tolerance_db:g} dB short of full output (R11)",
            "inputs may be short of full output",
        ),
        PhysicalLimit.TARGET: (
            f"targets are reached with {limits.target_headroom_db:g} dB of headroom (R13)",
            "targets may be missed",
        ),
        PhysicalLimit.CABLE: (
            f"no loudspeaker cable loses more than {limits.most_cable_loss_db:g} dB (R13)",
            "loudspeaker cables may lose any level",
        ),
        PhysicalLimit.LOAD: (
            "no amplifier channel has a load below what it may drive (R14)",
            "amplifier channels may have any load",
        ),
        PhysicalLimit.DELAY: (
            "the delays for alignment fit the ranges of the devices (R15)",
            "loudspeakers may arrive too early",
        ),
    }
    for limit, (sentence, given_up) in sentences.items():
        if limit in limits.physical:
            safety = limit is PhysicalLimit.LOAD  # a load too low overheats an amplifier
            change = partial(_without_physical, limit=limit)
            yield Requirement(sentence, change, Sacrifice.SOUND, given_up, safety=safety)


def _without_physical(brief: Brief, *, limit: PhysicalLimit) -> Brief:
    """The same brief, that limit told as a concern only."""
    return replace(brief, limits=replace(brief.limits, physical=brief.limits.physical - {limit}))


def _unlimited(brief: Brief) -> Limits:
    """The same brief's limits with each of them loosened as far as it can matter."""
    subwoofers = sum(s.most for s in brief.subwoofers)
    return Limits(
        largest_split=max(brief.limits.largest_split, subwoofers),
        most_dsp_units=max(brief.limits.most_dsp_units, min(subwoofers, 4)),
        spare_ceiling=brief.limits.spare_ceiling,
        physical=brief.limits.physical,
        level_tolerance_db=brief.limits.level_tolerance_db,
        target_headroom_db=brief.limits.target_headroom_db,
        most_cable_loss_db=brief.limits.most_cable_loss_db,
        most_noise_db=brief.limits.most_noise_db,
    )


def _drive_words(drives: Collection[Drive]) -> list[str]:
    return [drive.value.replace("_", "-") for drive in Drive if drive in drives]


def _with_limit(brief: Brief, *, name: str, value: object) -> Brief:
    changed: dict[str, object] = {name: value}
    return replace(brief, limits=replace(brief.limits, **changed))  # type: ignore[arg-type]


def _with_rack(brief: Brief, *, units: int | None) -> Brief:
    return replace(brief, rack=replace(brief.rack, units=units))
