"""E2: a price difference split into its causes, so that the parts add up to the minor unit.

Every purchase and every task belongs to one cause. Tax is rounded once on the whole, so the tax of
a cause is what it adds when the causes change one after another, in their order.
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from planner.catalogue.records import (
    Adapter,
    Amplifier,
    BulkCable,
    Card,
    Catalogue,
    ConnectorPart,
    DspUnit,
    Isolator,
    Item,
    Lead,
    Loudspeaker,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.costing import PriceList
from planner.design import Design
from planner.house import Task


class Cause(StrEnum):
    """What a part of a price is for, labour included."""

    PROCESSOR = "processor"
    DSP = "dsp_units"
    AMPLIFIERS = "amplifiers"
    LOUDSPEAKERS = "loudspeakers"
    SUBWOOFERS = "subwoofers"
    SPLITTERS = "splitters"
    LEADS = "leads"


_CAUSE_OF_KIND: Mapping[type[Item], Cause] = {
    Processor: Cause.PROCESSOR,
    Card: Cause.PROCESSOR,
    DspUnit: Cause.DSP,
    Amplifier: Cause.AMPLIFIERS,
    Loudspeaker: Cause.LOUDSPEAKERS,
    Subwoofer: Cause.SUBWOOFERS,
    Splitter: Cause.SPLITTERS,
    Isolator: Cause.LEADS,
    Lead: Cause.LEADS,
    Adapter: Cause.LEADS,
    BulkCable: Cause.LEADS,
    ConnectorPart: Cause.LEADS,
}

_CAUSE_OF_TASK: Mapping[Task, Cause] = {
    Task.PROCESSOR: Cause.PROCESSOR,
    Task.CARD: Cause.PROCESSOR,
    Task.DSP: Cause.DSP,
    Task.AMPLIFIER: Cause.AMPLIFIERS,
    Task.LOUDSPEAKER: Cause.LOUDSPEAKERS,
    Task.SUBWOOFER: Cause.SUBWOOFERS,
    Task.LEAD: Cause.LEADS,
    Task.TERMINATION: Cause.LEADS,
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """What one cause adds to a price, negative where it takes away."""

    cause: Cause
    gear_minor: int
    labour_minor: int
    tax_minor: int

    @property
    def total_minor(self) -> int:
        """Gear, labour and tax together."""
        return self.gear_minor + self.labour_minor + self.tax_minor


def price_split(before: Design, after: Design, catalogue: Catalogue, prices: PriceList) -> tuple[Part, ...]:
    """The causes that change the price from one design to the other, each once, in their order."""
    cause_by_sku = {item.sku: _CAUSE_OF_KIND[type(item)] for item in catalogue.items()}
    gear = _gear(after, cause_by_sku)
    gear.subtract(_gear(before, cause_by_sku))
    labour = _labour(after)
    labour.subtract(_labour(before))
    subtotal = sum(_gear(before, cause_by_sku).values()) + sum(_labour(before).values())
    parts = []
    for cause in Cause:
        added = gear[cause] + labour[cause]
        tax = prices.tax_minor(subtotal + added) - prices.tax_minor(subtotal)
        subtotal += added
        if gear[cause] or labour[cause]:
            parts.append(Part(cause=cause, gear_minor=gear[cause], labour_minor=labour[cause], tax_minor=tax))
    return tuple(parts)


def price_parts(design: Design, catalogue: Catalogue, prices: PriceList) -> tuple[Part, ...]:
    """The causes of the whole price of a design: they add up to its total."""
    nothing = Design(units=(), connections=(), routes=(), purchases=(), labour=(), currency=design.currency)
    return price_split(nothing, design, catalogue, prices)


def cause_of(item: Item) -> Cause:
    """The cause that an item's price belongs to."""
    return _CAUSE_OF_KIND[type(item)]


def _gear(design: Design, cause_by_sku: Mapping[str, Cause]) -> Counter[Cause]:
    sums: Counter[Cause] = Counter()
    for line in design.purchases:
        sums[cause_by_sku[line.sku]] += line.count * line.unit_price_minor
    return sums


def _labour(design: Design) -> Counter[Cause]:
    sums: Counter[Cause] = Counter()
    for line in design.labour:
        sums[_CAUSE_OF_TASK[line.task]] += line.count * line.unit_price_minor
    return sums
