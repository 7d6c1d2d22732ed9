"""E5: how far exchange rates and suppliers' prices may move, and what a catalogue and a house look like then."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from itertools import product

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue, Offer
from planner.costing import PriceList
from planner.design import Design
from planner.errors import WrongUsage
from planner.house import House, Task
from planner.options import Option

USUAL_RATE_PERCENT, USUAL_RISE_PERCENT = Decimal(5), Decimal(5)
MOST_BANDS = 4
"""Every corner of all bands together is proven, so each band doubles the work."""
_USUAL_BANDS = 2


class BandKind(StrEnum):
    """RATE: units of a foreign currency for one of the house. SUPPLIER: all prices of one supplier."""

    RATE = "rate"
    SUPPLIER = "supplier"


@dataclass(frozen=True, kw_only=True, slots=True)
class Band:
    """A rate or a supplier's prices may move from `low_percent` to `high_percent` of what they are."""

    kind: BandKind
    name: str
    low_percent: Decimal
    high_percent: Decimal

    @property
    def ends(self) -> tuple[Decimal, ...]:
        """The two ends, those at which nothing moves left out."""
        return tuple(end for end in dict.fromkeys((self.low_percent, self.high_percent)) if end)


@dataclass(frozen=True, slots=True)
class Moved:
    """One rate or supplier moved by so many percent."""

    band: Band
    percent: Decimal


WantedBand = tuple[str, Decimal, Decimal]
"""The name of a currency or supplier, and two percentages."""

Scenario = tuple[Moved, ...]
TODAY: Scenario = ()


def corners(bands: Sequence[Band]) -> tuple[Scenario, ...]:
    """Every combination of ends of the bands."""
    ends = [[Moved(band, band.low_percent), Moved(band, band.high_percent)] for band in bands]
    return tuple(product(*ends))


def moved(scenario: Scenario, catalogue: Catalogue, house: House) -> tuple[Catalogue, House]:
    """Catalogue and house as they would be; offers keep their places."""
    factor = {(m.band.kind, m.band.name): 1 + m.percent / 100 for m in scenario}
    rates = {
        currency: replace(rate, per_house_unit=rate.per_house_unit * factor.get((BandKind.RATE, currency), Decimal(1)))
        for currency, rate in house.rates.items()
    }

    def at(offer: Offer) -> Offer:
        return replace(offer, price=offer.price * factor.get((BandKind.SUPPLIER, offer.supplier), Decimal(1)))

    offers = {sku: tuple(at(offer) for offer in of_sku) for sku, of_sku in catalogue.offers.items()}
    return replace(catalogue, offers=offers), replace(house, rates=rates)


def usual_bands(options: Sequence[Option], catalogue: Catalogue, brief: Brief, house: House) -> tuple[Band, ...]:
    """The rate and the supplier that most of the options' money hangs on; two suppliers where there is no rate.

    5 % either way for a rate, and a rise of up to 5 % for a supplier, are examples, no forecast.
    """
    money: Counter[tuple[BandKind, str]] = Counter()
    prices = PriceList(brief, catalogue, house)
    for option in options:
        for sku, place, count in basket(option.design, catalogue, prices).lines:
            offer = catalogue.offers[sku][place]
            cost = round(count * prices.unrounded_minor(offer))
            money[BandKind.SUPPLIER, offer.supplier] += cost
            if offer.currency != house.currency:
                money[BandKind.RATE, offer.currency] += cost
    if brief.project.currency != house.currency:
        money[BandKind.RATE, brief.project.currency] += sum(option.quote.total_minor for option in options)
    ranked = sorted(money, key=lambda key: (-money[key], key[1]))
    rates = [name for kind, name in ranked if kind is BandKind.RATE][:1]
    suppliers = [name for kind, name in ranked if kind is BandKind.SUPPLIER][: _USUAL_BANDS - len(rates)]
    return (
        *(_usual(BandKind.RATE, name) for name in rates),
        *(_usual(BandKind.SUPPLIER, name) for name in suppliers),
    )


