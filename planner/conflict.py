"""Why there is no valid design: a smallest set of requirements that cannot hold together.

Counting comes first, because it names its reason at once. Then requirements are given up one
by one, and taken back where a design still cannot exist without them; what is left at the end
cannot hold together, and would if any one of them were given up. No objective is set, since
only existence is asked.
"""

import time
from collections.abc import Callable

from planner.allocation.bounds import limits_of
from planner.allocation.parts import Parts
from planner.allocation.solve import Verdict
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.demand.build import build_demand
from planner.demand.counting import shortage
from planner.house import House
from planner.requirements import Requirement, requirements

Tell = Callable[[str], None]


def conflict(brief: Brief, catalogue: Catalogue, house: House, seconds: float, tell: Tell) -> tuple[str, ...]:
    """The requirements in conflict, in the brief's words; a shortage of the catalogue if that is it.

    `tell` hears how far it is. Where the time does not suffice the set may hold more than it
    needs to, and says so.
    """
    tell("finding what cannot hold together")
    counted = shortage(brief, catalogue, house)
    return counted or _irreducible(brief, catalogue, house, time.monotonic() + seconds, tell)


def _irreducible(brief: Brief, catalogue: Catalogue, house: House, deadline: float, tell: Tell) -> tuple[str, ...]:
    """Requirements given up from the last to the first, so that the limits are blamed before the layout is."""
    everything = requirements(brief)
    needed = list(everything)
    settled = True
    for number, requirement in enumerate(reversed(everything), 1):
        tell(f"finding what cannot hold together: {number} of {len(everything)} requirements")
        fewer = [r for r in needed if r is not requirement]
        relaxed = _without(brief, [r for r in everything if r not in fewer])
        exists = _exists(relaxed, catalogue, house, deadline - time.monotonic())
        settled = settled and exists is not None
        if exists is False:
            needed = fewer
    if not needed:
        return ("the catalogue has no processor that can be bought, connected and paid for",)
    more = () if settled else ("(time ran out: not all of these may be needed for the conflict)",)
    return (*(r.sentence for r in needed), *more)


def _without(brief: Brief, dropped: list[Requirement]) -> Brief:
    for requirement in dropped:
        brief = requirement.without(brief)
    return brief


def _exists(brief: Brief, catalogue: Catalogue, house: House, seconds: float) -> bool | None:
    """Whether a design exists; None where time ran out first."""
    demand = build_demand(brief, catalogue, house)
    if not demand.possible:
        return False
    verdict = Parts(demand).exists(limits_of(brief), seconds).verdict
    return None if verdict is Verdict.UNKNOWN else verdict is not Verdict.NONE
