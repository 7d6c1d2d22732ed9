"""A small answer built by hand: every kind of unit, lead and drive once. All of it invented."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from planner.brief.records import (
    Brief,
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
    Amplifier,
    Catalogue,
    Controls,
    DspUnit,
    Loudspeaker,
    Powering,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.catalogue.records import Lead as LeadItem
from planner.contacts import Connector, Contact, Gender
from planner.design import (
    Connection,
    Design,
    Finding,
    Jack,
    Labour,
    LeadBuild,
    LeadMethod,
    LeadPart,
    LedgerLine,
    Measures,
    Purchase,
    Route,
    Severity,
    Unit,
    UnitKind,
)
from planner.house import House, Task
from planner.options import Answer, Option, Question, Quote, Result, Status

_FULL = Controls(gain=True, polarity=True, max_delay_ms=50.0, filters=10, crossover_ways=1)
_RCA_PLUG = Contact(Connector.RCA, Gender.MALE)
_RCA_SOCKET = Contact(Connector.RCA, Gender.FEMALE)

BRIEF = Brief(
    project=Project(
        name="Example room",
        client="A. Client",
        reference="Q-1",
        dated=date(2026, 11, 25),
        currency="EUR",
    ),
    room=Room(length_m=6.2, width_m=4.1, height_m=2.55),
    seats=(Seat(name="middle", position=Point(4.0, 2.05, 1.1), primary=True),),
    rack=Rack(position=Point(6.0, 0.2, 0.5)),
    layout="2.0",
    loudspeakers=(LoudspeakerSet(name="front", placements=(Placement(channel="M+030"), Placement(channel="M-030"))),),
    subwoofers=(
        SubwooferSet(name="bass", least=3, most=5, positions=tuple(Point(0.3 * n, 0.3, 0.2) for n in range(5))),
    ),
)

CATALOGUE = Catalogue(
    processors=(Processor(sku="p8", name="Processor eight", rendered_channels=8, processed_outputs=8, controls=_FULL),),
    dsp_units=(DspUnit(sku="d24", name="DSP unit two by four", inputs=2, outputs=4, controls=_FULL),),
    amplifiers=(Amplifier(sku="a2", name="Amplifier two", channels=2, power_8ohm_w=100.0),),
    loudspeakers=(Loudspeaker(sku="l1", name="Loudspeaker one", powering=Powering.PASSIVE),),
    subwoofers=(Subwoofer(sku="s1", name="Subwoofer one", powering=Powering.ACTIVE, low_corner_hz=25.0),),
    leads=(LeadItem(sku="rca-5m", name="RCA lead", end_a=_RCA_PLUG, end_b=_RCA_PLUG, balanced=False, length_m=5.0),),
    splitters=(Splitter(sku="y2", name="Two-way", input=_RCA_PLUG, leg=_RCA_SOCKET, legs=2, balanced=False),),
)

HOUSE = House(name="Example house", currency="EUR", tax_name="VAT", tax_percent=Decimal(20))

_LEAD = LeadBuild(method=LeadMethod.STOCKED, parts=(LeadPart(sku="rca-5m", count=1),), length_m=4.2)
_DIRECT = LeadBuild(method=LeadMethod.DIRECT)


def _link(
    channel: str, source: tuple[str, str, int], sink: tuple[str, str, int], lead: LeadBuild = _LEAD
) -> Connection:
    return Connection(channel=channel, source=Jack(*source), sink=Jack(*sink), lead=lead)


# M+030: processor - amplifier - loudspeaker. M-030: an internal amplifier. The bass: one jack
# through a DSP unit to subwoofers 1 (dsp) and 2, which chains on to 3; one through a splitter
# to subwoofers 4 and 5.
DESIGN = Design(
    units=(
        Unit(id="Processor", sku="p8", kind=UnitKind.PROCESSOR),
        Unit(id="DSP 1", sku="d24", kind=UnitKind.DSP),
        Unit(id="Amplifier 1", sku="a2", kind=UnitKind.AMPLIFIER),
        Unit(id="Splitter 1", sku="y2", kind=UnitKind.SPLITTER),
        *(Unit(id=f"Front {n}", sku="l1", kind=UnitKind.LOUDSPEAKER, member=("front", n)) for n in (1, 2)),
        *(Unit(id=f"Sub {n}", sku="s1", kind=UnitKind.SUBWOOFER, member=("bass", n)) for n in range(1, 6)),
    ),
    connections=(
        _link("M+030", ("Processor", "MAIN", 1), ("Amplifier 1", "IN", 2)),
        _link("M+030", ("Amplifier 1", "SPEAKER", 2), ("Front 1", "IN", 1)),
        _link("M-030", ("Processor", "SPEAKER", 2), ("Front 2", "IN", 1)),
        _link("LFE1", ("Processor", "SUB", 1), ("DSP 1", "IN", 1)),
        _link("LFE1", ("DSP 1", "OUT", 1), ("Sub 1", "LINE", 1)),
        _link("LFE1", ("DSP 1", "OUT", 2), ("Sub 2", "LINE", 1)),
        _link("LFE1", ("Sub 2", "LINK", 1), ("Sub 3", "LINE", 1)),
        _link("LFE1", ("Processor", "SUB", 2), ("Splitter 1", "IN", 1), _DIRECT),
        _link("LFE1", ("Splitter 1", "LEG", 1), ("Sub 4", "LINE", 1)),
        _link("LFE1", ("Splitter 1", "LEG", 2), ("Sub 5", "LINE", 1)),
    ),
    routes=(
        Route(source=Jack("DSP 1", "IN", 1), sink=Jack("DSP 1", "OUT", 1)),
        Route(source=Jack("DSP 1", "IN", 1), sink=Jack("DSP 1", "OUT", 2)),
    ),
    purchases=(
        Purchase(sku="p8", supplier="North", count=1, unit_price_minor=300_000),
        Purchase(sku="d24", supplier="North", count=1, unit_price_minor=40_000),
        Purchase(sku="a2", supplier="North", count=1, unit_price_minor=50_000),
        Purchase(sku="y2", supplier="South", count=4, unit_price_minor=500),
        Purchase(sku="l1", supplier="North", count=2, unit_price_minor=60_000),
        Purchase(sku="s1", supplier="owned", count=2, unit_price_minor=0),
        Purchase(sku="s1", supplier="North", count=3, unit_price_minor=70_000),
        Purchase(sku="rca-5m", supplier="South", count=9, unit_price_minor=1_000),
    ),
    labour=(Labour(task=Task.LEAD, count=9, unit_price_minor=2_000),),
    currency="EUR",
)

# 300 000 + 40 000 + 50 000 + 4 x 500 + 2 x 60 000 + 3 x 70 000 + 9 x 1 000 = 731 000;
# 9 x 2 000 = 18 000; together 749 000; 20 % of it 149 800; in all 898 800.
QUOTE = Quote(
    currency="EUR",
    gear_minor=731_000,
    labour_minor=18_000,
    subtotal_minor=749_000,
    tax_minor=149_800,
    total_minor=898_800,
)

CHEAPEST = Option(
    id="1",
    design=DESIGN,
    measures=Measures(
        price_minor=898_800,
        independent_subs=1,
        control_groups=3,
        spare_outputs=0,
        joints=17,
        subs_lost_worst=3,
        conversions=2,
    ),
    quote=QUOTE,
    ledger=(LedgerLine(device="Processor", group="MAIN", have=4, used=1, spare=3),),
    findings=(Finding(rule="R8", severity=Severity.NOTE, subject="Splitter 1", detail="Two legs."),),
    proven=True,
    drives={"dsp": 2, "daisy_chained": 1, "split": 2},
)

DEARER = replace(
    CHEAPEST,
    id="2",
    measures=replace(CHEAPEST.measures, price_minor=981_800, independent_subs=5, subs_lost_worst=1),
    quote=replace(QUOTE, total_minor=981_800),
)

RESULT = Result(
    status=Status.PROVEN,
    currency="EUR",
    seconds=1.25,
    options=(CHEAPEST, DEARER),
    shortlist=(
        Answer(question=Question.CHEAPEST, option_id="1", reason="least price"),
        Answer(question=Question.INDEPENDENT, option_id="2", reason="all five"),
        Answer(question=Question.NO_CONVERSION, option_id=None, reason="every subwoofer here is balanced"),
    ),
)

PARTIAL = replace(
    RESULT,
    status=Status.PARTIAL,
    options=(CHEAPEST, replace(DEARER, proven=False)),
    unproven=("Options with 5 independent subwoofers may be cheaper.",),
)

INFEASIBLE = Result(
    status=Status.INFEASIBLE,
    currency="EUR",
    seconds=0.5,
    shortlist=(Answer(question=Question.CHEAPEST, option_id=None, reason="no valid design"),),
    conflict=("The budget is EUR 100.00.", "Five subwoofers are wanted."),
)
