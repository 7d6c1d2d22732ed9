"""Briefs around a brief: the same wishes with a few loudspeaker channels or subwoofers more or fewer.

Channels come and go towards known layouts that are reached by adding, or by removing, alone: to one
of just the size wanted where there is one, else part of the way to the next, in pairs; an odd step without
a layout of its own is a count, with one channel of a pair. Among layouts as near, the order is
that of `_USUAL`. That order is common practice, no published source.

An added loudspeaker is one more of the set that holds the nearest channel, of its own layer where
there is one, and stands where the layout puts it. A subwoofer beyond the positions of its set
stands where the last of them stands. No more is asked of the budget: the price answers that.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin

from planner.brief.records import Brief, LoudspeakerSet, Placement, SubwooferSet
from planner.channels import channel, nominal_angles
from planner.layouts import Layout, layout
from planner.words import listed

_USUAL = ("2.0", "5.1", "5.1.2", "5.1.4", "7.1", "7.1.2", "7.1.4", "9.1.4", "9.1.6", "7.1.6", "9.1.2", "9.1", "22.2")


@dataclass(frozen=True, kw_only=True, slots=True)
class Variant:
    """A brief so many loudspeaker channels away, the layout that it then has if any, and what changed.

    `renamed` pairs labels of loudspeakers that stay and carry another channel of the new layout.
    """

    change: int
    brief: Brief
    layout: str | None
    added: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()
    renamed: tuple[tuple[str, str], ...] = ()

    @property
    def words(self) -> str:
        """What changed, in words."""
        parts = [self.layout] if self.layout else []
        parts += [f"with {_words(self.added)}"] if self.added else []
        parts += [f"without {_words(self.removed)}"] if self.removed else []
        named = ((_words([old]), _words([new])) for old, new in self.renamed)
        parts += [f"{old} becomes {new}" for old, new in named if old != new]
        return ", ".join(parts) or "as in the brief"


def _words(labels: Sequence[str]) -> str:
    return listed(tuple(channel(label).words for label in labels))


def unpriced(brief: Brief) -> Brief:
    """The brief without its budget."""
    return replace(brief, limits=replace(brief.limits, budget=None))


def with_channels(brief: Brief, change: int) -> Variant | None:
    """The brief with so many loudspeaker channels more or fewer; None where there is no such brief."""
    here = _labels(brief)
    if change == 0:
        return Variant(change=0, brief=brief, layout=None)
    if not here or len(here) + change < 1:
        return None
    move = _exact(here, change) or (_more(here, change) if change > 0 else _fewer(here, -change))
    return None if move is None else _made(brief, change, move)


def at_layout(brief: Brief, name: str) -> Variant:
    """The brief with the loudspeaker channels of another layout. Raises WrongUsage if it is unknown."""
    here, target = _labels(brief), layout(name)
    move = _towards(here, target)
    return _made(brief, len(move.added) - len(move.removed), move)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Move:
    """Channels that come, that go, and that get another label, on the way to a layout if any."""

    target: Layout | None
    added: tuple[str, ...]
    removed: tuple[str, ...]
    renamed: tuple[tuple[str, str], ...]


def _labels(brief: Brief) -> tuple[str, ...]:
    """The loudspeaker channels of a brief, each once, in its order."""
    return tuple(dict.fromkeys(p.channel for s in brief.loudspeakers for p in s.placements))


def _exact(here: tuple[str, ...], change: int) -> _Move | None:
    """To the layout of just that size that keeps most labels, where one is reached by adding or removing alone."""
    moves = [_towards(here, known) for known in _ranked() if len(_main(known)) == len(here) + change]
    whole = [move for move in moves if not (move.removed if change > 0 else move.added)]
    return min(whole, key=lambda move: len(move.renamed), default=None)


def _more(here: tuple[str, ...], wanted: int) -> _Move | None:
    """Part of the way to the next larger layout."""
    moves = [_towards(here, known) for known in _ranked() if len(_main(known)) > len(here) + wanted]
    larger = [move for move in moves if not move.removed] or [_only_new(here)]
    move = min(larger, key=lambda move: (len(move.added), len(move.renamed)))
    added = _some(move.added, wanted)
    return None if len(added) < wanted else replace(move, target=None, added=added)


def _fewer(here: tuple[str, ...], wanted: int) -> _Move:
    """Part of the way to the next smaller layout, or the last channels of the brief."""
    moves = [_towards(here, known) for known in _ranked() if len(_main(known)) < len(here) - wanted]
    smaller = [move for move in moves if not move.added]
    nearest = min(smaller, key=lambda move: (len(move.removed), len(move.renamed)), default=None)
    gone = here[1:] if nearest is None else nearest.removed
    return _Move(target=None, added=(), removed=gone[::-1][:wanted], renamed=())


def _only_new(here: tuple[str, ...]) -> _Move:
    """To system H, the labels in use left as they are."""
    new = tuple(label for label in _main(layout("22.2")) if label not in here)
    return _Move(target=None, added=new, removed=(), renamed=())


def _some(labels: tuple[str, ...], wanted: int) -> tuple[str, ...]:
    """So many of these labels: a single one first where the number is odd, then pairs, then whatever is left."""
    singles = [label for label in labels if not _side(label)]
    paired = [label for label in labels if _side(label)]
    first = singles[: wanted % 2]
    pairs = paired[: wanted - len(first)]
    return tuple([*first, *pairs, *singles[len(first) :]][:wanted])


def _ranked() -> Sequence[Layout]:
    """The layouts that the trade builds up to, the usual ones first."""
    return [layout(name) for name in _USUAL]


def _main(known: Layout) -> tuple[str, ...]:
    return tuple(channel.label for channel in known.channels if not channel.is_lfe)


def _towards(here: tuple[str, ...], target: Layout) -> _Move:
    """What changes on the way to a layout; a loudspeaker stays, renamed, where a like one is wanted on its side."""
    new = [label for label in _main(target) if label not in here]
    gone = [label for label in here if label not in _main(target)]
    renamed = []
    for old in list(gone):
        alike = [label for label in new if label[:1] == old[:1] and _side(label) == _side(old)]
        if alike:
            label = min(alike, key=lambda one: _apart(one, old))
            new.remove(label)
            gone.remove(old)
            renamed.append((old, label))
    return _Move(target=target, added=tuple(new), removed=tuple(gone), renamed=tuple(renamed))


def _made(brief: Brief, change: int, move: _Move) -> Variant:
    changed = _relabelled(brief, dict(move.renamed), move.removed)
    for label in move.added:
        changed = _added(changed, label)
    return Variant(
        change=change,
        brief=changed if move.target is None else replace(changed, layout=move.target.name),
        layout=None if move.target is None else _short(move.target),
        added=move.added,
        removed=move.removed,
        renamed=move.renamed,
    )


def _short(known: Layout) -> str:
    """The shorthand of a layout, else its name."""
    return next((name for name in (known.name, *known.other_names) if "." in name), known.name)


def _relabelled(brief: Brief, label_by_old: dict[str, str], gone: Sequence[str]) -> Brief:
    sets = (
        replace(
            group,
            placements=tuple(
                replace(p, channel=label_by_old.get(p.channel, p.channel))
                for p in group.placements
                if p.channel not in gone
            ),
        )
        for group in brief.loudspeakers
    )
    return replace(brief, loudspeakers=tuple(sets))


def _added(brief: Brief, label: str) -> Brief:
    """One more loudspeaker, of the set that holds the nearest channel."""
    filled = [group for group in brief.loudspeakers if group.placements]

    def distance(group: LoudspeakerSet) -> tuple[bool, float]:
        return min((p.channel[:1] != label[:1], _apart(p.channel, label)) for p in group.placements)

    host = min(filled, key=distance)
    grown = replace(host, placements=(*host.placements, Placement(channel=label)))
    return replace(brief, loudspeakers=tuple(grown if group is host else group for group in brief.loudspeakers))


def _side(label: str) -> int:
    azimuth = nominal_angles(label).azimuth_deg
    return 0 if azimuth in (0.0, 180.0) else (1 if azimuth > 0 else -1)


def _apart(one: str, other: str) -> float:
    """How far two directions lie apart: the length of the chord between them on a unit sphere."""
    return float(sum((a - b) ** 2 for a, b in zip(_direction(one), _direction(other), strict=True)) ** 0.5)


def _direction(label: str) -> tuple[float, float, float]:
    angles = nominal_angles(label)
    azimuth, elevation = radians(angles.azimuth_deg), radians(angles.elevation_deg)
    return cos(azimuth) * cos(elevation), sin(azimuth) * cos(elevation), sin(elevation)


def subwoofers_today(brief: Brief) -> int:
    """How many subwoofers the brief asks for at least."""
    return sum(group.least for group in brief.subwoofers)


def up_to(brief: Brief, more: int) -> Brief:
    """The brief with room in each subwoofer set for so many more; how many there are is for the bounds to say."""
    return replace(brief, subwoofers=tuple(_room_for(group, more) for group in brief.subwoofers))


def down_to(brief: Brief, fewer: int) -> Brief:
    """The brief with each subwoofer set at its least, or up to so many below."""
    sets = (replace(group, least=max(group.least - fewer, 0), most=group.least) for group in brief.subwoofers)
    return replace(brief, subwoofers=tuple(sets))


def _room_for(group: SubwooferSet, more: int) -> SubwooferSet:
    most = max(group.most, group.least + more)
    positions = (*group.positions, *(group.positions[-1:] * max(most - len(group.positions), 0)))
    return replace(group, most=most, positions=positions)
