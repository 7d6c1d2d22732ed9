"""What an amplifier channel meets at the terminals of the loudspeakers of a set (R13, R14).

Loudspeakers of a set are alike, and are held to what the farthest of them needs: a channel that
may drive one of them may drive them all.
"""

import math
from collections.abc import Iterable

from planner.brief.records import Brief, PhysicalLimit, Point
from planner.catalogue.records import Catalogue, Loudspeaker, PortGroup, Subwoofer
from planner.contacts import Contact
from planner.demand.kinds import cable_load_ohm
from planner.demand.leads import LeadMaker
from planner.demand.loads import LoadSet, Model
from planner.demand.power_reach import PassiveFeed
from planner.design import LeadBuild
from planner.formulas.sound_level import inverse_distance_loss_db, sensitivity_for_1w_db
from planner.formulas.speaker_cable import cable_loss_db, conductor_ohm_per_m, loop_resistance_ohm

_SLIVER = 5e-10


class Cables:
    """The loudspeaker cables that may be used, by what they lose."""

    def __init__(self, brief: Brief, catalogue: Catalogue) -> None:
        held = PhysicalLimit.CABLE in brief.limits.physical
        self._most_loss_db = brief.limits.most_cable_loss_db if held else math.inf
        self._areas_mm2 = {cable.sku: cable.area_mm2 for cable in catalogue.bulk_cables}

    @property
    def limited(self) -> bool:
        """Whether any loss is too much."""
        return math.isfinite(self._most_loss_db)

    def loss_db(self, build: LeadBuild, load_ohm: float | None) -> float | None:
        """What a cable loses into a load, at most 0; None where the catalogue does not say."""
        areas = (self._areas_mm2.get(part.sku) for part in build.parts)
        area_mm2 = next((area for area in areas if area is not None), None)
        if area_mm2 is None or load_ohm is None:
            return None
        return cable_loss_db(load_ohm, loop_resistance_ohm(conductor_ohm_per_m(area_mm2), build.length_m))

    def allowed(self, build: LeadBuild, load_ohm: float | None) -> bool:
        """Whether a cable loses no more than it may; an unknown loss is allowed."""
        loss_db = self.loss_db(build, load_ohm)
        return loss_db is None or loss_db >= -self._most_loss_db - _SLIVER


class PassiveFeeds:
    """The passive feeds of one brief, reckoned once each."""

    def __init__(self, brief: Brief, catalogue: Catalogue, maker: LeadMaker, outs: Iterable[Contact]) -> None:
        speakers: tuple[Loudspeaker | Subwoofer, ...] = (*catalogue.loudspeakers, *catalogue.subwoofers)
        self._items = {speaker.sku: speaker for speaker in speakers}
        self._heads = [seat.position for seat in brief.seats if seat.primary] or [s.position for s in brief.seats]
        self._cables, self._maker, self._outs = Cables(brief, catalogue), maker, tuple(sorted(set(outs)))
        self._feeds: dict[tuple[str, str, str], PassiveFeed] = {}
        self._losses: dict[tuple[Contact, float, float | None], float] = {}

    def of(self, load: LoadSet, model: Model, port: PortGroup) -> PassiveFeed:
        """One pair of terminals of a set, served by a model: in its farthest place, by its longest cable."""
        key = (load.name, model.sku, port.name)
        if key not in self._feeds:
            self._feeds[key] = self._reckoned(load, model, port)
        return self._feeds[key]

    def _reckoned(self, load: LoadSet, model: Model, port: PortGroup) -> PassiveFeed:
        item = self._items[model.sku]
        nominal_ohm = port.impedance_ohm or item.impedance_ohm
        sensitivity_db = item.sensitivity_db
        if sensitivity_db is not None and item.sensitivity_at_2v83:
            ohm = item.impedance_ohm or nominal_ohm
            sensitivity_db = None if ohm is None else sensitivity_for_1w_db(sensitivity_db, ohm)
        wanted_db = None if load.bass or load.target_spl_db is None else load.target_spl_db
        farthest_db = max((self.spreading_db(member.position) for member in load.members), default=0.0)
        lengths_m = sorted({member.from_rack_m for member in load.members})
        load_ohm = cable_load_ohm(port, item)
        return PassiveFeed(
            nominal_ohm=nominal_ohm,
            least_ohm=item.least_impedance_ohm,
            sensitivity_1w_db=sensitivity_db,
            handling_w=item.handling_w,
            wanted_1m_db=None if wanted_db is None else wanted_db + farthest_db,
            cable_loss_db=min(self._worst_loss_db(port.contact, length_m, load_ohm) for length_m in lengths_m),
        )

    def spreading_db(self, position: Point) -> float:
        """What is lost from 1 m to the farthest primary seat; nearer than 1 m counts as 1 m."""
        return -min(inverse_distance_loss_db(max(_distance_m(position, head), 1.0)) for head in self._heads)

    def _worst_loss_db(self, terminals: Contact, length_m: float, load_ohm: float | None) -> float:
        """The most that any cable considered loses; an unknown loss counts as none, as in the examination."""
        key = (terminals, length_m, load_ohm)
        if key not in self._losses:
            builds = (build for out in self._outs for build in self._maker.speaker(out, terminals, length_m))
            losses = (self._cables.loss_db(b, load_ohm) for b in builds if self._cables.allowed(b, load_ohm))
            self._losses[key] = min((loss for loss in losses if loss is not None), default=0.0)
        return self._losses[key]


def _distance_m(one: Point, other: Point) -> float:
    return math.dist((one.x_m, one.y_m, one.z_m), (other.x_m, other.y_m, other.z_m))
