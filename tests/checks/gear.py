"""A small invented catalogue and house for the verifier's tests. No real product is meant.

Costs are chosen so that the house's 40 % margin on the selling price, price = cost / 0.6,
gives round prices: a cost of 600.00 sells at 1000.00.
"""

from datetime import date
from decimal import Decimal

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
from planner.contacts import Connector, Contact, Direction, Gender
from planner.house import House, Rate, Task

DAY = date(2026, 11, 25)
RCA, XLR, TERMINAL, POST = Connector.RCA, Connector.XLR, Connector.TERMINAL, Connector.BINDING_POST
FOUR_POLE = Connector.SPEAKER_4POLE
IN, OUT = Direction.IN, Direction.OUT

RCA_PLUG, RCA_SOCKET = Contact(RCA, Gender.MALE), Contact(RCA, Gender.FEMALE)
XLR_MALE, XLR_FEMALE = Contact(XLR, Gender.MALE), Contact(XLR, Gender.FEMALE)

# Labour at 120.00 an hour is 2.00 a minute.
HOUSE = House(
    name="Invented House",
    currency="NZD",
    rates={"USD": Rate(per_house_unit=Decimal("0.6125"), dated=DAY)},
    margin_percent=Decimal(40),
    labour_rate=Decimal(120),
    minutes={
        Task.PROCESSOR: Decimal(60),  # 120.00
        Task.CARD: Decimal(15),  # 30.00
        Task.DSP: Decimal(45),  # 90.00
        Task.AMPLIFIER: Decimal(20),  # 40.00
        Task.LOUDSPEAKER: Decimal(30),  # 60.00
        Task.SUBWOOFER: Decimal(20),  # 40.00
        Task.LEAD: Decimal(10),  # 20.00
        Task.TERMINATION: Decimal(6),  # 12.00
    },
    tax_percent=Decimal(15),
)

FULL = Controls(gain=True, polarity=True, max_delay_ms=100.0, filters=10, crossover_ways=1)
CROSSING = Controls(gain=True, polarity=True, max_delay_ms=100.0, filters=10, crossover_ways=2)
PLAIN_CONTROLS = Controls(gain=True, polarity=False, max_delay_ms=20.0, filters=0, crossover_ways=1)
MAINS = ("M+030", "M-030", "M+000")


def port(
    device: str,
    name: str,
    direction: Direction,
    connector: Connector,
    count: int = 1,
    role: PortRole = PortRole.PLAIN,
    channels: tuple[str, ...] = (),
) -> PortGroup:
    balanced = connector in (XLR, TERMINAL)
    return PortGroup(
        device=device,
        name=name,
        direction=direction,
        role=role,
        connector=connector,
        balanced=balanced,
        count=count,
        channels=channels,
    )


_PORTS = (
    # A processor with more jacks (3 + 2 + 4) than outputs that it processes (8).
    port("P-LINE", "MAIN", OUT, XLR, 3, PortRole.FIXED_MAIN, MAINS),
    port("P-LINE", "SUB", OUT, RCA, 2, PortRole.FIXED_SUB),
    port("P-LINE", "AUX", OUT, XLR, 4, PortRole.ASSIGNABLE),
    port("P-LINE", "NET", OUT, Connector.AES67, 1, PortRole.ASSIGNABLE),
    port("P-SMALL", "MAIN", OUT, XLR, 3, PortRole.FIXED_MAIN, MAINS),
    port("P-SMALL", "AUX", OUT, XLR, 2, PortRole.ASSIGNABLE, ("M+110", "M-110")),
    port("C-4", "EXP", OUT, XLR, 4, PortRole.ASSIGNABLE),
    port("R-AMP", "SPK", OUT, POST, 3, PortRole.ASSIGNABLE, MAINS),
    port("R-AMP", "PRE", OUT, RCA, 3, PortRole.FIXED_MAIN, MAINS),
    port("R-AMP", "SUB", OUT, RCA, 2, PortRole.MIRRORED_SUB),
    port("D-TB", "IN", IN, TERMINAL, 2),
    port("D-TB", "OUT", OUT, TERMINAL, 6),
    port("D-FIX", "IN", IN, XLR, 2),
    port("D-FIX", "OUT", OUT, XLR, 4),
    port("A-2", "BAL", IN, XLR, 2),
    port("A-2", "UNBAL", IN, RCA, 2),
    port("A-2", "POST", OUT, POST, 2),
    port("A-2", "POLE", OUT, FOUR_POLE, 2),
    port("LS-ACT", "XLR", IN, XLR),
    port("LS-ACT", "RCA", IN, RCA),
    port("LS-ALT", "XLR", IN, XLR),
    port("LS-PAS", "POST", IN, POST),
    port("LS-X2", "LOW", IN, POST),
    port("LS-X2", "HIGH", IN, POST),
    port("SW-ACT", "RCA", IN, RCA),
    port("SW-ACT", "XLR", IN, XLR),
    port("SW-ACT", "LINK", OUT, XLR, 1, PortRole.LINK),
    port("SW-ALT", "RCA", IN, RCA),
    port("SW-PAS", "POLE", IN, FOUR_POLE),
)

