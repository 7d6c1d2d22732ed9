"""The brief's subwoofers as sources: where each stands, of which model, and what that model can do."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.brief.records import Brief, Point, SubwooferSet
from planner.catalogue.records import Catalogue, Subwoofer


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
    def name(self) -> str:
        """The set's name, with a number from 1 for its position."""
        return f"{self.set_name} {self.position_index + 1}"


def placed_subwoofers(brief: Brief, catalogue: Catalogue) -> tuple[PlacedSubwoofer, ...]:
    """Every position of every set: first those that are used, then those left to choose from."""
    everything = tuple(_placed(brief, catalogue))
    return (*(one for one in everything if one.used), *(one for one in everything if not one.used))


def _placed(brief: Brief, catalogue: Catalogue) -> Iterator[PlacedSubwoofer]:
    for n, group in enumerate(brief.subwoofers):
        model = _model(group, catalogue)
        for m, position in enumerate(group.positions):
            yield PlacedSubwoofer(
                set_name=group.name,
                set_index=n,
                position_index=m,
                position=position,
                used=m < group.most,
                model=model.sku if model else None,
                low_corner_hz=model.low_corner_hz if model else None,
                max_spl_db=model.max_spl_db if model else None,
            )


def _model(group: SubwooferSet, catalogue: Catalogue) -> Subwoofer | None:
    """The model of a set, where the brief fixes it."""
    if len(group.candidates) != 1:
        return None
    return next((one for one in catalogue.subwoofers if one.sku == group.candidates[0]), None)
