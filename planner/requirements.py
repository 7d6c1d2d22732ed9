"""The requirements of a brief one by one: each in the brief's words, and how to do without it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from planner.brief.records import Brief, Drive, Limits
from planner.channels import display_name

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Requirement:
    """One thing that the brief asks for. `without` gives the same brief not asking for it."""

    sentence: str
    without: Callable[[Brief], Brief]


def requirements(brief: Brief) -> tuple[Requirement, ...]:
    """All requirements that a brief really makes, the ones easiest to give up first."""
    return (*_of_limits(brief), *_of_gear(brief), *_of_models(brief), *_of_loads(brief))


def _limit(sentence: str, change: Callable[[Limits], Limits]) -> Requirement:
    return Requirement(sentence, lambda brief: replace(brief, limits=change(brief.limits)))


def _of_limits(brief: Brief) -> Iterator[Requirement]:
    limits, subwoofers = brief.limits, sum(s.most for s in brief.subwoofers)
    if limits.budget is not None:
        yield _limit(
            f"the price with tax is at most {brief.project.currency} {limits.budget:,}",
            lambda now: replace(now, budget=None),
        )
    if limits.spare_outputs:
        yield _limit(f"{limits.spare_outputs} outputs stay spare", lambda now: replace(now, spare_outputs=0))
    if limits.most_subwoofers_lost is not None:
        yield _limit(
            f"no single failure silences more than {limits.most_subwoofers_lost} subwoofers",
            lambda now: replace(now, most_subwoofers_lost=None),
        )
    if limits.least_independent_subwoofers:
        yield _limit(
            f"at least {limits.least_independent_subwoofers} subwoofers are independently controlled",
            lambda now: replace(now, least_independent_subwoofers=0),
        )
    if limits.least_control_groups:
        yield _limit(
            f"the subwoofers form at least {limits.least_control_groups} control groups",
            lambda now: replace(now, least_control_groups=0),
        )
    if limits.filters_per_subwoofer:
        yield _limit(
            f"a control point has {limits.filters_per_subwoofer} filters",
            lambda now: replace(now, filters_per_subwoofer=0),
        )
    if limits.balanced_only:
        yield _limit("every line connection is balanced", lambda now: replace(now, balanced_only=False))
    if limits.drives != frozenset(Drive):
        names = ", ".join(sorted(d.value.replace("_", "-") for d in limits.drives))
        yield _limit(f"the only drives allowed are: {names}", lambda now: replace(now, drives=frozenset(Drive)))
    if limits.largest_split < subwoofers:
        yield _limit(
            f"a split has at most {limits.largest_split} legs", lambda now: replace(now, largest_split=subwoofers)
        )
    if limits.most_dsp_units < subwoofers:
        yield _limit(
            f"there are at most {limits.most_dsp_units} DSP units",
            lambda now: replace(now, most_dsp_units=min(subwoofers, 4)),
        )
    if brief.rack.units is not None:
        yield Requirement(
            f"everything fits {brief.rack.units} rack units",
            lambda now: replace(now, rack=replace(now.rack, units=None)),
        )


def _of_gear(brief: Brief) -> Iterator[Requirement]:
    for sku in brief.excluded:
        yield Requirement(
            f"{sku} is excluded", lambda now, sku=sku: replace(now, excluded=tuple(s for s in now.excluded if s != sku))
        )
    for entry in brief.owned:
        if entry.must_use:
            yield Requirement(
                f"all {entry.count} of the owned {entry.sku} are used",
                lambda now, sku=entry.sku: replace(
                    now, owned=tuple(replace(o, must_use=False) if o.sku == sku else o for o in now.owned)
                ),
            )


def _of_models(brief: Brief) -> Iterator[Requirement]:
    for position, speakers in enumerate(brief.loudspeakers):
        if speakers.candidates:
            yield Requirement(
                f"the set {speakers.name!r} is {' or '.join(speakers.candidates)}",
                lambda now, i=position: _any_speaker(now, i),
            )
        elif speakers.target_spl_db is not None:
            yield Requirement(
                f"the set {speakers.name!r} reaches {speakers.target_spl_db:g} dB SPL at the primary seats",
                lambda now, i=position: _any_speaker(now, i),
            )
    for position, subwoofers in enumerate(brief.subwoofers):
        if subwoofers.candidates:
            yield Requirement(
                f"the set {subwoofers.name!r} is {' or '.join(subwoofers.candidates)}",
                lambda now, i=position: replace(
                    now, subwoofers=_changed(now.subwoofers, i, replace(now.subwoofers[i], candidates=()))
                ),
            )


def _any_speaker(brief: Brief, position: int) -> Brief:
    free = replace(brief.loudspeakers[position], candidates=(), target_spl_db=None)
    return replace(brief, loudspeakers=_changed(brief.loudspeakers, position, free))


def _of_loads(brief: Brief) -> Iterator[Requirement]:
    """That the loudspeakers and subwoofers are there at all; without them the places stay empty."""
    for position, subwoofers in enumerate(brief.subwoofers):
        if subwoofers.least:
            yield Requirement(
                f"the set {subwoofers.name!r} has at least {subwoofers.least} subwoofers",
                lambda now, i=position: replace(
                    now, subwoofers=_changed(now.subwoofers, i, replace(now.subwoofers[i], least=0, most=0))
                ),
            )
    for position, speakers in enumerate(brief.loudspeakers):
        channels = ", ".join(display_name(p.channel) for p in speakers.placements)
        yield Requirement(
            f"the set {speakers.name!r} has {len(speakers.placements)} loudspeakers ({channels})",
            lambda now, i=position: replace(
                now, loudspeakers=_changed(now.loudspeakers, i, replace(now.loudspeakers[i], placements=()))
            ),
        )


def _changed(entries: tuple[T, ...], position: int, entry: T) -> tuple[T, ...]:
    return (*entries[:position], entry, *entries[position + 1 :])
