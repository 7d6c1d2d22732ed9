"""Random designs of line chains, in all the shapes that rules allow, with gaps in what is known of them.

`spoiled` breaks such a design in several places at once, so that it follows no rule any more.
"""

from dataclasses import replace
from random import Random

from planner.catalogue.records import OutputStage
from planner.design import Connection, Design, Jack, LeadBuild, LeadMethod, LeadPart, Route, Unit
from tests.physics.rig import BALANCED_STAGES, In, Out, Rig

STAGES = (OutputStage.UNBALANCED, *BALANCED_STAGES)


class _Growing:
    """One random design on its way. `gaps` is how often a figure is missing."""

    def __init__(self, random: Random, gaps: float) -> None:
        self.random, self.gaps, self.rig = random, gaps, Rig()
        self.count = 0

    def name(self, stem: str) -> str:
        self.count += 1
        return f"{stem} {self.count}"

    def known(self, least: float, most: float) -> float | None:
        return None if self.random.random() < self.gaps else self.random.uniform(least, most)

    def out(self, stages: tuple[OutputStage, ...] = STAGES) -> Out:
        return Out(
            stage=self.random.choice(stages),
            ohm=self.known(10.0, 2200.0),
            max_dbu=self.known(0.0, 24.0),
        )

    def into(self) -> In:
        return In(
            balanced=self.random.random() < 0.5,
            ohm=self.known(2e3, 100e3),
            max_dbu=self.known(4.0, 26.0),
            volts=self.known(0.2, 4.0),
        )

    def lead(self) -> LeadBuild:
        return self.rig.lead(
            self.name("Lead"),
            length_m=self.random.choice([0.5, 1.0, 5.0, 20.0]),
            pf_per_m=self.known(50.0, 200.0),
            balanced=self.random.random() < 0.7,
        )

    def feed(self, source: str) -> None:
        """Something at the end of an output or a leg."""
        kind = self.random.choice(["sub", "active", "amplifier", "chain"])
        if kind == "active":
            name = self.name("Active")
            self.rig.active(name, self.into())
            self.rig.wire(source, f"{name}/IN/1", self.lead())
        elif kind == "amplifier":
            self._amplified(source)
        else:
            self._subwoofers(source, 1 if kind == "sub" else self.random.randint(2, 3))

    def _amplified(self, source: str) -> None:
        amplifier, loudspeaker = self.name("Amp"), self.name("Passive")
        ways, channel = self.random.randint(1, 3), self.random.randint(1, 8)
        way = self.random.randint(1, ways) if ways > 1 else None
        into = self.into()
        self.rig.amplifier(
            amplifier,
            into,
            noise_dbu=self.known(-120.0, -60.0),
            sensitivity_v=self.known(0.5, 2.0),
            gain_db=self.known(20.0, 35.0),
        )
        self.rig.passive(loudspeaker, ways=ways)
        self.rig.wire(source, f"{amplifier}/IN/{channel}", self.lead(), way=way)
        self.rig.wire(f"{amplifier}/POST/{channel}", f"{loudspeaker}/POST{way or 1}/1", way=way)

    def _subwoofers(self, source: str, count: int) -> None:
        for _ in range(count):
            name = self.name("Sub")
            wired_through = self.random.random() < 0.3
            link = Out(stage=OutputStage.UNKNOWN, ohm=None) if wired_through else self.out()
            self.rig.sub(name, self.into(), link)
            self.rig.wire(source, f"{name}/IN/1", self.lead())
            source = f"{name}/LINK/1"

    def outlet(self, source: str, balanced: bool, *, dsp_allowed: bool) -> None:
        """What hangs on one output: a feed, a split, or a DSP unit."""
        kind = self.random.choice(["feed", "split", "dsp"] if dsp_allowed else ["feed", "split"])
        if kind == "feed":
            self.feed(source)
        elif kind == "split":
            self._split(source, balanced and self.random.random() < 0.7, self.random.randint(2, 3))
        else:
            self._dsp(source)

    def _split(self, source: str, balanced: bool, legs: int) -> None:
        splitter = self.name("Split")
        self.rig.splitter(splitter, legs, balanced=balanced)
        self.rig.plug(source, splitter)
        for leg in range(1, legs + 1):
            if leg == legs and self.random.random() < 0.3:
                self._split(f"{splitter}/LEG/{leg}", balanced, 2)
            else:
                self.feed(f"{splitter}/LEG/{leg}")

    def _dsp(self, source: str) -> None:
        name, out = self.name("DSP"), self.out()
        self.rig.dsp(
            name,
            self.into(),
            out,
            noise_dbu=self.known(-110.0, -70.0),
            max_gain_db=self.random.choice([0.0, 6.0, 12.0]),
        )
        self.rig.wire(source, f"{name}/IN/1", self.lead())
        for output in range(1, self.random.randint(1, 3) + 1):
            self.rig.route(f"{name}/IN/1", f"{name}/OUT/{output}")
            self.outlet(f"{name}/OUT/{output}", out.balanced, dsp_allowed=False)


