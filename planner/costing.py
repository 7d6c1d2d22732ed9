"""What things cost in a quote: unit prices, labour prices, totals; all in minor units."""

from collections.abc import Iterable
from fractions import Fraction

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue, Offer
from planner.design import Labour, Purchase
from planner.house import House, Task
from planner.money import converted, has_rate, in_minor, minor_digits, rounded
from planner.options import Quote


class PriceList:
    """Selling prices of one brief: the house's terms applied to the catalogue's offers."""

    def __init__(self, brief: Brief, catalogue: Catalogue, house: House) -> None:
        self.currency = brief.project.currency
        self._house = house
        tax = brief.project.tax_percent
        self._tax = Fraction(house.tax_percent if tax is None else tax) / 100
        self._labour = {task: self._labour_price(task) for task in Task}
        self._offers = {sku: self._ranked(offers) for sku, offers in catalogue.offers.items()}

    def offers(self, sku: str) -> tuple[tuple[int, Offer], ...]:
        """(unit price, offer) of a sku, cheapest first, then by supplier; empty if not sold."""
        return self._offers.get(sku, ())

    def labour_minor(self, task: Task) -> int:
        """The price of one such task."""
        return self._labour[task]

    def quote(self, purchases: Iterable[Purchase], labour: Iterable[Labour]) -> Quote:
        """Sums up: tax on the subtotal, rounded once."""
        gear = sum(p.count * p.unit_price_minor for p in purchases)
        work = sum(line.count * line.unit_price_minor for line in labour)
        tax = self.tax_minor(gear + work)
        return Quote(
            currency=self.currency,
            gear_minor=gear,
            labour_minor=work,
            subtotal_minor=gear + work,
            tax_minor=tax,
            total_minor=gear + work + tax,
        )

    def tax_minor(self, subtotal_minor: int) -> int:
        """Tax on a subtotal."""
        return rounded(subtotal_minor * self._tax, self._house.rounding)

    def total_minor(self, subtotal_minor: int) -> int:
        """The price the client pays; it rises strictly with the subtotal."""
        return subtotal_minor + self.tax_minor(subtotal_minor)

    def greatest_subtotal(self, total_minor: int) -> int:
        """The largest subtotal whose total is within `total_minor`."""
        guess = int(total_minor / (1 + self._tax)) + 2
        while self.total_minor(guess) > total_minor:
            guess -= 1
        return guess

    def _ranked(self, offers: tuple[Offer, ...]) -> tuple[tuple[int, Offer], ...]:
        priced = [(self._unit_price(o), o) for o in offers if has_rate(o.currency, self._house)]
        return tuple(sorted(priced, key=lambda entry: (entry[0], entry[1].supplier)))

    def unrounded_minor(self, offer: Offer) -> Fraction:
        """The unit price in minor units before it is rounded. Raises KeyError where there is no rate for it."""
        cost = converted(Fraction(offer.price), offer.currency, self.currency, self._house)
        return self._sold_at(cost) * Fraction(10 ** minor_digits(self.currency))

    def _unit_price(self, offer: Offer) -> int:
        return rounded(self.unrounded_minor(offer), self._house.rounding)

    def _sold_at(self, cost: Fraction) -> Fraction:
        if self._house.margin_percent is not None:
            return cost / (1 - Fraction(self._house.margin_percent) / 100)
        return cost * (1 + Fraction(self._house.markup_percent or 0) / 100)

    def _labour_price(self, task: Task) -> int:
        house = self._house
        hours = Fraction(house.minutes.get(task, 0)) / 60
        price = converted(hours * Fraction(house.labour_rate), house.currency, self.currency, house)
        return in_minor(price, self.currency, house.rounding)
