"""What both oracles are asked: one instance, and bounds on the measures of an answer."""

from dataclasses import dataclass

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.house import House


@dataclass(frozen=True, kw_only=True, slots=True)
class Instance:
    """A brief, what can be bought, and the firm's terms. `name` tells how to make it again."""

    name: str
    brief: Brief
    catalogue: Catalogue
    house: House


@dataclass(frozen=True, kw_only=True, slots=True, order=True)
class Bounds:
    """Bounds on the measures M2 to M6 of a design; None: no bound of that kind."""

    least_independent: int = 0
    least_spare: int = 0
    most_lost: int | None = None
    most_conversions: int | None = None
    most_joints: int | None = None


UNBOUNDED = Bounds()


def available(instance: Instance, sku: str) -> int | None:
    """How many of a sku can be had, owned ones included; None where nothing bounds it."""
    if sku in instance.brief.excluded:
        return 0
    offers = instance.catalogue.offers.get(sku, ())
    if any(offer.stock is None for offer in offers):
        return None
    bought = sum(offer.stock or 0 for offer in offers if (offer.stock or 0) >= offer.least_order)
    return owned(instance, sku) + bought


def owned(instance: Instance, sku: str) -> int:
    """How many of a sku the client has."""
    return sum(entry.count for entry in instance.brief.owned if entry.sku == sku)


def must_use(instance: Instance, sku: str) -> int:
    """The fewest of a sku that a design has to use."""
    return sum(entry.count for entry in instance.brief.owned if entry.sku == sku and entry.must_use)