def random_rig(seed: int) -> Rig:
    """The random design of this number. Of three, one has no gaps, one has few, one has many."""
    random = Random(seed)
    growing = _Growing(random, gaps=(0.0, 0.03, 0.3)[seed % 3])
    outs = [growing.out() for _ in range(random.randint(1, 2))]
    growing.rig.processor(*outs, noise_dbu=growing.known(-110.0, -70.0))
    for jack in range(1, random.randint(1, 3) + 1):
        group = random.randrange(len(outs))
        growing.outlet(f"Proc/OUT{group + 1}/{jack}", outs[group].balanced, dsp_allowed=True)
    return growing.rig


def spoiled(design: Design, random: Random) -> Design:
    """The design with a few things doubled, left out, crossed over or made nonsense of."""
    units, connections, routes = list(design.units), list(design.connections), list(design.routes)
    jacks = [end for connection in connections for end in (connection.source, connection.sink)]
    jacks += [Jack("Ghost", "IN", 1), Jack("Proc", "OUT1", 99), Jack("Proc", "NO SUCH", 1)]
    for _ in range(random.randint(1, 5)):
        match random.randrange(7):
            case 0:
                connections.append(_crossed(random.choice(connections), jacks, random))
            case 1:
                at = random.randrange(len(connections))
                connections[at] = _crossed(connections[at], jacks, random)
            case 2:
                units.append(replace(random.choice(units), sku=random.choice(units).sku))
            case 3:
                at = random.randrange(len(units))
                units[at] = replace(units[at], sku=random.choice(["no such", random.choice(units).sku]))
            case 4:
                units = _without_one(units, random)
            case 5:
                routes.append(Route(source=random.choice(jacks), sink=random.choice(jacks)))
            case _:
                at = random.randrange(len(connections))
                connections[at] = replace(connections[at], lead=_odd_lead(connections[at].lead, random))
    return replace(design, units=tuple(units), connections=tuple(connections), routes=tuple(routes))


def _crossed(connection: Connection, jacks: list[Jack], random: Random) -> Connection:
    if random.random() < 0.5:
        return replace(connection, sink=random.choice(jacks))
    return replace(connection, source=random.choice(jacks))


def _odd_lead(lead: LeadBuild, random: Random) -> LeadBuild:
    return replace(
        lead,
        method=random.choice(list(LeadMethod)),
        length_m=random.choice([-1.0, 0.0, 1e300, float("inf"), float("nan")]),
        parts=random.choice([(), (LeadPart(sku="Proc", count=-1),), (*lead.parts, LeadPart(sku="?", count=1))]),
    )


def _without_one(units: list[Unit], random: Random) -> list[Unit]:
    gone = random.randrange(len(units))
    return units[:gone] + units[gone + 1 :] if len(units) > 1 else units
