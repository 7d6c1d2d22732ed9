"""Line isolators as a choice (R17): in which links they may stand, and which of them.

Offered only where earth loops are limited or weighed, and only where one breaks a loop for
certain (see `planner.allocation.earths`): before something that has a protective earth and no
other shield that goes on from it, that is an amplifier, a loudspeaker, or a subwoofer outside a
daisy chain; and before a DSP unit that has one, where the processor has one too. One that would
convert where nothing need be converted is left out, as is one by whose loss or ceiling a level
that the brief tells apart would fall.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from planner.brief.records import Brief, Measure
from planner.catalogue.records import Catalogue, Isolator
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.line_levels import least
from planner.demand.line_reach import Insertion
from planner.demand.shelf import Shelf
from planner.design import LeadBuild


@dataclass(frozen=True, slots=True)
class Isolated:
    """An isolator in a link, and the lead from there to the sink."""

    sku: str
    beyond: LeadBuild


def loops_matter(brief: Brief) -> bool:
    """Whether a brief limits or weighs earth loops (M7)."""
    return brief.limits.most_earth_loops is not None or Measure.EARTH_LOOPS in brief.measures


def isolators_offered(brief: Brief, catalogue: Catalogue, shelf: Shelf) -> tuple[Isolator, ...]:
    """The isolators that a brief has a use for, and can have."""
    return tuple(i for i in catalogue.isolators if shelf.usable(i.sku)) if loops_matter(brief) else ()


class Isolation:
    """Which links of one brief may have an isolator."""

    def __init__(self, brief: Brief, catalogue: Catalogue, shelf: Shelf, kinds: Kinds) -> None:
        self._isolators = isolators_offered(brief, catalogue, shelf)
        self._worst = _worst_of(self._isolators)
        self._balanced_only, self._kinds = brief.limits.balanced_only, kinds

    @property
    def offered(self) -> bool:
        """Whether there is any choice of isolators at all."""
        return bool(self._isolators)

    def between(self, source: Kind, sink: Kind) -> tuple[Isolator, ...]:
        """The isolators that fit between two kinds of jack."""
        return tuple(isolator for isolator in self._isolators if self._fits(isolator, source, sink))

    def _fits(self, isolator: Isolator, source: Kind, sink: Kind) -> bool:
        way = (source.balanced, isolator.input_balanced, isolator.output_balanced, sink.balanced)
        if sum(one is not other for one, other in pairwise(way)) > (source.balanced is not sink.balanced):
            return False
        if self._balanced_only and not (isolator.input_balanced and isolator.output_balanced):
            return False
        return self._kinds.bears(sink, _insertion(isolator), self._worst)


def _insertion(isolator: Isolator) -> Insertion:
    return Insertion(isolator.loss_db, isolator.max_level_dbu)


def _worst_of(isolators: Iterable[Isolator]) -> Insertion:
    """The greatest loss and the lowest ceiling of all: one of them may stand on the same way."""
    every = [_insertion(isolator) for isolator in isolators]
    ceiling_dbu = least(each.ceiling_dbu for each in every)
    return Insertion(max((each.loss_db for each in every), default=0.0), ceiling_dbu)
