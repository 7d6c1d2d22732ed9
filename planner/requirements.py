"""The requirements of a brief one by one: each in the brief's words, and how to do without it."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from enum import IntEnum
from functools import partial
from typing import Any, TypeVar

from planner.brief.records import Brief, Drive, Limits, LoudspeakerSet, PhysicalLimit
from planner.channels import display_name

T = TypeVar("T")
Change = Callable[[Brief], Brief]


class Sacrifice(IntEnum):
    """What is lost with a requirement, the least first. Common practice in talks with a client, no published source.

    FITTING  how the system is built, which nobody hears
    RESERVE  what is there for later, or for the day that something fails
    MONEY    the budget
    SOUND    some of the performance or of the freedom to set it
    MODEL    the very model that was asked for
    EXTENT   a part of the system
    """

    FITTING = 1
    RESERVE = 2
    MONEY = 3
    SOUND = 4
    MODEL = 5
    EXTENT = 6

    @property
    def words(self) -> str:
        """What is lost, as an object of "gives up"."""
        return _SACRIFICE_WORDS[self]


_SACRIFICE_WORDS = {
    Sacrifice.FITTING: "how it is built, which nobody hears",
    Sacrifice.RESERVE: "a reserve for later, or for a failure",
    Sacrifice.MONEY: "the budget",
    Sacrifice.SOUND: "some of the performance, or of the freedom to set it",
    Sacrifice.MODEL: "the model asked for",
    Sacrifice.EXTENT: "a part of the system",
}


@dataclass(frozen=True, slots=True)
class Requirement:
    """One thing that the brief asks for.

    `without` gives the same brief not asking for it, so that no fewer designs answer it;
    `given_up` says so in words. `looser` are ways to ask for less of it, the slightest first, each
    of which leaves no fewer designs than the one before. A requirement of `safety` may be in a
    conflict, and is never offered to be given up.
    """

    sentence: str
    without: Change
    sacrifice: Sacrifice
    given_up: str = ""
    looser: tuple["Looser", ...] = ()
    safety: bool = False


@dataclass(frozen=True, slots=True)
class Looser:
    """One way to ask for less: in words, and the brief changed so."""

    sentence: str
    change: Change


def requirements(brief: Brief) -> tuple[Requirement, ...]:
    """All requirements that a brief really makes: limits, gear left out, models, loads, gear to be used.

    Use comes last because it hangs on the loads: what is there for a loudspeaker cannot be
    used without it.
    """
    return (*_of_limits(brief), *_of_exclusion(brief), *_of_models(brief), *_of_loads(brief), *_of_use(brief))


def _of_limits(brief: Brief) -> Iterator[Requirement]:
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
        lambda value, _: f"{value} outputs stay spare", "no output need stay spare", Sacrifice.RESERVE, _down
    ),
    "most_subwoofers_lost": _LimitWords(
        lambda value, _: f"no single failure silences more than {value} subwoofers",
        "one failure may silence any number of subwoofers",
        Sacrifice.RESERVE,
        _up,
    ),
    "least_independent_subwoofers": _LimitWords(
        lambda value, _: f"at least {value} subwoofers are independently controlled",
        "no subwoofer need be independently controlled",
        Sacrifice.SOUND,
        _down,
    ),
    "least_control_groups": _LimitWords(
        lambda value, _: f"the subwoofers form at least {value} control groups",
        "the subwoofers may all share one control point",
        Sacrifice.SOUND,
        _down,
    ),
    "filters_per_subwoofer": _LimitWords(
        lambda value, _: f"a control point has {value} filters",
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
        lambda value, _: f"at most {value} feeds share an output",
        "any number of subwoofers may share an output",
        Sacrifice.FITTING,
        _up,
    ),
    "most_dsp_units": _LimitWords(
        lambda value, _: f"there are at most {value} DSP units",
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


def _of_exclusion(brief: Brief) -> Iterator[Requirement]:
    for sku in brief.excluded:
        yield Requirement(f"{sku} is excluded", partial(_allow, sku=sku), Sacrifice.FITTING, f"{sku} may be used")


def _of_use(brief: Brief) -> Iterator[Requirement]:
    for entry in brief.owned:
        if entry.must_use:
            sentence = f"all {entry.count} of the owned {entry.sku} are used"
            change = partial(_may_use, sku=entry.sku)
            yield Requirement(sentence, change, Sacrifice.FITTING, f"the owned {entry.sku} may stand idle")


def _allow(brief: Brief, *, sku: str) -> Brief:
    return replace(brief, excluded=tuple(s for s in brief.excluded if s != sku))


def _may_use(brief: Brief, *, sku: str) -> Brief:
    return replace(brief, owned=tuple(replace(o, must_use=o.must_use and o.sku != sku) for o in brief.owned))


def _of_models(brief: Brief) -> Iterator[Requirement]:
    for place, speakers in enumerate(brief.loudspeakers):
        if speakers.candidates:
            sentence = f"the set {speakers.name!r} is {' or '.join(speakers.candidates)}"
            looser = _any_model_that_reaches(speakers, partial(_with_speaker_models, place=place))
            change = partial(_any_speaker, place=place)
            yield Requirement(sentence, change, Sacrifice.MODEL, _any_model(speakers.name), looser)
        if speakers.target_spl_db is not None:
            words, level = partial(_level_words, speakers.name), partial(_with_level, place=place)
            yield _of_target(speakers.name, speakers.target_spl_db, words, level)
    for place, subwoofers in enumerate(brief.subwoofers):
        if subwoofers.candidates:
            sentence = f"the set {subwoofers.name!r} is {' or '.join(subwoofers.candidates)}"
            change = partial(_any_subwoofer, place=place)
            given_up = f"the set {subwoofers.name!r} may be of any model"
            yield Requirement(sentence, change, Sacrifice.MODEL, given_up)
        if subwoofers.target_spl_db is not None:
            words, level = partial(_bass_level_words, subwoofers.name), partial(_with_bass_level, place=place)
            yield _of_target(subwoofers.name, subwoofers.target_spl_db, words, level)


_MOST_QUIETER_DB = 20
"""A target lower than this is another system."""


def _of_target(name: str, target_db: float, words: Callable[[float], str], level: Callable[..., Brief]) -> Requirement:
    """A target, given up or lowered by whole decibels."""
    lower = (target_db - step for step in range(1, _MOST_QUIETER_DB + 1))
    return Requirement(
        words(target_db),
        partial(level, target_db=None),
        Sacrifice.SOUND,
        f"the set {name!r} may reach any level",
        tuple(Looser(words(each), partial(level, target_db=each)) for each in lower if each > 0),
    )


def _level_words(name: str, target_db: float) -> str:
    return f"the set {name!r} reaches {target_db:g} dB SPL at the primary seats"


def _bass_level_words(name: str, target_db: float) -> str:
    return f"the set {name!r} asks for {target_db:g} dB SPL together"


def _any_model_that_reaches(speakers: LoudspeakerSet, change: Change) -> tuple[Looser, ...]:
    """Another model that still reaches the target, where there is one to reach."""
    if speakers.target_spl_db is None:
        return ()
    return (Looser(f"the set {speakers.name!r} may be of any model that reaches its level", change),)


def _any_model(name: str) -> str:
    return f"the set {name!r} may be of any model, whatever level it reaches"


def _with_level(brief: Brief, *, place: int, target_db: float | None) -> Brief:
    changed = replace(brief.loudspeakers[place], target_spl_db=target_db)
    return replace(brief, loudspeakers=_changed(brief.loudspeakers, place, changed))


def _with_bass_level(brief: Brief, *, place: int, target_db: float | None) -> Brief:
    changed = replace(brief.subwoofers[place], target_spl_db=target_db)
    return replace(brief, subwoofers=_changed(brief.subwoofers, place, changed))


def _with_speaker_models(brief: Brief, *, place: int) -> Brief:
    free = replace(brief.loudspeakers[place], candidates=())
    return replace(brief, loudspeakers=_changed(brief.loudspeakers, place, free))


def _any_speaker(brief: Brief, *, place: int) -> Brief:
    free = replace(brief.loudspeakers[place], candidates=(), target_spl_db=None)
    return replace(brief, loudspeakers=_changed(brief.loudspeakers, place, free))


def _any_subwoofer(brief: Brief, *, place: int) -> Brief:
    free = replace(brief.subwoofers[place], candidates=())
    return replace(brief, subwoofers=_changed(brief.subwoofers, place, free))


def _of_loads(brief: Brief) -> Iterator[Requirement]:
    """That the loudspeakers and subwoofers are there at all; without them the places stay empty."""
    for place, subwoofers in enumerate(brief.subwoofers):
        if subwoofers.least:
            yield Requirement(
                _count_words(subwoofers.name, subwoofers.least),
                partial(_perhaps_subwoofers, place=place, least=0),
                Sacrifice.EXTENT,
                f"the set {subwoofers.name!r} may stay empty",
                tuple(
                    Looser(_count_words(subwoofers.name, least), partial(_perhaps_subwoofers, place=place, least=least))
                    for least in range(subwoofers.least - 1, 0, -1)
                ),
            )
    for place, speakers in enumerate(brief.loudspeakers):
        channels = ", ".join(display_name(p.channel) for p in speakers.placements)
        sentence = f"the set {speakers.name!r} has {len(speakers.placements)} loudspeakers ({channels})"
        left_out = f"the set {speakers.name!r} is left out"
        yield Requirement(sentence, partial(_no_speakers, place=place), Sacrifice.EXTENT, left_out)


def _count_words(name: str, least: int) -> str:
    return f"the set {name!r} has at least {least} subwoofers"


def _perhaps_subwoofers(brief: Brief, *, place: int, least: int) -> Brief:
    """They may still be there, for the sake of what else is asked of them."""
    free = replace(brief.subwoofers[place], least=least)
    return replace(brief, subwoofers=_changed(brief.subwoofers, place, free))


def _no_speakers(brief: Brief, *, place: int) -> Brief:
    """Without them, those of the set that the client has need not be used either."""
    speakers = brief.loudspeakers[place]
    owned = tuple(replace(o, must_use=o.must_use and o.sku not in speakers.candidates) for o in brief.owned)
    empty = replace(speakers, placements=())
    return replace(brief, loudspeakers=_changed(brief.loudspeakers, place, empty), owned=owned)


def _changed(entries: tuple[T, ...], place: int, entry: T) -> tuple[T, ...]:
    return (*entries[:place], entry, *entries[place + 1 :])
