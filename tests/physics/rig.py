"""Small invented designs put together stage by stage. Every unit is a model of its own: its sku is its id."""

from collections import defaultdict
from dataclasses import dataclass, field

from planner.brief.records import Limits
from planner.catalogue.records import (
    Amplifier,
    Catalogue,
    Controls,
    DspUnit,
    Item,
    Lead,
    Loudspeaker,
    OutputStage,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.contacts import Connector, Contact, Direction, Gender
from planner.design import Connection, Design, LeadBuild, LeadMethod, LeadPart, Route, Unit, UnitKind
from planner.physics.levels import ChainLevels, chain_levels
from planner.physics.line_chain import line_chains
from planner.physics.line_findings import line_findings
from planner.physics.noise import ChainNoise, chain_noise
from tests.checks.drawing import DIRECT, jack

CONTROLS = Controls(gain=True, polarity=True, max_delay_ms=100.0, filters=10, crossover_ways=4)
PLUG = Contact(Connector.RCA, Gender.MALE)
BALANCED_STAGES = (
    OutputStage.SYMMETRICAL,
    OutputStage.SERVO,
    OutputStage.TRANSFORMER,
    OutputStage.IMPEDANCE_BALANCED,
    OutputStage.UNKNOWN,
)


@dataclass(frozen=True, kw_only=True)
class Out:
    """An output as the catalogue has it; by default without loss, without limit and without noise."""

    stage: OutputStage = OutputStage.UNBALANCED
    ohm: float | None = 1e-3
    max_dbu: float | None = 60.0

    @property
    def balanced(self) -> bool:
        return self.stage is not OutputStage.UNBALANCED


@dataclass(frozen=True, kw_only=True)
class In:
    """An input as the catalogue has it."""

    balanced: bool = False
    ohm: float | None = 10e6
    max_dbu: float | None = 60.0
    volts: float | None = None


@dataclass
class Rig:
    """A catalogue and a design as they grow."""

    items: list[Item] = field(default_factory=list)
    ports: dict[str, list[PortGroup]] = field(default_factory=lambda: defaultdict(list))
    units: list[Unit] = field(default_factory=list)
    connections: list[Connection] = field(default_factory=list)
    routes: list[Route] = field(default_factory=list)

    def processor(self, *outs: Out, noise_dbu: float | None = -200.0) -> None:
        """ "Proc", its output groups "OUT1", "OUT2" …, each of 16 jacks."""
        self._add(
            UnitKind.PROCESSOR,
            Processor(
                sku="Proc",
                name="Proc",
                rendered_channels=16,
                processed_outputs=16,
                controls=CONTROLS,
                noise_dbu=noise_dbu,
            ),
        )
        for number, out in enumerate(outs, 1):
            self._output("Proc", f"OUT{number}", out, PortRole.ASSIGNABLE)

    def dsp(
        self,
        sku: str,
        into: In,
        out: Out,
        *,
        noise_dbu: float | None = -200.0,
        max_gain_db: float = 0.0,
    ) -> None:
        self._add(
            UnitKind.DSP,
            DspUnit(
                sku=sku,
                name=sku,
                inputs=8,
                outputs=8,
                controls=CONTROLS,
                noise_dbu=noise_dbu,
                max_gain_db=max_gain_db,
            ),
        )
        self._input(sku, "IN", into)
        self._output(sku, "OUT", out, PortRole.PLAIN)

    def amplifier(
        self,
        sku: str,
        into: In,
        *,
        noise_dbu: float | None = -200.0,
        sensitivity_v: float | None = None,
        power_w: float = 100.0,
        gain_db: float | None = None,
    ) -> None:
        self._add(
            UnitKind.AMPLIFIER,
            Amplifier(
                sku=sku,
                name=sku,
                channels=8,
                power_8ohm_w=power_w,
                sensitivity_v=sensitivity_v,
                gain_db=gain_db,
                noise_dbu=noise_dbu,
            ),
        )
        self._input(sku, "IN", into)
        self.ports[sku].append(_port(sku, "POST", Direction.OUT, Connector.BINDING_POST, PortRole.PLAIN))

    def passive(self, sku: str, *, ways: int = 1) -> None:
        self._add(
            UnitKind.LOUDSPEAKER,
            Loudspeaker(
                sku=sku,
                name=sku,
                powering=Powering.CROSSED if ways > 1 else Powering.PASSIVE,
                ways=ways,
            ),
        )
        for way in range(1, ways + 1):
            self.ports[sku].append(_port(sku, f"POST{way}", Direction.IN, Connector.BINDING_POST, PortRole.PLAIN))

    def active(self, sku: str, into: In) -> None:
        self._add(UnitKind.LOUDSPEAKER, Loudspeaker(sku=sku, name=sku, powering=Powering.ACTIVE))
        self._input(sku, "IN", into)

    def sub(self, sku: str, into: In, link: Out | None = None) -> None:
        self._add(UnitKind.SUBWOOFER, Subwoofer(sku=sku, name=sku, powering=Powering.ACTIVE, low_corner_hz=20.0))
        self._input(sku, "IN", into)
        if link is not None:
            self._output(sku, "LINK", link, PortRole.LINK)

    def splitter(self, sku: str, legs: int, *, balanced: bool = False) -> None:
        splitter = Splitter(sku=sku, name=sku, input=PLUG, leg=PLUG, legs=legs, balanced=balanced)
        self._add(UnitKind.SPLITTER, splitter)

    def lead(self, sku: str, *, length_m: float, pf_per_m: float | None, balanced: bool) -> LeadBuild:
        """A made lead in the catalogue, and one of it in use."""
        self.items.append(
            Lead(
                sku=sku,
                name=sku,
                end_a=PLUG,
                end_b=PLUG,
                balanced=balanced,
                length_m=length_m,
                capacitance_pf_per_m=pf_per_m,
            )
        )
        return LeadBuild(method=LeadMethod.STOCKED, parts=(LeadPart(sku=sku, count=1),), length_m=length_m / 2)

    def wire(self, source: str, sink: str, lead: LeadBuild | None = None, *, way: int | None = None) -> None:
        """A connection; without a lead of its own, by 1 m of two-core lead of next to no capacitance."""
        if lead is None:
            lead = LeadBuild(method=LeadMethod.STOCKED, parts=(LeadPart(sku="L", count=1),), length_m=1.0)
        self.connections.append(
            Connection(channel="M+000", source=jack(source), sink=jack(sink), lead=lead, way=way)
        )  # fmt: skip

    def plug(self, source: str, splitter: str) -> None:
        """A splitter onto a jack or a leg."""
        self.connections.append(
            Connection(channel="M+000", source=jack(source), sink=jack(f"{splitter}/IN/1"), lead=DIRECT)
        )

    def route(self, source: str, sink: str) -> None:
        self.routes.append(Route(source=jack(source), sink=jack(sink)))

    def design(self) -> Design:
        return Design(
            units=tuple(self.units),
            connections=tuple(self.connections),
            routes=tuple(self.routes),
            purchases=(),
            labour=(),
            currency="NZD",
        )

    def catalogue(self) -> Catalogue:
        plain = Lead(
            sku="L",
            name="L",
            end_a=PLUG,
            end_b=PLUG,
            balanced=True,
            length_m=1.0,
            capacitance_pf_per_m=1e-6,
        )
        items = (*self.items, plain)
        return Catalogue(
            processors=tuple(item for item in items if isinstance(item, Processor)),
            dsp_units=tuple(item for item in items if isinstance(item, DspUnit)),
            amplifiers=tuple(item for item in items if isinstance(item, Amplifier)),
            loudspeakers=tuple(item for item in items if isinstance(item, Loudspeaker)),
            subwoofers=tuple(item for item in items if isinstance(item, Subwoofer)),
            leads=tuple(item for item in items if isinstance(item, Lead)),
            splitters=tuple(item for item in items if isinstance(item, Splitter)),
            ports={sku: tuple(groups) for sku, groups in self.ports.items()},
        )

    def chains(self) -> tuple[ChainLevels, ...]:
        """The levels of every line chain."""
        return tuple(chain_levels(chain) for chain in line_chains(self.design(), self.catalogue()))

    def levels(self, sink: str) -> ChainLevels:
        """The levels of the chain that ends at a line input."""
        return next(each for each in self.chains() if each.chain.sink.jack == jack(sink))

    def noise(self, sink: str) -> ChainNoise:
        """The noise of the chain that ends at a line input."""
        return chain_noise(self.levels(sink))

    def sentences(self) -> list[str]:
        """What R11 and R12 have to say, as a person reads it."""
        levels = self.chains()
        found = line_findings(levels, [chain_noise(each) for each in levels], Limits(physical=frozenset()))
        return [f"{f.rule} {f.severity.value}, {f.subject}: {f.message}" for f in found]

    def _add(self, kind: UnitKind, item: Item) -> None:
        self.items.append(item)
        self.units.append(Unit(id=item.sku, sku=item.sku, kind=kind))

    def _output(self, sku: str, name: str, out: Out, role: PortRole) -> None:
        self.ports[sku].append(
            _port(
                sku,
                name,
                Direction.OUT,
                Connector.XLR if out.balanced else Connector.RCA,
                role,
                balanced=out.balanced,
                output_stage=out.stage,
                max_level_dbu=out.max_dbu,
                impedance_ohm=out.ohm,
            )
        )

    def _input(self, sku: str, name: str, into: In) -> None:
        self.ports[sku].append(
            _port(
                sku,
                name,
                Direction.IN,
                Connector.XLR if into.balanced else Connector.RCA,
                PortRole.PLAIN,
                balanced=into.balanced,
                max_level_dbu=into.max_dbu,
                impedance_ohm=into.ohm,
                sensitivity_v=into.volts,
            )
        )


def _port(
    sku: str,
    name: str,
    direction: Direction,
    connector: Connector,
    role: PortRole,
    *,
    balanced: bool = False,
    output_stage: OutputStage = OutputStage.UNKNOWN,
    max_level_dbu: float | None = None,
    impedance_ohm: float | None = None,
    sensitivity_v: float | None = None,
) -> PortGroup:
    return PortGroup(
        device=sku,
        name=name,
        direction=direction,
        role=role,
        connector=connector,
        balanced=balanced,
        count=16,
        output_stage=output_stage,
        max_level_dbu=max_level_dbu,
        impedance_ohm=impedance_ohm,
        sensitivity_v=sensitivity_v,
    )


def split(out: Out, inputs: list[In]) -> Rig:
    """One output into subwoofers "Sub 1", "Sub 2" …, by one splitter of as many legs where there are several."""
    rig = Rig()
    rig.processor(out)
    for number, into in enumerate(inputs, 1):
        rig.sub(f"Sub {number}", into)
    if len(inputs) == 1:
        rig.wire("Proc/OUT1/1", "Sub 1/IN/1")
        return rig
    rig.splitter("Split", len(inputs), balanced=out.balanced)
    rig.plug("Proc/OUT1/1", "Split")
    for number in range(1, len(inputs) + 1):
        rig.wire(f"Split/LEG/{number}", f"Sub {number}/IN/1")
    return rig
