"""Brief, catalogue and house, indexed once so that many designs can be checked quickly."""

from collections import Counter
from collections.abc import Mapping

from planner.brief.records import Brief, LoudspeakerSet, Point, SubwooferSet
from planner.catalogue.records import (
    Amplifier,
    Card,
    Catalogue,
    DspUnit,
    Isolator,
    Item,
    Loudspeaker,
    Offer,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.checks.lengths import wanted_cm
from planner.checks.places import MemberKey, Place, places_of
from planner.checks.prices import task_price_minor, unit_price_minor
from planner.checks.sockets import Socket, sockets_of
from planner.design import UnitKind
from planner.house import House, Task

OWNED = "owned"

KIND_OF_RECORD: Mapping[type[Item], UnitKind] = {
    Processor: UnitKind.PROCESSOR,
    Card: UnitKind.CARD,
    DspUnit: UnitKind.DSP,
    Amplifier: UnitKind.AMPLIFIER,
    Splitter: UnitKind.SPLITTER,
    Isolator: UnitKind.ISOLATOR,
    Loudspeaker: UnitKind.LOUDSPEAKER,
    Subwoofer: UnitKind.SUBWOOFER,
}


class Known:
    """All that is given, and nothing of a design. Filled once, then only read."""

    def __init__(self, brief: Brief, catalogue: Catalogue, house: House) -> None:
        self.brief = brief
        self.house = house
        self.currency = brief.project.currency
        self.items: Mapping[str, Item] = {item.sku: item for item in catalogue.items()}
        self.offers = catalogue.offers
        self.places: Mapping[MemberKey, Place] = {place.key: place for place in places_of(brief)}
        self.channels = frozenset(place.channel for place in self.places.values())
        self.sets: Mapping[tuple[UnitKind, str], LoudspeakerSet | SubwooferSet] = {
            **{(UnitKind.LOUDSPEAKER, each.name): each for each in brief.loudspeakers},
            **{(UnitKind.SUBWOOFER, each.name): each for each in brief.subwoofers},
        }
        self.owned = Counter[str]()
        self.must_use = Counter[str]()
        for owned in brief.owned:
            self.owned[owned.sku] += owned.count
            self.must_use[owned.sku] += owned.count if owned.must_use else 0
        self.obtainable_leads = tuple(lead for lead in catalogue.leads if self._obtainable(lead.sku))
        self._ports = catalogue.ports
        self._sockets: dict[str, Mapping[str, Socket]] = {}
        self._unit_prices: dict[tuple[str, str], tuple[tuple[Offer, int | None], ...]] = {}
        self._task_prices: dict[Task, int | None] = {}
        self._lengths_cm: dict[tuple[Point | None, Point | None], int] = {}

    def _obtainable(self, sku: str) -> bool:
        """Whether a design may use it: not excluded, and owned or on offer."""
        on_offer = any(
            offer.stock is None or offer.stock >= max(1, offer.least_order) for offer in self.offers.get(sku, ())
        )
        return sku not in self.brief.excluded and (self.owned[sku] > 0 or on_offer)

    def sockets(self, sku: str) -> Mapping[str, Socket]:
        """The sockets of an item by name, in catalogue order; none for an unknown sku."""
        found = self._sockets.get(sku)
        if found is None:
            item = self.items.get(sku)
            sockets = sockets_of(item, self._ports.get(sku, ())) if item is not None else ()
            found = self._sockets[sku] = {socket.name: socket for socket in sockets}
        return found

    def priced_offers(self, sku: str, supplier: str) -> tuple[tuple[Offer, int | None], ...]:
        """The offers of one supplier for an item, each with its unit price in minor units."""
        key = (sku, supplier)
        if key not in self._unit_prices:
            self._unit_prices[key] = tuple(
                (offer, unit_price_minor(offer, self.house, self.currency))
                for offer in self.offers.get(sku, ())
                if offer.supplier == supplier
            )
        return self._unit_prices[key]

    def task_price(self, task: Task) -> int | None:
        """The unit price of a labour task, minor units; None without an exchange rate."""
        if task not in self._task_prices:
            self._task_prices[task] = task_price_minor(task, self.house, self.currency)
        return self._task_prices[task]

    def wanted_cm(self, source: Point | None, sink: Point | None) -> int:
        """The least length of a lead between two places, centimetres; None is the rack."""
        key = (source, sink)
        if key not in self._lengths_cm:
            self._lengths_cm[key] = wanted_cm(self.brief.rack, source, sink)
        return self._lengths_cm[key]
