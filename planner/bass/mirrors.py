"""Which subwoofers the room cannot tell apart: its mirror images, where the seats mirror too."""

from collections.abc import Sequence
from itertools import product

from planner.bass.groupings import Permutation

Place = tuple[float, float, float]

_SAME_M = 1e-3


def mirror_symmetries(
    size_m: Place, subwoofers: Sequence[tuple[Place, object]], seats: Sequence[tuple[Place, object]]
) -> tuple[Permutation, ...]:
    """How the room's mirror images move the subwoofers, the identity first, each once.

    A rectangular room is its own image in each of its three middle planes. An image counts where
    it carries every seat to a seat, and every subwoofer to a subwoofer, of the same kind to
    the millimetre. The `object` beside a place is its kind: the model of a subwoofer, the weight of a seat.
    """
    found: dict[Permutation, None] = {}
    for flips in product((False, True), repeat=3):
        if _image(size_m, flips, seats) is None:
            continue
        permutation = _image(size_m, flips, subwoofers)
        if permutation is not None:
            found[permutation] = None
    return tuple(found)


def _image(size_m: Place, flips: tuple[bool, ...], things: Sequence[tuple[Place, object]]) -> Permutation | None:
    """Which thing stands where the image of each falls; None where one falls on nothing of its kind."""
    moved_to: list[int] = []
    for place, kind in things:
        image = [length - x if flip else x for length, flip, x in zip(size_m, flips, place, strict=True)]
        free = (
            n
            for n, (other, other_kind) in enumerate(things)
            if n not in moved_to
            and other_kind == kind
            and all(abs(a - b) <= _SAME_M for a, b in zip(image, other, strict=True))
        )
        there = next(free, None)
        if there is None:
            return None
        moved_to.append(there)
    return tuple(moved_to)
