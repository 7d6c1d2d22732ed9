"""The fewest leads that need be cut: spare halves of longer leads in place of leads cut for their own sake.

The bill takes, for each tail, the shortest lead of its kind or a half that a longer one of its kind
leaves over (rule R3 as this project reads it), and the search has made the most of those. What is
left is told here: the spare half of a lead of another kind, whose far end alone is another, may do
as well, and so may one that a greater rearrangement sets free. Then a lead can stay whole. How many,
at the most, is a small cutting-stock problem. It is solved exactly: what is left of a set that can
stay whole can stay whole too, so sets are grown lead by lead from those that can. Leads of one
sku are alike, so only how many of each matters. The design and its price stay as they are.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from planner.wiring.cut_list import CutLead, CutList, Tail


@dataclass(frozen=True, kw_only=True, slots=True)
class Move:
    """A tail that is made of another half: its mark, and the lead that the half is of."""

    mark: str
    sku: str
    number: int
    half_m: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Savings:
    """The leads that can stay whole, and the tails that are then made of other halves."""

    whole: tuple[CutLead, ...]
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class _Half:
    lead: CutLead
    end: Tail

    def serves(self, other: "_Half") -> bool:
        """Whether it could be the tail that the other half is: same plug, same cores, long enough."""
        return (
            self.end.plug == other.end.plug
            and self.lead.balanced is other.lead.balanced
            and self.end.half_m >= other.end.wanted_m
        )


def savings(cuts: CutList) -> Savings:
    """What spare halves can save of a cut list, at the most; nothing where every set of leads is needed.

    Of equally many leads those that are longest in all stay whole.
    """
    halves = [_Half(lead, end) for lead in cuts.leads for end in (lead.end_a, lead.end_b)]
    had = Counter(lead.sku for lead in cuts.leads)
    best = Savings(whole=(), moves=())
    grown: set[tuple[str, ...]] = {()}
    while grown:
        larger = {tuple(sorted((*skus, sku))) for skus in grown for sku in had if skus.count(sku) < had[sku]}
        found = {skus: moves for skus in larger if (moves := _served(halves, _whole(cuts, skus))) is not None}
        ranked = sorted(found, key=lambda skus: (-_length_m(_whole(cuts, skus)), skus))
        if ranked:
            best = Savings(whole=_whole(cuts, ranked[0]), moves=found[ranked[0]])
        grown = set(found)
    return best


def _whole(cuts: CutList, skus: Sequence[str]) -> tuple[CutLead, ...]:
    """So many leads of each sku: the last ones, of which halves are most likely spare."""
    wanted, had = Counter(skus), Counter(lead.sku for lead in cuts.leads)
    return tuple(lead for lead in cuts.leads if lead.number > had[lead.sku] - wanted[lead.sku])


def _length_m(leads: Sequence[CutLead]) -> float:
    return sum(lead.length_m for lead in leads)


def _served(halves: Sequence[_Half], whole: tuple[CutLead, ...]) -> tuple[Move, ...] | None:
    """The tails that move where some leads stay whole, or None where not all can be served.

    A greatest matching by augmenting paths, which starts from the tails as they are.
    """
    left = [half for half in halves if half.lead not in whole]
    tails = [half for half in halves if half.end.mark is not None]
    served: dict[_Half, _Half] = {half: half for half in left if half.end.mark is not None}  # tail by half
    for tail in tails:
        if tail.lead in whole and not _placed(tail, left, served, set()):
            return None
    moved = ((half, tail) for half, tail in served.items() if half != tail)
    moves = (
        Move(mark=tail.end.mark or "", sku=half.lead.sku, number=half.lead.number, half_m=half.end.half_m)
        for half, tail in moved
    )
    return tuple(sorted(moves, key=lambda move: move.mark))


def _placed(tail: _Half, left: Sequence[_Half], served: dict[_Half, _Half], tried: set[_Half]) -> bool:
    """Whether a half can be found for a tail, others moving where they must; spare ones are tried first."""
    fitting = [half for half in left if half.serves(tail) and half not in tried]
    for half in sorted(fitting, key=lambda half: (half in served, half.end.half_m)):
        tried.add(half)
        if half not in served or _placed(served[half], left, served, tried):
            served[half] = tail
            return True
    return False
