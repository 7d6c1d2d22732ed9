"""The brief's subwoofers as sources: where each stands, of which model, and what that model can do."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.brief.records import Brief, Point, SubwooferSet
from planner.catalogue.records import Catalogue, Subwoofer
from planner.design import Design, UnitKind
from planner.placement import Member


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacedSubwoofer:
    """A position for a subwoofer. `used`: one of the brief's most, in its order; else only to choose from.

    `low_corner_hz` and `max_spl_db` are None where the brief leaves the model open, or the catalogue
    does not say.
    """

    set_name: str
    set_index: int
    position_index: int
    position: Point
    used: bool
    model: str | None
    low_corner_hz: float | None
    max_spl_db: float | None

    @property
    def member(self) -> Member:
        """Its place in the brief."""
        return self.set_name, self.position_index

    @property
    def name(self) -> str:
        """The set's name, with a number from 1 for its position."""
        return f"{self.set_name} {self.position_index + 1}"


def placed_subwoofers(brief: Brief, catalogue: Catalogue) -> tuple[PlacedSubwoofer, ...]:
    """Every position of every set: first those that are used, then those left to choose from."""
    everything = tuple(_placed(brief, catalogue))
    return (*(one for one in everything if one.used), *(one for one in everything if not one.used))


def subwoofers_in(design: Design, brief: Brief, catalogue: Catalogue) -> tuple[PlacedSubwoofer, ...]:
    """Those that a design has, of the models that it chose, in the order of the brief."""
    sku_by_member = {unit.member: unit.sku for unit in design.units if unit.kind is UnitKind.SUBWOOFER}
    record_by_sku = {one.sku: one for one in catalogue.subwoofers}
    return tuple(
        _one(group, n, m, record_by_sku.get(sku_by_member[group.name, m]), used=True)
        for n, group in enumerate(brief.subwoofers)
        for m in range(len(group.positions))
        if (group.name, m) in sku_by_member
    )


def _placed(brief: Brief, catalogue: Catalogue) -> Iterator[PlacedSubwoofer]:
    for n, group in enumerate(brief.subwoofers):
        model = _model(group, catalogue)
        for m in range(len(group.positions)):
            yield _one(group, n, m, model, used=m < group.most)


def _one(group: SubwooferSet, set_index: int, index: int, model: Subwoofer | None, *, used: bool) -> PlacedSubwoofer:
    return PlacedSubwoofer(
        set_name=group.name,
        set_index=set_index,
        position_index=index,
        position=group.positions[index],
        used=used,
        model=model.sku if model else None,
        low_corner_hz=model.low_corner_hz if model else None,
        max_spl_db=model.max_spl_db if model else None,
    )


def _model(group: SubwooferSet, catalogue: Catalogue) -> Subwoofer | None:
    """The model of a set, where the brief fixes it."""
    if len(group.candidates) != 1:
        return None
    return next((one for one in catalogue.subwoofers if one.sku == group.candidates[0]), None)
