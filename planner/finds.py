"""The designs that a search finds, each assembled and examined once."""

from collections.abc import Callable

from planner.assembly.assemble import assemble
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.demand.build import Demand
from planner.demand.counts import Counts
from planner.design import Design
from planner.physics import Examination, examine


class Finds:
    """Designs by their counts. `brief` is the one that they must answer, where the demand was built for less."""

    def __init__(
        self, demand: Demand, brief: Brief, catalogue: Catalogue, met: Callable[[Design], None] = lambda design: None
    ) -> None:
        self.demand, self.brief, self.catalogue = demand, brief, catalogue
        self._met = met
        self._known: dict[Counts, tuple[Design, Examination]] = {}

    def of(self, counts: Counts) -> tuple[Design, Examination]:
        """The design and what it will do; `met` sees it when it is met first."""
        if counts not in self._known:
            design = assemble(self.demand, counts, self.catalogue)
            self._met(design)
            self._known[counts] = design, examine(design, self.brief, self.catalogue)
        return self._known[counts]
