"""The requirements of a brief one by one: each in the brief's words, and how to do without it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

from planner.brief.records import Brief, Drive, Limits
from planner.channels import display_name

T = TypeVar("T")
Change = Callable[[Brief], Brief]


@dataclass(frozen=True, slots=True)
class Requirement:
    """One thing that the brief asks for.

    `without` gives the same brief not asking for it, so that no fewer designs answer it.
    """

    sentence: str
    without: Change


def requirements(brief: Brief) -> tuple[Requirement, ...]:
    """All requirements that a brief really makes: limits, gear left out, models, loads, gear to be used.

    Use comes last because it hangs on the loads: what is there for a loudspeaker cannot be
    used without it.
    """
    return (*_of_limits(brief), *_of_exclusion(brief), *_of_models(brief), *_of_loads(brief), *_of_use(brief))


def _of_limits(brief: Brief) -> Iterator[Requirement]:
    """Each limit that differs from none at all."""
    now, none = brief.limits, _unlimited(brief)
    sentences = {
        "budget": f"the price with tax is at most {brief.project.currency} {now.budget or 0:,}",
        "spare_outputs": f"{now.spare_outputs} outputs stay spare",
        "most_subwoofers_lost": f"no single failure silences more than {now.most_subwoofers_lost} subwoofers",
        "least_independent_subwoofers": (
            f"at least {now.least_independent_subwoofers} subwoofers are independently controlled"
        ),
        "least_control_groups": f"the subwoofers form at least {now.least_control_groups} control groups",
        "filters_per_subwoofer": f"a control point has {now.filters_per_subwoofer} filters",
        "balanced_only": "every line connection is balanced",
        "drives": f"the only drives allowed are: {', '.join(_drive_words(now))}",
        "largest_split": f"at most {now.largest_split} feeds share an output",
        "most_dsp_units": f"there are at most {now.most_dsp_units} DSP units",
    }
    for name, sentence in sentences.items():
        if getattr(now, name) != getattr(none, name):
            yield Requirement(sentence, partial(_with_limit, name=name, value=getattr(none, name)))
    if brief.rack.units is not None:
        yield Requirement(f"everything fits {brief.rack.units} rack units", _any_rack)


def _unlimited(brief: Brief) -> Limits:
    """The same brief's limits with each of them loosened as far as it can matter."""
    subwoofers = sum(s.most for s in brief.subwoofers)
    return Limits(
        largest_split=max(brief.limits.largest_split, subwoofers),
        most_dsp_units=max(brief.limits.most_dsp_units, min(subwoofers, 4)),
        spare_ceiling=brief.limits.spare_ceiling,
    )


def _drive_words(limits: Limits) -> list[str]:
    return [drive.value.replace("_", "-") for drive in Drive if drive in limits.drives]


def _with_limit(brief: Brief, *, name: str, value: object) -> Brief:
    changed: dict[str, object] = {name: value}
    return replace(brief, limits=replace(brief.limits, **changed))  # type: ignore[arg-type]


def _any_rack(brief: Brief) -> Brief:
    return replace(brief, rack=replace(brief.rack, units=None))


def _of_exclusion(brief: Brief) -> Iterator[Requirement]:
    for sku in brief.excluded:
        yield Requirement(f"{sku} is excluded", partial(_allow, sku=sku))


def _of_use(brief: Brief) -> Iterator[Requirement]:
    for entry in brief.owned:
        if entry.must_use:
            sentence = f"all {entry.count} of the owned {entry.sku} are used"
            yield Requirement(sentence, partial(_may_use, sku=entry.sku))


def _allow(brief: Brief, *, sku: str) -> Brief:
    return replace(brief, excluded=tuple(s for s in brief.excluded if s != sku))


def _may_use(brief: Brief, *, sku: str) -> Brief:
    return replace(brief, owned=tuple(replace(o, must_use=o.must_use and o.sku != sku) for o in brief.owned))


def _of_models(brief: Brief) -> Iterator[Requirement]:
    for place, speakers in enumerate(brief.loudspeakers):
        if speakers.candidates:
            sentence = f"the set {speakers.name!r} is {' or '.join(speakers.candidates)}"
            yield Requirement(sentence, partial(_any_speaker, place=place))
        elif speakers.target_spl_db is not None:
            sentence = f"the set {speakers.name!r} reaches {speakers.target_spl_db:g} dB SPL at the primary seats"
            yield Requirement(sentence, partial(_any_speaker, place=place))
    for place, subwoofers in enumerate(brief.subwoofers):
        if subwoofers.candidates:
            sentence = f"the set {subwoofers.name!r} is {' or '.join(subwoofers.candidates)}"
            yield Requirement(sentence, partial(_any_subwoofer, place=place))


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
            sentence = f"the set {subwoofers.name!r} has at least {subwoofers.least} subwoofers"
            yield Requirement(sentence, partial(_perhaps_subwoofers, place=place))
    for place, speakers in enumerate(brief.loudspeakers):
        channels = ", ".join(display_name(p.channel) for p in speakers.placements)
        sentence = f"the set {speakers.name!r} has {len(speakers.placements)} loudspeakers ({channels})"
        yield Requirement(sentence, partial(_no_speakers, place=place))


def _perhaps_subwoofers(brief: Brief, *, place: int) -> Brief:
    """They may still be there, for the sake of what else is asked of them."""
    free = replace(brief.subwoofers[place], least=0)
    return replace(brief, subwoofers=_changed(brief.subwoofers, place, free))


def _no_speakers(brief: Brief, *, place: int) -> Brief:
    """Without them, those of the set that the client has need not be used either."""
    speakers = brief.loudspeakers[place]
    owned = tuple(replace(o, must_use=o.must_use and o.sku not in speakers.candidates) for o in brief.owned)
    empty = replace(speakers, placements=())
    return replace(brief, loudspeakers=_changed(brief.loudspeakers, place, empty), owned=owned)


def _changed(entries: tuple[T, ...], place: int, entry: T) -> tuple[T, ...]:
    return (*entries[:place], entry, *entries[place + 1 :])
