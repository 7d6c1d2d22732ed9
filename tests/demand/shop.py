"""A small shop put together by hand, one line a thing. All gear and prices are invented.

The house adds nothing: no margin, no labour, no tax. So what stands in a shop is what the
client pays, and a total can be counted by hand. Prices are in whole euros.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from planner.brief.records import (
    Brief,
    Limits,
    LoudspeakerSet,
    Measure,
    Placement,
    Point,
    Project,
    Rack,
    Room,
    Seat,
    SubwooferSet,
)
from planner.catalogue.records import (
    Adapter,
    Amplifier,
    BulkCable,
    CableKind,
    Card,
    Catalogue,
    ConnectorPart,
    Controls,
    DspUnit,
    Isolator,
    Item,
    Lead,
    Loudspeaker,
    Mains,
    Offer,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.contacts import BARE_TAIL, Connector, Contact, Direction, Gender
from planner.costing import PriceList
from planner.demand.shelf import Shelf
from planner.house import House

DAY = date(2026, 1, 15)
HOUSE = House(name="Invented House", currency="EUR", markup_percent=Decimal(0))

RCA, XLR, TRS, BLOCK = Connector.RCA, Connector.XLR, Connector.TRS, Connector.TERMINAL
POST, POLE = Connector.BINDING_POST, Connector.SPEAKER_4POLE
RCA_PLUG, RCA_SOCKET = Contact(RCA, Gender.MALE), Contact(RCA, Gender.FEMALE)
XLR_PINS, XLR_SOCKET = Contact(XLR, Gender.MALE), Contact(XLR, Gender.FEMALE)
POLE_PLUG = Contact(POLE, Gender.MALE)
TAIL = BARE_TAIL
BALANCED = frozenset({XLR, TRS, BLOCK})

FULL = Controls(gain=True, polarity=True, max_delay_ms=100.0, filters=10, crossover_ways=1)
CROSSING = replace(FULL, crossover_ways=2)
BARE_CONTROLS = replace(FULL, polarity=False, filters=0)

KINDS: Mapping[type[Item], str] = {
    Processor: "processors", Card: "cards", DspUnit: "dsp_units", Amplifier: "amplifiers",
    Loudspeaker: "loudspeakers", Subwoofer: "subwoofers", Lead: "leads", Adapter: "adapters",
    Splitter: "splitters", BulkCable: "bulk_cables", ConnectorPart: "connectors", Isolator: "isolators",
}  # fmt: skip


def outs(
    name: str, connector: Connector, count: int = 1, role: PortRole = PortRole.PLAIN, channels: tuple[str, ...] = ()
) -> PortGroup:
    """A group of outputs; whose they are is settled when the device is sold."""
    return _group(name, Direction.OUT, connector, count, role, channels)


def ins(name: str, connector: Connector, count: int = 1) -> PortGroup:
    """A group of inputs."""
    return _group(name, Direction.IN, connector, count, PortRole.PLAIN, ())


def _group(
    name: str, direction: Direction, connector: Connector, count: int, role: PortRole, channels: tuple[str, ...]
) -> PortGroup:
    return PortGroup(
        device="", name=name, direction=direction, role=role, connector=connector,
        balanced=connector in BALANCED, count=count, channels=channels,
    )  # fmt: skip


def offer(sku: str, price: float | str, supplier: str = "Depot", **bounds: int | None) -> Offer:
    """An offer in euros; `bounds` are stock and least order."""
    terms: dict[str, Any] = {name: value for name, value in bounds.items() if value is not None}
    return Offer(sku=sku, supplier=supplier, currency="EUR", price=Decimal(str(price)), priced_on=DAY, **terms)


class Shop:
    """A catalogue as it grows. `price` of None: not sold, for gear that the client has."""

    def __init__(self) -> None:
        self._items: list[Item] = []
        self._ports: dict[str, tuple[PortGroup, ...]] = {}
        self._offers: dict[str, tuple[Offer, ...]] = {}

    def sell(self, item: Item, price: float | str | None, *ports: PortGroup, **bounds: int | None) -> None:
        """Adds one thing with its ports, and an offer where it has a price."""
        self._items.append(item)
        if ports:
            self._ports[item.sku] = tuple(replace(port, device=item.sku) for port in ports)
        if price is not None:
            self.offer(offer(item.sku, price, "Depot", **bounds))

    def offer(self, entry: Offer) -> None:
        """Adds an offer of a thing."""
        self._offers[entry.sku] = (*self._offers.get(entry.sku, ()), entry)

    def processor(self, sku: str, price: float | None, *ports: PortGroup, **terms: Any) -> None:
        """A processor that renders and processes 16 unless told otherwise."""
        units = terms.pop("rack_units", 0)
        facts: dict[str, Any] = {"rendered_channels": 16, "processed_outputs": 16, "controls": FULL} | terms
        self.sell(Processor(sku=sku, name=sku, mains=Mains(rack_units=units), **facts), price, *ports)

    def card(self, sku: str, price: float, *ports: PortGroup, **terms: Any) -> None:
        """A card that adds outputs to a processor."""
        self.sell(Card(sku=sku, name=sku, **terms), price, *ports)

    def dsp(self, sku: str, price: float | None, inputs: PortGroup, outputs: PortGroup, **terms: Any) -> None:
        """A DSP unit with one group of inputs and one of outputs, all of which can be used."""
        units, bounds = terms.pop("rack_units", 0), terms.pop("bounds", {})
        facts: dict[str, Any] = {"inputs": inputs.count, "outputs": outputs.count, "controls": FULL} | terms
        self.sell(DspUnit(sku=sku, name=sku, mains=Mains(rack_units=units), **facts), price, inputs, outputs, **bounds)

    def amplifier(self, sku: str, price: float | None, channels: int, entry: Connector, **terms: Any) -> None:
        """A power amplifier with binding posts."""
        units = terms.pop("rack_units", 0)
        found = Amplifier(sku=sku, name=sku, channels=channels, power_8ohm_w=100.0, mains=Mains(rack_units=units))
        self.sell(found, price, ins("IN", entry, channels), outs("OUT", POST, channels), **terms)

    def speaker(self, sku: str, price: float | None, *ports: PortGroup, ways: int = 1, **bounds: int | None) -> None:
        """A loudspeaker: passive where its ports are binding posts, crossed where it has ways."""
        powering = Powering.CROSSED if ways > 1 else _powering(ports)
        self.sell(Loudspeaker(sku=sku, name=sku, powering=powering, ways=ways), price, *ports, **bounds)

    def sub(self, sku: str, price: float | None, *ports: PortGroup, **bounds: int | None) -> None:
        """A subwoofer."""
        self.sell(Subwoofer(sku=sku, name=sku, powering=_powering(ports), low_corner_hz=20.0), price, *ports, **bounds)

    def lead(
        self, sku: str, price: float | str | None, end_a: Contact, end_b: Contact, length_m: float,
        balanced: bool = True, **bounds: int | None,
    ) -> None:  # fmt: skip
        """A made lead."""
        found = Lead(sku=sku, name=sku, end_a=end_a, end_b=end_b, balanced=balanced, length_m=length_m)
        self.sell(found, price, **bounds)

    def adapter(self, sku: str, price: float, end_a: Contact, end_b: Contact, **bounds: int | None) -> None:
        """An adapter."""
        self.sell(Adapter(sku=sku, name=sku, end_a=end_a, end_b=end_b), price, **bounds)

    def splitter(
        self,
        sku: str,
        price: float,
        entry: Contact,
        leg: Contact,
        legs: int = 2,
        balanced: bool = False,
        **bounds: int | None,
    ) -> None:
        """A passive splitter."""
        found = Splitter(sku=sku, name=sku, input=entry, leg=leg, legs=legs, balanced=balanced)
        self.sell(found, price, **bounds)

    def isolator(
        self, sku: str, price: float | None, entry: Contact, leaving: Contact, balanced: bool = False,
        loss_db: float = 0.0, max_level_dbu: float | None = 60.0, **bounds: int | None,
    ) -> None:  # fmt: skip
        """A line isolating transformer."""
        found = Isolator(
            sku=sku, name=sku, input=entry, output=leaving, balanced=balanced, loss_db=loss_db,
            max_level_dbu=max_level_dbu,
        )  # fmt: skip
        self.sell(found, price, **bounds)

    def cable(self, sku: str, price: float | str, kind: CableKind, step_m: float = 1.0, **bounds: int | None) -> None:
        """Bulk cable by the step."""
        self.sell(BulkCable(sku=sku, name=sku, kind=kind, step_m=step_m), price, **bounds)

    def part(self, sku: str, price: float | str, contact: Contact, **bounds: int | None) -> None:
        """A connector to be fitted."""
        self.sell(ConnectorPart(sku=sku, name=sku, contact=contact), price, **bounds)

    def catalogue(self) -> Catalogue:
        """What the shop has so far, sorted as a catalogue is."""
        kinds = {
            field: tuple(sorted((i for i in self._items if isinstance(i, kind)), key=lambda i: i.sku))
            for kind, field in KINDS.items()
        }
        records: dict[str, Any] = dict(kinds)
        return Catalogue(**records, ports=dict(self._ports), offers=dict(self._offers))


def _powering(ports: tuple[PortGroup, ...]) -> Powering:
    passive = any(port.connector in (POST, POLE) for port in ports)
    return Powering.PASSIVE if passive else Powering.ACTIVE


ROOM = Room(length_m=20.0, width_m=5.0, height_m=3.0)
ORIGIN = Point(0.0, 0.0, 0.0)


def at(*distances_m: float) -> tuple[Point, ...]:
    """Places so far from the rack along one wall: a lead from the rack is just that long."""
    return tuple(Point(distance, 0.0, 0.0) for distance in distances_m)


def speakers(name: str, sku: str, channels: str, *distances_m: float) -> LoudspeakerSet:
    """Loudspeakers of one model on these channels, so far from the rack."""
    places = zip(channels.split(), at(*distances_m), strict=True)
    return LoudspeakerSet(
        name=name, candidates=(sku,), placements=tuple(Placement(channel=c, position=p) for c, p in places)
    )


def subs(sku: str, *distances_m: float, name: str = "Subs", least: int | None = None, **terms: Any) -> SubwooferSet:
    """Subwoofers of one model, so far from the rack; all of them unless `least` says fewer."""
    most = len(distances_m)
    return SubwooferSet(
        name=name, least=most if least is None else least, most=most, positions=at(*distances_m),
        candidates=(sku,), **terms,
    )  # fmt: skip


def brief(
    *sets: LoudspeakerSet | SubwooferSet, measures: tuple[Measure, ...] | None = None, currency: str = "EUR",
    rack_units: int | None = None, **terms: Any,
) -> Brief:  # fmt: skip
    """A brief for these sets. Leads are as long as the way; within the rack a metre does."""
    given: dict[str, Any] = terms if measures is None else terms | {"measures": measures}
    return Brief(
        project=Project(name="P", client="C", reference="R", dated=DAY, currency=currency),
        room=ROOM,
        seats=(Seat(name="seat", position=Point(3.0, 2.5, 1.2), primary=True),),
        rack=Rack(position=ORIGIN, units=rack_units, route_allowance_percent=0.0, slack_m=0.0, internal_m=1.0),
        layout="none",
        loudspeakers=tuple(s for s in sets if isinstance(s, LoudspeakerSet)),
        subwoofers=tuple(s for s in sets if isinstance(s, SubwooferSet)),
        **given,
    )


def limits(**terms: Any) -> Limits:
    """Limits; what is not named is not limited."""
    return Limits(**terms)


def shelf(found: Brief, catalogue: Catalogue) -> Shelf:
    """The shelf of a brief at the house's prices."""
    return Shelf(found, catalogue, PriceList(found, catalogue, HOUSE))
