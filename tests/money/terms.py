"""An invented house, brief and shop for prices, made by hand: one line each."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from planner.brief.records import Brief, Point, Project, Rack, Room, Seat
from planner.catalogue.records import Catalogue, Offer
from planner.costing import PriceList
from planner.house import House, Rate

DAY = date(2026, 1, 15)
ORIGIN = Point(0.0, 0.0, 0.0)


def a_house(currency: str = "NZD", rates: dict[str, str] | None = None, **terms: Any) -> House:
    """A house; without other terms its mark-up is nought. `rates` are units for one of its own currency."""
    if "margin_percent" not in terms:
        terms.setdefault("markup_percent", Decimal(0))
    found = {code: Rate(per_house_unit=Decimal(rate), dated=DAY) for code, rate in (rates or {}).items()}
    return House(name="Invented House", currency=currency, rates=found, **terms)


def a_brief(currency: str = "NZD", tax: str | None = None) -> Brief:
    """A brief of which only the currency and the tax matter."""
    return Brief(
        project=Project(
            name="P", client="C", reference="R", dated=DAY, currency=currency,
            tax_percent=None if tax is None else Decimal(tax),
        ),
        room=Room(length_m=5.0, width_m=4.0, height_m=2.5),
        seats=(Seat(name="seat", position=ORIGIN, primary=True),),
        rack=Rack(position=ORIGIN),
        layout="0+2+0",
        loudspeakers=(),
    )  # fmt: skip


def offer(price: str, currency: str = "NZD", supplier: str = "Depot", sku: str = "X", **bounds: int) -> Offer:
    """One offer; `bounds` are stock and least order."""
    return Offer(sku=sku, supplier=supplier, currency=currency, price=Decimal(price), priced_on=DAY, **bounds)


def price_list(offers: Iterable[Offer], house: House, brief: Brief) -> PriceList:
    """The price list of these offers, all of one sku or several."""
    by_sku: dict[str, tuple[Offer, ...]] = {}
    for entry in offers:
        by_sku[entry.sku] = (*by_sku.get(entry.sku, ()), entry)
    return PriceList(brief, Catalogue(offers=by_sku), house)
