"""What several designs use of every sku, where they buy together: nothing is priced here."""

from planner.allocation.expressions import Expr, total
from planner.allocation.purchases import Purchases
from planner.house import Task


class SharedPurchases(Purchases):
    """Labour as the subtotal, and of every sku how many the design uses, in `needed`."""

    @property
    def needed(self) -> dict[str, Expr]:
        """How many of each sku the design uses; to be asked after the subtotal."""
        return {sku: total(uses) for sku, uses in sorted(self._uses.items())}

    def used(self, sku: str) -> Expr:
        """How many of a sku the design uses."""
        return total(self._uses.get(sku, ()))

    def _processors(self) -> None:
        prices = self._demand.prices
        for choice, chosen in zip(self._demand.processors, self._v.processor, strict=True):
            fitting = prices.labour_minor(Task.PROCESSOR) + len(choice.cards) * prices.labour_minor(Task.CARD)
            self._fixed.append(fitting * chosen)
            for sku in (choice.sku, *choice.cards):
                self._uses[sku].append(1 * chosen)

    def _acquire(self, sku: str, used: Expr) -> None:
        """Bought elsewhere."""
