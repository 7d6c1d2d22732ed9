"""What so many of a thing cost where nothing else is bought with it."""

from tests.oracle.instance import Instance, owned
from tests.oracle.terms import offer_price


def one_price(instance: Instance, sku: str) -> int | None:
    """The unit price at which any number can be had, where none is owned and none is cheaper in small numbers."""
    offers = instance.catalogue.offers.get(sku, ())
    if owned(instance, sku) or sku in instance.brief.excluded:
        return None
    free = [offer_price(instance, offer) for offer in offers if offer.stock is None and offer.least_order <= 1]
    if not free or any(offer_price(instance, offer) < min(free) for offer in offers):
        return None
    return min(free)


def floor_price(instance: Instance, sku: str) -> int | None:
    """A price that n of it never cost less than n times; None where none can be had."""
    if sku in instance.brief.excluded:
        return None
    if owned(instance, sku):
        return 0
    return min((offer_price(instance, offer) for offer in instance.catalogue.offers.get(sku, ())), default=None)


def least_cost(instance: Instance, sku: str, number: int) -> int | None:
    """The least cost of so many, of offers without a least order; None where they cannot be had."""
    if sku in instance.brief.excluded:
        return None
    cost, wanted = 0, number - owned(instance, sku)
    for price, stock in sorted(
        (offer_price(instance, offer), -1 if offer.stock is None else offer.stock)
        for offer in instance.catalogue.offers.get(sku, ())
    ):
        taken = max(0, wanted if stock < 0 else min(wanted, stock))
        cost, wanted = cost + price * taken, wanted - taken
    return cost if wanted <= 0 else None