_COSTS = (
    {"P-LINE": "3000", "P-SMALL": "1800", "R-AMP": "1200", "D-TB": "600", "D-FIX": "480", "A-2": "480"}
    | {"LS-ACT": "900", "LS-ALT": "840", "LS-PAS": "360", "LS-X2": "540"}
    | {"SW-ACT": "720", "SW-ALT": "660", "SW-PAS": "420"}
    | {"L-XLR-5": "24", "L-XLR-10": "36", "L-XLR-15": "48", "L-RCA-5": "12", "L-RCA-10": "18", "L-RX-5": "21"}
    | {"AD-RX": "6", "SPL-RCA": "9", "SPL-RCA-3": "12", "SPL-XLR": "30"}
    | {"BC-BAL": "3", "BC-UNB": "1.5", "BC-SPK": "1.8", "CN-XF": "6", "CN-XM": "6", "CN-RM": "3", "CN-4P": "9"}
)


def _offers() -> dict[str, tuple[Offer, ...]]:
    offers: dict[str, tuple[Offer, ...]] = {
        sku: (Offer(sku=sku, supplier="Depot", currency="NZD", price=Decimal(cost), priced_on=DAY),)
        for sku, cost in _COSTS.items()
    }
    # Abroad: 245 USD at 0.6125 USD for 1 NZD is 400 NZD, over 0.6 it is 666.67 NZD.
    offers["C-4"] = (Offer(sku="C-4", supplier="Abroad", currency="USD", price=Decimal(245), priced_on=DAY),)
    offers["L-XLR-5"] += (
        Offer(
            sku="L-XLR-5",
            supplier="Bulk Depot",
            currency="NZD",
            price=Decimal(18),
            priced_on=DAY,
            stock=12,
            least_order=6,
        ),
    )
    offers["D-FIX"] += (
        Offer(sku="D-FIX", supplier="Unpriced", currency="JPY", price=Decimal(100), priced_on=DAY),
    )  # fmt: skip
    return offers


def _ports_by_device() -> dict[str, tuple[PortGroup, ...]]:
    return {device: tuple(p for p in _PORTS if p.device == device) for device in {p.device for p in _PORTS}}


