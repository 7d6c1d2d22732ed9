"""The sets of loudspeakers and subwoofers as requirements: their models, their levels, and that they are there."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from typing import TypeVar

from planner.brief.records import Brief, LoudspeakerSet
from planner.channels import display_name
from planner.requirements.requirement import Change, Looser, Requirement, Sacrifice
from planner.words import counted

T = TypeVar("T")


def of_models(brief: Brief) -> Iterator[Requirement]:
    """The models that each set may be of, and the level that is asked of it."""
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


def of_loads(brief: Brief) -> Iterator[Requirement]:
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
    return f"the set {name!r} has at least {counted(least, 'subwoofer')}"


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
