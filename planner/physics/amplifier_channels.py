"""What each amplifier channel drives: its feeds, their impedances, and the cable to them.

By the rules one channel drives one feed. Counted here is what is there: feeds on several jacks
of one channel, or on the link output of a passive subwoofer, are in parallel. Nothing is ever
bridged, since a design has no way to say so.

The impedance of a feed is that of its terminals where the catalogue gives one, else that of the
loudspeaker; the least impedance is the loudspeaker's. The loss in a cable is taken at the
least impedance where it is known, so that it is not understated. Resistance is the most that
IEC 60228 allows a class 5 conductor of a nominal area; any other area is taken as the true
area of copper, as American gauges are. All at 20 °C.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.catalogue.records import (
    Amplifier,
    BulkCable,
    CableKind,
    Item,
    Loudspeaker,
    PortGroup,
    Powering,
    Processor,
    Subwoofer,
)
from planner.checks.case import Case
from planner.checks.places import Place
from planner.checks.sockets import Level
from planner.checks.view import RENDERERS, Link
from planner.design import LeadBuild, LeadMethod, UnitKind
from planner.formulas.amplifiers import power_from_voltage_w, power_into_load_w, voltage_for_power_v
from planner.formulas.levels import power_ratio
from planner.formulas.loading import parallel_ohm
from planner.formulas.speaker_cable import (
    cable_loss_db,
    conductor_ohm_per_m,
    loop_resistance_ohm,
)

Ports = Mapping[str, tuple[PortGroup, ...]]
"""The port groups of every device by its sku, as the catalogue has them."""


@dataclass(frozen=True, kw_only=True, slots=True)
class CableRun:
    """One loudspeaker cable: the way it goes, and what it loses. None: the catalogue does not say."""

    to: str
    set_name: str
    length_m: float
    area_mm2: float | None
    load_ohm: float | None
    loss_db: float | None


@dataclass(frozen=True, kw_only=True, slots=True)
class SpeakerFeed:
    """One pair of terminals that an amplifier channel drives.

    `least_ohm` is the least impedance where the catalogue gives it. `loss_db` is that of all
    cable from the channel to here. `available_w` is what the channel's rating leaves at the
    terminals; where only the cable's loss is unknown, it is counted as none.
    """

    unit: str
    place: Place
    item: Loudspeaker | Subwoofer
    nominal_ohm: float | None
    least_ohm: float | None
    run: CableRun
    loss_db: float | None
    available_w: float | None


@dataclass(frozen=True, kw_only=True, slots=True)
class AmplifierChannel:
    """One channel of an amplifier, or of a receiver's own amplifiers, with all that hangs on it.

    `name` is as in "Amp 1 / OUT 2". The loads are those of all feeds in parallel; None where
    the catalogue does not say.
    """

    name: str
    device: str
    internal: bool
    power_8ohm_w: float | None
    power_4ohm_w: float | None
    least_load_ohm: float | None
    nominal_ohm: float | None
    least_ohm: float | None
    feeds: tuple[SpeakerFeed, ...]

    @property
    def rated_w(self) -> float | None:
        """Its power into the nominal load, interpolated as `power_into_load_w` says."""
        if self.nominal_ohm is None or self.power_8ohm_w is None:
            return None
        return power_into_load_w(self.nominal_ohm, self.power_8ohm_w, self.power_4ohm_w)


def amplifier_channels(case: Case, ports: Ports) -> tuple[AmplifierChannel, ...]:
    """Every amplifier channel that drives something, in the order of the connections."""
    roots: dict[tuple[str, str, int], list[Link]] = {}
    for link in case.view.links:
        if link.source_unit.kind is UnitKind.AMPLIFIER:
            roots.setdefault((link.source_unit.id, "", link.connection.source.index), []).append(link)
        elif link.source_unit.kind in RENDERERS and link.source.level is Level.SPEAKER:
            jack = link.connection.source
            roots.setdefault((jack.unit, jack.group, jack.index), []).append(link)
    channels = (_channel(case, ports, links) for links in roots.values())
    return tuple(channel for channel in channels if channel is not None)


@dataclass(frozen=True, slots=True, eq=False)
class _Terminals:
    """A feed before its channel is known: the link to it, and its impedances."""

    link: Link
    item: Loudspeaker | Subwoofer
    place: Place
    nominal_ohm: float | None
    least_ohm: float | None


def _channel(case: Case, ports: Ports, roots: list[Link]) -> AmplifierChannel | None:
    links = _beneath(case, roots)
    terminals = {link: here for link in links if (here := _terminals(case, ports, link)) is not None}
    if not terminals:
        return None
    unit = roots[0].source_unit
    power_8ohm_w, power_4ohm_w, least_load_ohm = _rating(case.view.item(unit))
    nominal_ohm = _together_ohm([each.nominal_ohm for each in terminals.values()])
    voltage_v = None
    if nominal_ohm is not None and power_8ohm_w is not None:
        voltage_v = voltage_for_power_v(power_into_load_w(nominal_ohm, power_8ohm_w, power_4ohm_w), nominal_ohm)
    runs = {link: _run(case, link, terminals) for link in links}
    losses = _losses_db(case, roots, runs)
    return AmplifierChannel(
        name=str(roots[0].connection.source),
        device=unit.id,
        internal=unit.kind in RENDERERS,
        power_8ohm_w=power_8ohm_w,
        power_4ohm_w=power_4ohm_w,
        least_load_ohm=least_load_ohm,
        nominal_ohm=nominal_ohm,
        least_ohm=_together_ohm([each.least_ohm for each in terminals.values()]),
        feeds=tuple(_feed(here, runs[link], losses[link], voltage_v) for link, here in terminals.items()),
    )


def _beneath(case: Case, roots: list[Link]) -> list[Link]:
    """The links that the signal of a channel reaches, in order from it."""
    found = dict.fromkeys(roots)
    waiting = list(roots)
    while waiting:
        for then in case.graph.following[waiting.pop()]:
            if then not in found:
                found[then] = None
                waiting.append(then)
    return list(found)


def _feed(here: _Terminals, run: CableRun, loss_db: float | None, voltage_v: float | None) -> SpeakerFeed:
    available_w = None
    if voltage_v is not None and here.nominal_ohm is not None:
        available_w = power_from_voltage_w(voltage_v, here.nominal_ohm) * power_ratio(loss_db or 0.0)
    return SpeakerFeed(
        unit=here.link.sink_unit.id,
        place=here.place,
        item=here.item,
        nominal_ohm=here.nominal_ohm,
        least_ohm=here.least_ohm,
        run=run,
        loss_db=loss_db,
        available_w=available_w,
    )


def _terminals(case: Case, ports: Ports, link: Link) -> _Terminals | None:
    """The feed that a link ends in, where it is the terminals of something passive in its place."""
    item, place = case.view.item(link.sink_unit), case.view.place(link.sink_unit)
    if place is None or not isinstance(item, Loudspeaker | Subwoofer) or item.powering is Powering.ACTIVE:
        return None
    if link.sink.level is not Level.SPEAKER:
        return None
    group = next((port for port in ports.get(item.sku, ()) if port.name == link.sink.name), None)
    nominal_ohm = (group.impedance_ohm if group is not None else None) or item.impedance_ohm
    return _Terminals(link, item, place, nominal_ohm, item.least_impedance_ohm)


def _rating(item: Item) -> tuple[float | None, float | None, float | None]:
    """Power at 8 and at 4 ohm, and the least load, of a channel of this device."""
    if isinstance(item, Amplifier):
        return item.power_8ohm_w, item.power_4ohm_w, item.least_load_ohm
    if isinstance(item, Processor):
        return item.amp_power_8ohm_w, item.amp_power_4ohm_w, item.amp_least_load_ohm
    return None, None, None


def _run(case: Case, link: Link, terminals: Mapping[Link, _Terminals]) -> CableRun:
    """The cable of one link: it carries the current of every feed beneath it."""
    lead, place = link.connection.lead, case.view.place(link.sink_unit)
    loads = (terminals[each] for each in _beneath(case, [link]) if each in terminals)
    load_ohm = _together_ohm([here.least_ohm or here.nominal_ohm for here in loads])
    area_mm2 = _area_mm2(case, lead)
    loop_ohm = 0.0 if lead.method is LeadMethod.DIRECT else _loop_ohm(area_mm2, lead.length_m)
    return CableRun(
        to=link.sink_unit.id,
        set_name=place.set_name if place is not None else "",
        length_m=lead.length_m,
        area_mm2=area_mm2,
        load_ohm=load_ohm,
        loss_db=None if loop_ohm is None or load_ohm is None else cable_loss_db(load_ohm, loop_ohm),
    )


def _area_mm2(case: Case, lead: LeadBuild) -> float | None:
    parts = (case.known.items.get(part.sku) for part in lead.parts)
    return next((p.area_mm2 for p in parts if isinstance(p, BulkCable) and p.kind is CableKind.SPEAKER), None)


def _loop_ohm(area_mm2: float | None, length_m: float) -> float | None:
    if area_mm2 is None or not 0 <= length_m < math.inf:
        return None
    return loop_resistance_ohm(conductor_ohm_per_m(area_mm2), length_m)


def _losses_db(case: Case, roots: list[Link], runs: Mapping[Link, CableRun]) -> Mapping[Link, float | None]:
    """The loss of all cable from the channel to the end of each link, dB."""
    losses: dict[Link, float | None] = {root: runs[root].loss_db for root in roots}
    for link in runs:  # in order from the channel, so that what comes before is there
        for then in case.graph.following[link]:
            before_db, here_db = losses[link], runs[then].loss_db
            losses.setdefault(then, None if before_db is None or here_db is None else before_db + here_db)
    return losses


def _together_ohm(impedances_ohm: Sequence[float | None]) -> float | None:
    """In parallel; None where one is not known, or there is none."""
    known = [each for each in impedances_ohm if each is not None]
    return parallel_ohm(known) if known and len(known) == len(impedances_ohm) else None