CATALOGUE = Catalogue(
    processors=(
        Processor(
            sku="P-LINE",
            name="Processor",
            rendered_channels=4,
            processed_outputs=8,
            controls=FULL,
            card_slots=1,
            mains=Mains(rack_units=2),
        ),
        Processor(
            sku="P-SMALL",
            name="Small processor",
            rendered_channels=4,
            processed_outputs=3,
            controls=CROSSING,
            card_slots=1,
            mains=Mains(rack_units=1),
        ),
        Processor(sku="R-AMP", name="Receiver", rendered_channels=5, processed_outputs=5, controls=PLAIN_CONTROLS),
    ),
    cards=(Card(sku="C-4", name="Card", fits=("P-SMALL",), adds_processed_outputs=4),),
    dsp_units=(
        DspUnit(sku="D-FIX", name="Fixed DSP unit", inputs=2, outputs=4, controls=FULL, outputs_per_input=2),
        DspUnit(sku="D-TB", name="DSP unit", inputs=1, outputs=4, controls=CROSSING, mains=Mains(rack_units=1)),
    ),
    amplifiers=(Amplifier(sku="A-2", name="Amplifier", channels=2, power_8ohm_w=200.0, mains=Mains(rack_units=2)),),
    loudspeakers=(
        Loudspeaker(sku="LS-ACT", name="Active", powering=Powering.ACTIVE, max_spl_db=110.0),
        Loudspeaker(sku="LS-ALT", name="Other active", powering=Powering.ACTIVE, max_spl_db=100.0),
        Loudspeaker(
            sku="LS-PAS",
            name="Passive",
            powering=Powering.PASSIVE,
            sensitivity_db=88.0,
            impedance_ohm=8.0,
            handling_w=200.0,
        ),
        Loudspeaker(sku="LS-X2", name="Crossed", powering=Powering.CROSSED, ways=2),
    ),
    subwoofers=(
        Subwoofer(sku="SW-ACT", name="Active", powering=Powering.ACTIVE, low_corner_hz=20.0),
        Subwoofer(sku="SW-ALT", name="Other active", powering=Powering.ACTIVE, low_corner_hz=25.0),
        Subwoofer(sku="SW-PAS", name="Passive", powering=Powering.PASSIVE, low_corner_hz=25.0),
    ),
    leads=(
        Lead(sku="L-RCA-10", name="RCA", end_a=RCA_PLUG, end_b=RCA_PLUG, balanced=False, length_m=10.0),
        Lead(sku="L-RCA-5", name="RCA", end_a=RCA_PLUG, end_b=RCA_PLUG, balanced=False, length_m=5.0),
        Lead(sku="L-RX-5", name="RCA to XLR", end_a=RCA_PLUG, end_b=XLR_MALE, balanced=True, length_m=5.0),
        Lead(sku="L-XLR-10", name="XLR", end_a=XLR_FEMALE, end_b=XLR_MALE, balanced=True, length_m=10.0),
        Lead(sku="L-XLR-15", name="XLR", end_a=XLR_FEMALE, end_b=XLR_MALE, balanced=True, length_m=15.0),
        Lead(sku="L-XLR-5", name="XLR", end_a=XLR_FEMALE, end_b=XLR_MALE, balanced=True, length_m=5.0),
        Lead(sku="L-XU-5", name="One core", end_a=XLR_FEMALE, end_b=XLR_MALE, balanced=False, length_m=5.0),
    ),
    adapters=(Adapter(sku="AD-RX", name="RCA to XLR", end_a=RCA_SOCKET, end_b=XLR_MALE),),
    splitters=(
        Splitter(sku="SPL-RCA", name="RCA", input=RCA_PLUG, leg=RCA_SOCKET, legs=2, balanced=False),
        Splitter(sku="SPL-RCA-3", name="RCA", input=RCA_PLUG, leg=RCA_SOCKET, legs=3, balanced=False),
        Splitter(sku="SPL-XLR", name="XLR", input=XLR_FEMALE, leg=XLR_MALE, legs=2, balanced=True),
    ),
    bulk_cables=(
        BulkCable(sku="BC-BAL", name="Two core", kind=CableKind.LINE_BALANCED, step_m=1.0),
        BulkCable(sku="BC-SPK", name="Speaker", kind=CableKind.SPEAKER, step_m=0.5),
        BulkCable(sku="BC-UNB", name="One core", kind=CableKind.LINE_UNBALANCED, step_m=1.0),
    ),
    connectors=(
        ConnectorPart(sku="CN-4P", name="4-pole plug", contact=Contact(FOUR_POLE, Gender.MALE)),
        ConnectorPart(sku="CN-RM", name="RCA plug", contact=RCA_PLUG),
        ConnectorPart(sku="CN-XF", name="XLR female", contact=XLR_FEMALE),
        ConnectorPart(sku="CN-XM", name="XLR male", contact=XLR_MALE),
    ),
    ports=_ports_by_device(),
    offers=_offers(),
)
