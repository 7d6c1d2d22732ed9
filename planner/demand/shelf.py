"""What can be had of each sku and for how much: offers, stock, least orders, owned gear."""

from collections.abc import Collection, Iterable

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue, Offer
from planner.costing import PriceList


class Shelf:
    """The catalogue seen by one buyer: owned gear costs nothing, excluded gear is not there.

    What is `kept` stays in the demand even where other gear does the same for less. With `shared`,
    what is bought serves other designs as well, so that no number has a price of its own.
    """

    def __init__(
        self,
        brief: Brief,
        catalogue: Catalogue,
        prices: PriceList,
        kept: Collection[str] = frozenset(),
        *,
        shared: bool = False,
    ) -> None:
        self._shared = shared
        self._excluded = frozenset(brief.excluded)
        self._owned: dict[str, int] = {}
        for entry in brief.owned:
            self._owned[entry.sku] = self._owned.get(entry.sku, 0) + entry.count
        self._held = frozenset(o.sku for o in brief.owned if o.must_use) | frozenset(kept)
        self._offers = {sku: _useful_offers(prices.offers(sku)) for sku in catalogue.offers}

    def owned(self, sku: str) -> int:
        """How many of it the client has."""
        return self._owned.get(sku, 0)

    def must_use(self, sku: str) -> bool:
        """Whether it may not be dropped: every owned one has to be used, or it is kept."""
        return sku in self._held

    def offers(self, sku: str) -> tuple[tuple[int, Offer], ...]:
        """(unit price, offer), cheapest first, ending with the first that has no bound."""
        return self._offers.get(sku, ())

    def usable(self, sku: str) -> bool:
        """Whether a design may hold it at all."""
        return sku not in self._excluded and (self.owned(sku) > 0 or bool(self.offers(sku)))

    def available(self, sku: str) -> int | None:
        """The most that can be had, or None where there is no bound."""
        if sku in self._excluded:
            return 0
        if any(offer.stock is None for _, offer in self.offers(sku)):
            return None
        return self.owned(sku) + sum(offer.stock or 0 for _, offer in self.offers(sku))

    def simple(self, sku: str) -> bool:
        """Whether any number costs exactly that many times one price."""
        offers = self.offers(sku)
        sold = len(offers) == 1 and _unbounded(offers[0][1])
        return sold and self.usable(sku) and not self.owned(sku) and not self._shared

    def unit_minor(self, sku: str) -> int:
        """The unit price of a simple sku, or the least unit price of any other."""
        return self.offers(sku)[0][0] if self.offers(sku) else 0

    def floor_minor(self, sku: str) -> int:
        """A price that n of it can never cost less than n times: zero where any is owned."""
        return 0 if self.owned(sku) else self.unit_minor(sku)

    def cost_minor(self, sku: str, count: int) -> int | None:
        """The least cost of `count` of it, None where so many cannot be had."""
        bought = self.cheapest_purchase(sku, count)
        return None if bought is None else sum(price * n for price, _, n in bought)

    def cheapest_purchase(self, sku: str, count: int) -> tuple[tuple[int, Offer, int], ...] | None:
        """(unit price, offer, number) that bring `count` of it at least cost, owned ones first."""
        wanted = count - self.owned(sku)
        if sku in self._excluded:
            return None
        if wanted <= 0:
            return ()
        best: dict[int, Bought] = {0: ()}
        for price, offer in self.offers(sku):
            best = _with_offer(best, price, offer, wanted)
        return best.get(wanted)


Bought = tuple[tuple[int, Offer, int], ...]


def _cost(bought: Bought) -> int:
    return sum(price * count for price, _, count in bought)


def _with_offer(best: dict[int, Bought], price: int, offer: Offer, wanted: int) -> dict[int, Bought]:
    """Cheapest ways to have k (capped at `wanted`) pieces, once this offer may be used too."""
    result = dict(best)
    most = wanted if offer.stock is None else min(wanted, offer.stock)
    for have, bought in best.items():
        for count in range(1, most + 1):
            paid = max(count, offer.least_order)
            if offer.stock is not None and paid > offer.stock:
                break
            total = min(wanted, have + count)
            candidate = (*bought, (price, offer, paid))
            if total not in result or _cost(candidate) < _cost(result[total]):
                result[total] = candidate
    return result


def _unbounded(offer: Offer) -> bool:
    return offer.stock is None and offer.least_order <= 1


def _useful_offers(ranked: Iterable[tuple[int, Offer]]) -> tuple[tuple[int, Offer], ...]:
    """Offers behind the cheapest one without any bound can never be needed."""
    useful = []
    for price, offer in ranked:
        if offer.stock is not None and offer.stock < offer.least_order:
            continue
        useful.append((price, offer))
        if _unbounded(offer):
            break
    return tuple(useful)
