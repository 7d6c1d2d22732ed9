"""For both programmes: how many leads are cut in half for the tails chosen (R3)."""

from collections import defaultdict
from collections.abc import Iterator

from tests.oracle.leads import Make
from tests.oracle.linear import Programme, Sum, total

MANY = 100
"""More tails than any instance has."""


class Tails:
    """How many tails are chosen of each end of each lead; the spare ones are no reason to cut it."""

    def __init__(self) -> None:
        self._needed: dict[tuple[str, str], list[Sum]] = defaultdict(list)
        self._spare: dict[tuple[str, str], list[Sum]] = defaultdict(list)

    def add(self, make: Make, number: Sum) -> None:
        """So many lines are made so."""
        if make.tail is not None:
            (self._spare if make.spare else self._needed)[make.tail].append(number)

    def leads_cut(self, programme: Programme) -> Iterator[tuple[str, Sum]]:
        """How many of each sku are cut. Halves are left over of one end only: of which the fewer are needed."""
        for sku in sorted({sku for sku, _ in (*self._needed, *self._spare)}):
            a, b = (total(self._needed[sku, end]) for end in "ab")
            cut = programme.whole(None)
            programme.at_least(cut, a)
            programme.at_least(cut, b)
            yield sku, cut
            spare_a, spare_b = (total(self._spare[sku, end]) for end in "ab")
            if spare_a.terms or spare_b.terms:
                more_a = programme.binary()
                programme.at_most(spare_b, a - b + MANY * (1 - more_a))
                programme.at_most(spare_a, b - a + MANY * more_a)
                programme.at_most(spare_b, MANY * more_a)
                programme.at_most(spare_a, MANY * (1 - more_a))