def _usual(kind: BandKind, name: str) -> Band:
    if kind is BandKind.RATE:
        return Band(kind=kind, name=name, low_percent=-USUAL_RATE_PERCENT, high_percent=USUAL_RATE_PERCENT)
    return Band(kind=kind, name=name, low_percent=Decimal(0), high_percent=USUAL_RISE_PERCENT)


def named_bands(wanted: Sequence[WantedBand], catalogue: Catalogue, house: House) -> tuple[Band, ...]:
    """Bands by the name of a currency or a supplier. Raises WrongUsage for what is neither, or for too many."""
    if len(wanted) > MOST_BANDS:
        raise WrongUsage(f"at most {MOST_BANDS} bands, not {len(wanted)}: every combination of them is proven.")
    suppliers = {offer.supplier for of_sku in catalogue.offers.values() for offer in of_sku}
    found = []
    for name, low, high in wanted:
        if name not in house.rates and name not in suppliers:
            known = ", ".join(sorted({*house.rates, *suppliers}))
            raise WrongUsage(
                f"no band for {name!r}: it is neither a currency with a rate nor a supplier. There are {known}."
            )
        kind = BandKind.RATE if name in house.rates else BandKind.SUPPLIER
        found.append(Band(kind=kind, name=name, low_percent=low, high_percent=high))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Basket:
    """What a design buys, as (sku, place of the offer among those of its sku, count), and its labour."""

    lines: tuple[tuple[str, int, int], ...]
    labour: tuple[tuple[Task, int], ...]

    @property
    def pieces(self) -> int:
        """How many unit prices the price adds up."""
        return sum(count for _, _, count in self.lines)


def basket(design: Design, catalogue: Catalogue, prices: PriceList) -> Basket:
    """The basket of a design that was made with this catalogue at these prices; owned gear is not bought."""
    lines = []
    for line in design.purchases:
        for unit, offer in prices.offers(line.sku):
            if (offer.supplier, unit) == (line.supplier, line.unit_price_minor):
                place = next(n for n, one in enumerate(catalogue.offers[line.sku]) if one is offer)
                lines.append((line.sku, place, line.count))
                break
    return Basket(tuple(lines), tuple((line.task, line.count) for line in design.labour))


class Repriced:
    """The market in one scenario: what designs cost there, bought from the suppliers that they are quoted from."""

    def __init__(self, scenario: Scenario, brief: Brief, catalogue: Catalogue, house: House) -> None:
        self.catalogue, self.house = moved(scenario, catalogue, house)
        self._prices = PriceList(brief, self.catalogue, self.house)

    def basket(self, design: Design) -> Basket:
        """The basket of a design that was found in this scenario."""
        return basket(design, self.catalogue, self._prices)

    def total_minor(self, bought: Basket) -> int:
        """The price with tax, each unit price rounded as in a quote."""
        return self._prices.total_minor(self.subtotal_minor(bought))

    def subtotal_minor(self, bought: Basket) -> int:
        """The price before tax."""
        unit = {id(offer): price for sku, _, _ in bought.lines for price, offer in self._prices.offers(sku)}
        return self._labour(bought) + sum(n * unit[id(self._offer(sku, place))] for sku, place, n in bought.lines)

    def unrounded_minor(self, bought: Basket) -> Fraction:
        """The price before tax and before any unit price is rounded: linear in every inverse rate and every rise."""
        exact = (n * self._prices.unrounded_minor(self._offer(sku, place)) for sku, place, n in bought.lines)
        return self._labour(bought) + sum(exact, Fraction(0))

    def _labour(self, bought: Basket) -> int:
        return sum(count * self._prices.labour_minor(task) for task, count in bought.labour)

    def _offer(self, sku: str, place: int) -> Offer:
        return self.catalogue.offers[sku][place]
