"""A bare instance to count on by hand: one price for everything, no tax, no labour, no margin.

One processor with assignable outputs, active loudspeakers and subwoofers, one kind of lead,
all RCA. Tests change one thing with `dataclasses.replace` and say what that does to the price.
"""

from datetime import date
from decimal import Decimal

from planner.brief.records import (
    Brief,
    Drive,
    Limits,
    LoudspeakerSet,
    Placement,
    Point,
    Project,
    Rack,
    Room,
    Seat,
    SubwooferSet,
)
from planner.catalogue.records import (
    Catalogue,
    Controls,
    Lead,
    Loudspeaker,
    Offer,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.contacts import Connector, Contact, Direction, Gender
from planner.house import House
from tests.oracle.instance import Instance

DAY = date(2026, 1, 15)
CHANNELS = (
    "M+030", "M-030", "M+000", "M+110", "M-110", "M+135", "M-135",
    "U+030", "U-030", "U+110", "U-110", "U+135", "U-135",
)  # fmt: skip
RCA_PLUG = Contact(Connector.RCA, Gender.MALE)
RCA_SOCKET = Contact(Connector.RCA, Gender.FEMALE)
PRICES = {"proc": "1000", "spk": "200", "sub": "300", "lead": "10", "split": "7"}


def bench(
    *, outputs: int, speakers: int, subs: int, drives: frozenset[Drive] = frozenset(Drive), largest_split: int = 8
) -> Instance:
    """The bare instance with so many processor outputs, loudspeakers and subwoofers."""
    catalogue = Catalogue(
        processors=(
            Processor(sku="proc", name="proc", rendered_channels=16, processed_outputs=outputs, controls=CONTROLS),
        ),
        loudspeakers=(Loudspeaker(sku="spk", name="spk", powering=Powering.ACTIVE),),
        subwoofers=(Subwoofer(sku="sub", name="sub", powering=Powering.ACTIVE, low_corner_hz=20.0),),
        leads=(
            Lead(sku="lead", name="lead", end_a=RCA_PLUG, end_b=RCA_PLUG, balanced=False, length_m=20.0),
        ),
        splitters=(Splitter(sku="split", name="split", input=RCA_PLUG, leg=RCA_SOCKET, legs=2, balanced=False),),
        ports={
            "proc": (rca("proc", Direction.OUT, PortRole.ASSIGNABLE, outputs),),
            "spk": (rca("spk", Direction.IN, PortRole.PLAIN, 1),),
            "sub": (rca("sub", Direction.IN, PortRole.PLAIN, 1),),
        },
        offers={sku: (offer(sku, price),) for sku, price in PRICES.items()},
    )  # fmt: skip
    return Instance(name="bench", brief=_brief(speakers, subs, drives, largest_split), catalogue=catalogue, house=HOUSE)


CONTROLS = Controls(gain=True, polarity=True, max_delay_ms=50.0, filters=10, crossover_ways=1)
HOUSE = House(name="House", currency="EUR", markup_percent=Decimal(0))


def rca(device: str, direction: Direction, role: PortRole, count: int) -> PortGroup:
    """A group of RCA jacks."""
    return PortGroup(
        device=device, name=direction.value, direction=direction, role=role,
        connector=Connector.RCA, balanced=False, count=count,
    )  # fmt: skip


def offer(sku: str, price: str, *, supplier: str = "one", stock: int | None = None, least_order: int = 1) -> Offer:
    """An offer in euro."""
    return Offer(
        sku=sku, supplier=supplier, currency="EUR", price=Decimal(price),
        priced_on=DAY, stock=stock, least_order=least_order,
    )  # fmt: skip


def _brief(speakers: int, subs: int, drives: frozenset[Drive], largest_split: int) -> Brief:
    placements = tuple(Placement(channel=c, position=Point(3.0, 1.0, 1.0)) for c in CHANNELS[:speakers])
    return Brief(
        project=Project(name="bench", client="nobody", reference="b", dated=DAY, currency="EUR"),
        room=Room(length_m=6.0, width_m=4.5, height_m=2.6),
        seats=(Seat(name="one", position=Point(4.0, 2.0, 1.1), primary=True),),
        rack=Rack(position=Point(0.0, 0.0, 0.0)),
        layout="none",
        loudspeakers=(LoudspeakerSet(name="Main", placements=placements, candidates=("spk",)),) if speakers else (),
        subwoofers=(
            SubwooferSet(
                name="Sub", least=subs, most=subs, candidates=("sub",),
                positions=tuple(Point(1.0, 0.5 * n, 0.0) for n in range(subs)),
            ),
        ) if subs else (),
        limits=Limits(drives=drives, largest_split=largest_split),
    )  # fmt: skip
