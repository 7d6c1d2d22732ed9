"""The optimum by mixed-integer programming: one programme a scenario, the least of them all.

Written from "How the rules are read" in DEVELOPERS.md, one variable a physical choice, with
no thought for speed. `tests.oracle.scope` says what it does not take on.
"""

from tests.oracle.formulation import Formulation
from tests.oracle.instance import UNBOUNDED, Bounds, Instance
from tests.oracle.leads import Leads
from tests.oracle.scenario import scenarios
from tests.oracle.scope import assert_in_scope
from tests.oracle.terms import with_tax, within_budget


class Cheapest:
    """Least prices of one instance under bounds; the programmes are written once."""

    def __init__(self, instance: Instance) -> None:
        assert_in_scope(instance)
        self._instance = instance
        leads = Leads(instance)
        self._formulations = [Formulation(instance, scenario, leads) for scenario in scenarios(instance)]

    def price_minor(self, bounds: Bounds = UNBOUNDED) -> int | None:
        """The least total price with tax in minor units; None where no design exists."""
        best: int | None = None
        for formulation in self._formulations:
            subtotal = formulation.least_subtotal(bounds, below=best)
            best = best if subtotal is None else subtotal
        if best is None:
            return None
        price = with_tax(self._instance, best)
        return price if within_budget(self._instance, price) else None
