"""R16: rack units, mains power and heat of a design as totals; circuits are for an electrician.

Idle and rated watts are the catalogue's. All of it is counted as heat, which overstates it by the
few per cent that leave as sound or through loudspeaker cable. Gear in the rack and loudspeakers
in the room are told apart, since the one heats a cupboard and the other the room. A current is
for unity power factor; a poor one draws more.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.catalogue.records import Amplifier, Card, DspUnit, Item, Loudspeaker, Mains, Powering, Processor, Subwoofer
from planner.checks.case import Case
from planner.checks.view import SPEAKERS
from planner.design import Figure, FigureUnit, Finding, Severity, Unit, UnitKind
from planner.physics.findings import named, note

BTU_PER_H_PER_W = 3600 / 1055.05585262
"""1 W in BTU/h, by the International Table BTU (ISO 31-4:1992)."""

SUPPLIES_V = (230, 120)
"""Supplies that currents are given for, since the brief does not name one."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Supply:
    """What so much gear asks of the mains, and gives off as heat."""

    idle_w: float
    rated_w: float

    @property
    def idle_btu_per_h(self) -> float:
        """Heat while it idles."""
        return self.idle_w * BTU_PER_H_PER_W

    @property
    def rated_btu_per_h(self) -> float:
        """Heat at rated power."""
        return self.rated_w * BTU_PER_H_PER_W


@dataclass(frozen=True, kw_only=True, slots=True)
class MainsTotals:
    """The whole design. `unstated` are devices that need a supply, for which the catalogue gives none."""

    rack_units: int
    rack: Supply
    room: Supply
    unstated: tuple[str, ...]

    @property
    def whole(self) -> Supply:
        """Rack and room together."""
        return Supply(idle_w=self.rack.idle_w + self.room.idle_w, rated_w=self.rack.rated_w + self.room.rated_w)


def mains_totals(case: Case) -> MainsTotals:
    """The totals of one design, cards counted with their hosts."""
    units = [(unit, mains) for unit in case.view.units.values() if (mains := mains_of(case.view.item(unit)))]
    return MainsTotals(
        rack_units=sum(mains.rack_units for _, mains in units),
        rack=_supply(mains for unit, mains in units if unit.kind not in SPEAKERS),
        room=_supply(mains for unit, mains in units if unit.kind in SPEAKERS),
        unstated=tuple(
            unit.id
            for unit, _ in units
            if _needs_mains(case.view.item(unit)) and not has_mains(unit, case.view.item(unit))
        ),
    )


def mains_findings(totals: MainsTotals) -> tuple[Finding, ...]:
    """What R16 has to say: notes only."""
    return tuple(_notes(totals))


def mains_of(item: Item) -> Mains | None:
    """What a record says of the rack and the supply; None for leads and other small parts."""
    if isinstance(item, Processor | Card | DspUnit | Amplifier | Loudspeaker | Subwoofer):
        return item.mains
    return None


def has_mains(unit: Unit, item: Item) -> bool:
    """Whether a device has a mains cord of its own: some power is stated, and it is no card."""
    mains = mains_of(item)
    return unit.kind is not UnitKind.CARD and mains is not None and (mains.idle_w > 0 or mains.rated_w > 0)


def has_protective_earth(unit: Unit, item: Item) -> bool:
    """Whether its cord has an earth: a class II device has none (IEC 61140, from memory)."""
    mains = mains_of(item)
    return has_mains(unit, item) and mains is not None and not mains.class_ii


def _needs_mains(item: Item) -> bool:
    if isinstance(item, Loudspeaker | Subwoofer):
        return item.powering is Powering.ACTIVE
    return isinstance(item, Processor | DspUnit | Amplifier)


def _supply(gear: Iterable[Mains]) -> Supply:
    listed = tuple(gear)
    return Supply(idle_w=sum(mains.idle_w for mains in listed), rated_w=sum(mains.rated_w for mains in listed))


def _notes(totals: MainsTotals) -> Iterator[Finding]:
    rack, room, whole = totals.rack, totals.room, totals.whole
    amperes = " or ".join(f"{whole.rated_w / volts:.1f} A at {volts} V" for volts in SUPPLIES_V)
    yield Finding(
        rule="R16",
        severity=Severity.NOTE,
        subject="mains",
        detail=(
            f"{totals.rack_units} rack units. The rack takes {rack.idle_w:.0f} W idle and {rack.rated_w:.0f} W rated,"
            f" loudspeakers and subwoofers {room.idle_w:.0f} W and {room.rated_w:.0f} W: {amperes} in all at rated"
            " power, more with a poor power factor. Gear with large supplies draws many times that for a moment when it"
            " is switched on: switch it on in turn. How circuits are loaded is for a licensed electrician, by the local"
            " code."
        ),
        figures=(
            Figure(of="rack units", value=totals.rack_units, unit=FigureUnit.RACK_UNITS),
            Figure(of="all gear, idle", value=whole.idle_w, unit=FigureUnit.W),
            Figure(of="all gear, rated", value=whole.rated_w, unit=FigureUnit.W),
            *(Figure(of=f"at {v} V", value=whole.rated_w / v, unit=FigureUnit.A) for v in SUPPLIES_V),
        ),
    )
    yield Finding(
        rule="R16",
        severity=Severity.NOTE,
        subject="heat",
        detail=(
            f"The rack gives off {rack.idle_w:.0f} W ({rack.idle_btu_per_h:.0f} BTU/h) of heat idle, and at most"
            f" {rack.rated_w:.0f} W ({rack.rated_btu_per_h:.0f} BTU/h); its cupboard has to be rid of that."
        ),
        figures=(
            Figure(of="heat of the rack, idle", value=rack.idle_w, unit=FigureUnit.W),
            Figure(of="heat of the rack, rated", value=rack.rated_w, unit=FigureUnit.W),
        ),
    )
    if totals.unstated:
        yield note(
            "R16",
            "mains",
            f"The catalogue gives no mains power for {named(totals.unstated)}: left out here, and counted as"
            " without a mains cord among the earth loops.",
        )
