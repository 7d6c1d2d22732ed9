"""Systems of a few boxes, drawn by hand, whose every figure a test sets. All gear is invented."""

from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from planner.brief.records import Brief, LoudspeakerSet, Placement, Point, Project, Rack, Room, Seat, SubwooferSet
from planner.catalogue.records import (
    Amplifier,
    BulkCable,
    CableKind,
    Catalogue,
    Controls,
    DspUnit,
    Lead,
    Loudspeaker,
    Mains,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.checks.case import Case
from planner.checks.known import Known
from planner.contacts import Connector, Contact, Direction, Gender
from planner.design import LeadBuild, Unit, UnitKind
from planner.house import House
from planner.physics.amplifier_channels import AmplifierChannel, amplifier_channels
from tests.checks.drawing import Drawing, made_up

CHANNELS = ("M+030", "M-030", "M+000", "M+110", "M-110", "M+135", "M-135", "M+090")
EAR = Point(0.0, 0.0, 0.0)
RCA, XLR, POST = Connector.RCA, Connector.XLR, Connector.BINDING_POST
IN, OUT = Direction.IN, Direction.OUT
PLUG = Contact(RCA, Gender.MALE)
ANY_DELAY = Controls(gain=True, polarity=True, max_delay_ms=1000.0, filters=10, crossover_ways=4)


def port(device: str, name: str, direction: Direction, connector: Connector, count: int = 8, **more: Any) -> PortGroup:
    role = more.pop("role", PortRole.PLAIN if direction is IN else PortRole.ASSIGNABLE)
    more.setdefault("balanced", connector is XLR)
    return PortGroup(
        device=device, name=name, direction=direction, role=role, connector=connector, count=count, **more
    )  # fmt: skip


PORTS = (
    port("proc", "OUT", OUT, RCA), port("proc", "XLR", OUT, XLR), port("proc", "SPK", OUT, POST),
    port("dsp", "IN", IN, RCA), port("dsp", "OUT", OUT, RCA, role=PortRole.PLAIN),
    port("dsp", "XLR IN", IN, XLR), port("dsp", "XLR OUT", OUT, XLR, role=PortRole.PLAIN),
    port("amp", "IN", IN, RCA), port("amp", "SPK", OUT, POST, role=PortRole.PLAIN),
    port("active", "IN", IN, RCA), port("passive", "IN", IN, POST),
    port("crossed", "1 LOW", IN, POST), port("crossed", "2 HIGH", IN, POST),
    port("sub", "IN", IN, RCA), port("sub", "LINK", OUT, RCA, role=PortRole.LINK),
    port("bass", "IN", IN, POST), port("bass", "LINK", OUT, POST, role=PortRole.LINK),
)  # fmt: skip

_CATALOGUE = Catalogue(
    processors=(
        Processor(sku="proc", name="Processor", rendered_channels=16, processed_outputs=16, controls=ANY_DELAY),
    ),
    dsp_units=(DspUnit(sku="dsp", name="DSP unit", inputs=8, outputs=8, controls=ANY_DELAY),),
    amplifiers=(Amplifier(sku="amp", name="Amplifier", channels=8, power_8ohm_w=100.0),),
    loudspeakers=(
        Loudspeaker(sku="active", name="Active", powering=Powering.ACTIVE, max_spl_db=100.0),
        Loudspeaker(sku="crossed", name="Crossed", powering=Powering.CROSSED, ways=2, sensitivity_db=90.0),
        Loudspeaker(sku="passive", name="Passive", powering=Powering.PASSIVE, sensitivity_db=88.0, impedance_ohm=8.0),
    ),
    subwoofers=(
        Subwoofer(sku="bass", name="Passive", powering=Powering.PASSIVE, low_corner_hz=20.0, impedance_ohm=8.0),
        Subwoofer(sku="sub", name="Active", powering=Powering.ACTIVE, low_corner_hz=20.0, max_spl_db=110.0),
    ),
    leads=(
        Lead(sku="rca", name="RCA", end_a=PLUG, end_b=PLUG, balanced=False, length_m=1.0),
        Lead(
            sku="xlr", name="XLR", end_a=Contact(XLR, Gender.FEMALE), end_b=Contact(XLR, Gender.MALE), balanced=True,
            length_m=1.0,
        ),
    ),
    splitters=(
        Splitter(sku="y", name="RCA Y", input=PLUG, leg=Contact(RCA, Gender.FEMALE), legs=2, balanced=False),
    ),
    bulk_cables=(BulkCable(sku="cable", name="Speaker cable", kind=CableKind.SPEAKER, step_m=1.0, area_mm2=2.5),),
    ports={device: tuple(p for p in PORTS if p.device == device) for device in {p.device for p in PORTS}},
)  # fmt: skip

_SHEETS = ("processors", "dsp_units", "amplifiers", "loudspeakers", "subwoofers", "leads", "splitters", "bulk_cables")


def catalogue(**changes: dict[str, Any]) -> Catalogue:
    """The small catalogue with fields of some of its items changed, by sku."""
    sheets: dict[str, Any] = {
        sheet: tuple(replace(item, **changes.get(item.sku, {})) for item in getattr(_CATALOGUE, sheet))
        for sheet in _SHEETS
    }
    return replace(_CATALOGUE, **sheets)


def with_ports(shop: Catalogue, *ports: PortGroup) -> Catalogue:
    """The catalogue with port groups put in the place of those of the same device and name."""
    changed = {(port.device, port.name): port for port in ports}
    return replace(
        shop,
        ports={
            device: tuple(changed.get((port.device, port.name), port) for port in groups)
            for device, groups in shop.ports.items()
        },
    )


@dataclass
class System(Drawing):
    """A design with the brief and catalogue that it is read against, as they grow."""

    shop: Catalogue = field(default_factory=lambda: _CATALOGUE)
    seats: tuple[Seat, ...] = (Seat(name="Seat", position=EAR, primary=True),)
    temperature_c: float = 20.0
    target_spl_db: float | None = None
    loudspeakers_at: list[Point] = field(default_factory=list)
    subwoofers_at: list[Point] = field(default_factory=list)

    def speaker(self, sku: str, metres: float) -> str:
        """A loudspeaker so far from the ear."""
        index = len(self.loudspeakers_at)
        self.loudspeakers_at.append(Point(metres, 0.0, 0.0))
        self.loudspeaker(f"Speaker {index + 1}", sku, "Main", index)
        return f"Speaker {index + 1}"

    def subwoofer(self, sku: str, metres: float) -> str:
        """A subwoofer so far from the ear."""
        index = len(self.subwoofers_at)
        self.subwoofers_at.append(Point(metres, 0.0, 0.0))
        self.units.append(Unit(id=f"Sub {index + 1}", sku=sku, kind=UnitKind.SUBWOOFER, member=("Bass", index)))
        return f"Sub {index + 1}"

    def run(self, source: str, sink: str, lead: LeadBuild, channel: str = "LFE1", way: int | None = None) -> None:
        """One connection; the channel matters to few of these tests."""
        self.link(channel, source, sink, lead, way)

    def brief(self) -> Brief:
        placements = zip(CHANNELS, self.loudspeakers_at, strict=False)
        main = LoudspeakerSet(
            name="Main",
            placements=tuple(Placement(channel=channel, position=point) for channel, point in placements),
            target_spl_db=self.target_spl_db,
        )
        count = len(self.subwoofers_at)
        bass = SubwooferSet(name="Bass", least=count, most=count, positions=tuple(self.subwoofers_at))
        return Brief(
            project=Project(name="T", client="T", reference="T", dated=date(2026, 1, 15), currency="EUR"),
            room=Room(length_m=10.0, width_m=10.0, height_m=3.0, temperature_c=self.temperature_c),
            seats=self.seats,
            rack=Rack(position=EAR),
            layout="7.1",
            loudspeakers=(main,) if self.loudspeakers_at else (),
            subwoofers=(bass,) if count else (),
        )

    def case(self) -> Case:
        return Case.of(self.design(), Known(self.brief(), self.shop, House(name="", currency="EUR")))

    def channels(self) -> tuple[AmplifierChannel, ...]:
        return amplifier_channels(self.case(), self.shop.ports)


def amplified(metres: float = 1.0, cable_m: float = 0.0, sku: str = "passive", **changes: dict[str, Any]) -> System:
    """One passive loudspeaker on one channel of the amplifier."""
    system = System(shop=catalogue(**changes))
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    system.unit(UnitKind.AMPLIFIER, "Amp", "amp")
    speaker = system.speaker(sku, metres)
    system.run("Amp/SPK/1", f"{speaker}/IN/1", made_up(cable_m, ("cable", 1)), "M+030")
    return system


def mains(rated_w: float = 100.0, **more: Any) -> dict[str, Mains]:
    """The change that gives an item a mains cord."""
    return {"mains": Mains(rated_w=rated_w, **more)}
