"""Published optima of variable-sized bin packing with items alike, through the amplifiers of a design.

Where all feeds are alike, amplifiers are bins: an amplifier of C channels at a price f holds C feeds, and the
cheapest design is the cheapest set of bins that holds them all. That is variable-sized bin packing
with items of one size (Friesen and Langston, "Variable sized bin packing", SIAM J. Comput. 15 (1986),
doi:10.1137/0215016, state the problem with items of any size; a feed takes one channel, so only this case arises).

With each bin there once it is the 0/1 knapsack problem seen from the other side: the bins that are *not*
bought are to be worth as much as possible, and may hold no more than what is to spare. So the published
optima of knapsack instances are optima here: bins of the knapsack's weights at its profits, and
as many feeds as all bins hold less the knapsack's capacity. Sources:

- J. Burkardt, KNAPSACK_01, "Data for the 01 Knapsack Problem", Florida State University,
  people.sc.fsu.edu/~jburkardt/datasets/knapsack_01: sets P02, P04 and P05 with their optimal selections.
- Computer Science Stack Exchange, question 69074, "How to solve variable sized bin packing when the items have
  equal weights": the two instances in its comments that defeat buying by price a channel, or by size.
"""

from dataclasses import dataclass

import pytest

from planner.brief.records import Brief, Drive
from planner.catalogue.records import CableKind, PortRole
from planner.design import UnitKind
from tests.demand.shop import POST, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, ins, limits, outs, speakers
from tests.plan.systems import PRICE_ONLY, cheapest, euros, skus


@dataclass(frozen=True, kw_only=True, slots=True)
class Packing:
    """Bins of each capacity and price, one of each; the items to pack; the capacities of the optimal bins."""

    capacities: tuple[int, ...]
    prices: tuple[int, ...]
    items: int
    optimum: tuple[int, ...]


def complement(
    capacity: int, weights: tuple[int, ...], profits: tuple[int, ...], selection: tuple[int, ...]
) -> Packing:
    """A knapsack instance and its optimal selection from the other side."""
    left = tuple(index for index, taken in enumerate(selection) if not taken)
    return Packing(capacities=weights, prices=profits, items=sum(weights) - capacity, optimum=left)


PUBLISHED = {
    "KNAPSACK_01 P02": complement(26, (12, 7, 11, 8, 9), (24, 13, 23, 15, 16), (0, 1, 1, 1, 0)),
    "KNAPSACK_01 P04": complement(50, (31, 10, 20, 19, 4, 3, 6), (70, 20, 39, 37, 7, 5, 10), (1, 0, 0, 1, 0, 0, 0)),
    "KNAPSACK_01 P05": complement(
        104, (25, 35, 45, 5, 25, 3, 2, 2), (350, 400, 450, 20, 70, 8, 5, 5), (1, 0, 1, 1, 1, 0, 1, 1)
    ),
    "CS 69074, by price a channel": Packing(capacities=(1, 2), prices=(2, 5), items=2, optimum=(1,)),
    "CS 69074, by size": Packing(capacities=(101, 100), prices=(50, 1), items=100, optimum=(1,)),
}


@pytest.mark.parametrize("name", PUBLISHED)
def test_amplifiers_are_chosen_as_in_the_published_optimum(name: str) -> None:
    packing = PUBLISHED[name]
    best = sum(packing.prices[index] for index in packing.optimum)
    found = cheapest(_brief(packing.items), _shop(packing))
    assert euros(found) == best
    bought = {int(sku.removeprefix("A")) for sku in skus(found, UnitKind.AMPLIFIER)}
    assert sum(packing.prices[index] for index in bought) == best
    assert sum(packing.capacities[index] for index in bought) >= packing.items


def _brief(items: int) -> Brief:
    """So many loudspeakers in one place, each on an output of its own."""
    return brief(
        speakers("All", "L", " ".join(["M+000"] * items), *[3.0] * items),
        measures=PRICE_ONLY,
        limits=limits(drives=frozenset({Drive.DEDICATED}), physical=frozenset()),
    )


def _shop(packing: Packing) -> Shop:
    """Amplifiers at their prices, one of each; all else is free."""
    found = Shop()
    found.processor("P", 0, outs("OUT", XLR, packing.items, PortRole.ASSIGNABLE), processed_outputs=packing.items)
    found.speaker("L", 0, ins("IN", POST))
    found.lead("W", 0, XLR_SOCKET, XLR_PINS, 1.0)
    found.cable("C", 0, CableKind.SPEAKER)
    for index, (channels, price) in enumerate(zip(packing.capacities, packing.prices, strict=True)):
        found.amplifier(f"A{index}", price, channels, XLR, stock=1)
    return found
