"""What two designs differ in, unit by unit of the same article."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.catalogue.records import Catalogue
from planner.design import Design, UnitKind

BOXES = (UnitKind.PROCESSOR, UnitKind.CARD, UnitKind.DSP, UnitKind.AMPLIFIER, UnitKind.SPLITTER, UnitKind.ISOLATOR)
"""What stands between the brief and its loudspeakers."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GearLine:
    """So many units of one article."""

    sku: str
    kind: UnitKind
    count: int


@dataclass(frozen=True, kw_only=True, slots=True)
class GearChange:
    """What comes in and what goes out between one design and another, in the order of the kinds."""

    added: tuple[GearLine, ...]
    removed: tuple[GearLine, ...]

    @property
    def processor(self) -> bool:
        """Whether another processor, or another set of cards, does the work."""
        return any(line.kind in (UnitKind.PROCESSOR, UnitKind.CARD) for line in (*self.added, *self.removed))


def gear(design: Design, kinds: Iterable[UnitKind] = tuple(UnitKind)) -> tuple[GearLine, ...]:
    """The units of a design by article, in the order of the kinds."""
    wanted = list(kinds)
    counts = Counter((unit.kind, unit.sku) for unit in design.units if unit.kind in wanted)
    order = sorted(counts, key=lambda entry: (wanted.index(entry[0]), entry[1]))
    return tuple(GearLine(sku=sku, kind=kind, count=counts[kind, sku]) for kind, sku in order)


def gear_change(before: Design, after: Design, kinds: Iterable[UnitKind] = tuple(UnitKind)) -> GearChange:
    """What is there more and fewer of after than before."""
    kinds = tuple(kinds)
    return GearChange(added=_more(after, before, kinds), removed=_more(before, after, kinds))


def names(catalogue: Catalogue) -> Mapping[str, str]:
    """The name of every article by its sku."""
    return {item.sku: item.name for item in catalogue.items()}


def gear_words(lines: Iterable[GearLine], name_by_sku: Mapping[str, str]) -> str:
    """The lines as a sum: "2 × Eight-channel amplifier + Splitter"."""
    parts = (f"{line.count} × {name_by_sku[line.sku]}" if line.count > 1 else name_by_sku[line.sku] for line in lines)
    return " + ".join(parts)


def _more(one: Design, other: Design, kinds: tuple[UnitKind, ...]) -> tuple[GearLine, ...]:
    there = {(line.kind, line.sku): line.count for line in gear(other, kinds)}
    lines = ((line, line.count - there.get((line.kind, line.sku), 0)) for line in gear(one, kinds))
    return tuple(GearLine(sku=line.sku, kind=line.kind, count=more) for line, more in lines if more > 0)
