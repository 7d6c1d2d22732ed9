"""Offers put into a catalogue, and those that have grown old."""

from dataclasses import replace
from datetime import date

from planner.catalogue.records import Catalogue, Offer
from planner.price_lists.importing import PriceImport

OLD_AFTER_DAYS = 90
"""Prices older than this are pointed out; common practice, no published source."""


def with_prices(catalogue: Catalogue, found: PriceImport, *, withdraw_missing: bool = False) -> Catalogue:
    """The catalogue with the supplier's offers as in the list; those it no longer has are kept unless withdrawn.

    Offers of other suppliers are untouched.
    """
    offers = {sku: list(of_sku) for sku, of_sku in catalogue.offers.items()}
    gone = {offer.sku for offer in found.missing} if withdraw_missing else set()
    replaced = {line.offer.sku for line in found.lines} | gone
    for sku in replaced:
        offers[sku] = [offer for offer in offers.get(sku, ()) if offer.supplier != found.supplier]
    for line in found.lines:
        offers[line.offer.sku].append(line.offer)
    return replace(
        catalogue,
        offers={sku: tuple(sorted(of_sku, key=_order)) for sku, of_sku in sorted(offers.items()) if of_sku},
    )


def old_offers(catalogue: Catalogue, on: date, *, after_days: int = OLD_AFTER_DAYS) -> tuple[Offer, ...]:
    """The offers older than so many days on a date, the oldest first."""
    offers = (offer for of_sku in catalogue.offers.values() for offer in of_sku)
    old = (offer for offer in offers if (on - offer.priced_on).days > after_days)
    return tuple(sorted(old, key=lambda offer: (offer.priced_on, offer.sku, offer.supplier)))


def _order(offer: Offer) -> tuple[object, ...]:
    """The catalogue's own order of a sku's offers."""
    return (offer.supplier, offer.currency, offer.price)
