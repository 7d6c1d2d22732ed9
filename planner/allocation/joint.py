"""Several designs in one exact model, since what is bought for one may serve another.

- *Stages*: one system grows. What an earlier stage has bought a later one may use; what is paid
  later counts for less.
- *Rooms*: several systems in one order. What all use of an article is bought together, so that
  stock, least orders and breaks for quantity count once.

No price is known before all is decided: the demands are built with a shared shelf, and keep
what is dominated.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from planner.allocation.bounds import Bounds
from planner.allocation.expressions import Expr, total
from planner.allocation.shared_purchases import SharedPurchases
from planner.allocation.side_by_side import Recall
from planner.allocation.solve import Verdict, solver_of
from planner.allocation.whole import WholeModel
from planner.catalogue.records import Offer
from planner.demand.build import Demand
from planner.demand.counts import Bought, Counts
from planner.demand.shelf import Shelf
from planner.errors import PlannerBug
from planner.money import minor_digits

WEIGHT_ONE = 10_000
"""What a minor unit paid today weighs; later ones weigh a whole number no greater."""


@dataclass(frozen=True, slots=True)
class Part:
    """One design wanted: its demand, bounds on its measures, and what a minor unit paid for it weighs."""

    demand: Demand
    bounds: Bounds
    weight: int = WEIGHT_ONE


@dataclass(frozen=True, slots=True)
class JointOutcome:
    """The verdict, and the counts of each part; `bought` are purchases that belong to no part alone."""

    verdict: Verdict
    counts: tuple[Counts, ...] = ()
    bought: tuple[Bought, ...] = ()


class _PartModel(WholeModel):
    """One part, built into a model that it shares with the others; its subtotal is its labour alone."""

    def __init__(self, part: Part, model: cp_model.CpModel) -> None:
        super().__init__(part.demand)
        self._fill(model, SharedPurchases)
        self._bound(model, part.bounds)

    @property
    def needed(self) -> dict[str, Expr]:
        """How many of each sku the design uses."""
        assert isinstance(self._purchases, SharedPurchases)
        return self._purchases.needed

    @property
    def labour(self) -> Expr:
        """The labour before tax."""
        return self._subtotal

    def counts(self, solver: cp_model.CpSolver, bought: Sequence[Bought], goods_minor: int) -> Counts:
        """The part's counts, with what is bought for it and what that costs."""
        counts = self._counts(solver)
        claim = replace(counts.claim, subtotal_minor=counts.claim.subtotal_minor + goods_minor)
        return replace(counts, bought=tuple(bought), claim=claim)


@dataclass(frozen=True, slots=True)
class _Purchase:
    """So many of one offer, bought for one part or for all."""

    sku: str
    offer: Offer
    unit_minor: int
    count: cp_model.IntVar


class _Order:
    """What is bought at one time: a count for every offer of every sku that is wanted."""

    def __init__(self, model: cp_model.CpModel, skus: Sequence[str], shelf: Shelf, name: str) -> None:
        self._model, self.lines = model, [line for sku in skus for line in self._offers(model, sku, shelf, name)]

    def _offers(self, model: cp_model.CpModel, sku: str, shelf: Shelf, name: str) -> list[_Purchase]:
        lines = []
        for price, offer in shelf.offers(sku):
            most = 4096 if offer.stock is None else offer.stock
            count = model.new_int_var(0, most, f"buy {sku} of {offer.supplier} for {name}")
            if offer.least_order > 1:
                some = model.new_bool_var(f"any {sku} of {offer.supplier} for {name}")
                model.add(count >= offer.least_order).only_enforce_if(some)
                model.add(count == 0).only_enforce_if(some.negated())
            lines.append(_Purchase(sku, offer, price, count))
        return lines

    def of(self, sku: str) -> Expr:
        """How many are bought of a sku."""
        return total(line.count for line in self.lines if line.sku == sku)

    def has_terms(self, sku: str) -> bool:
        """Whether the price of a sku depends on how many are bought."""
        lines = [line for line in self.lines if line.sku == sku]
        return len(lines) > 1 or any(line.offer.least_order > 1 for line in lines)

    @property
    def cost(self) -> Expr:
        """What the order costs before tax."""
        return total(line.unit_minor * line.count for line in self.lines)

    def bought(self, solver: cp_model.CpSolver) -> tuple[Bought, ...]:
        """The lines of which any is bought."""
        return tuple(
            Bought(line.sku, line.offer.supplier, line.unit_minor, solver.value(line.count))
            for line in self.lines
            if solver.value(line.count)
        )


def cheapest_stages(parts: Sequence[Part], seconds: float, recall: Recall) -> JointOutcome:
    """The least weighed price of all stages, first to last; what a stage owns, each later one has too.

    The first stage's budget holds for the first stage.
    """
    model = cp_model.CpModel()
    models = [_PartModel(part, model) for part in parts]
    skus = sorted({sku for built in models for sku in built.needed})
    orders = [_Order(model, skus, part.demand.shelf, str(n)) for n, part in enumerate(parts)]
    for stage, built in enumerate(models):
        for sku, used in built.needed.items():
            had = parts[0].demand.shelf.owned(sku)
            model.add(used <= had + total(order.of(sku) for order in orders[: stage + 1]))
            if not orders[stage].has_terms(sku):  # nothing is gained by having more of it than is used
                model.add(orders[stage].of(sku) <= used)
    first = parts[0].demand
    budget = first.brief.limits.budget
    if budget is not None:
        whole = int(budget.scaleb(minor_digits(first.prices.currency)))
        model.add(models[0].labour + orders[0].cost <= first.prices.greatest_subtotal(whole))
    model.minimize(
        total(
            part.weight * (built.labour + order.cost) for part, built, order in zip(parts, models, orders, strict=True)
        )
    )
    solver = solver_of(seconds)
    with recall.hears(solver):
        verdict = _verdict(solver.solve(model), model)
    if verdict is not Verdict.OPTIMAL:
        return JointOutcome(verdict)
    return JointOutcome(
        verdict,
        tuple(
            built.counts(solver, order.bought(solver), solver.value(order.cost))
            for built, order in zip(models, orders, strict=True)
        ),
    )


def cheapest_order(
    parts: Sequence[Part], owned: Mapping[str, int], seconds: float, recall: Recall, *, most_minor: int | None = None
) -> JointOutcome:
    """The least price of several rooms in one order, with a shelf of owned gear that all share.

    `most_minor` bounds the price of all before tax.
    """
    model = cp_model.CpModel()
    models = [_PartModel(part, model) for part in parts]
    skus = sorted({sku for built in models for sku in built.needed})
    order = _Order(model, skus, parts[0].demand.shelf, "all")
    for sku in skus:
        used = total(built.needed[sku] for built in models if sku in built.needed)
        model.add(used <= owned.get(sku, 0) + order.of(sku))
    price = order.cost + total(built.labour for built in models)
    if most_minor is not None:
        model.add(price <= most_minor)
    model.minimize(price)
    solver = solver_of(seconds)
    with recall.hears(solver):
        verdict = _verdict(solver.solve(model), model)
    if verdict is not Verdict.OPTIMAL:
        return JointOutcome(verdict)
    return JointOutcome(verdict, tuple(built.counts(solver, (), 0) for built in models), order.bought(solver))


def _verdict(status: cp_model.CpSolverStatus, model: cp_model.CpModel) -> Verdict:
    match status:
        case cp_model.OPTIMAL:
            return Verdict.OPTIMAL
        case cp_model.INFEASIBLE:
            return Verdict.NONE
        case cp_model.FEASIBLE | cp_model.UNKNOWN:
            return Verdict.UNKNOWN
    raise PlannerBug(f"the solver refused the model: {model.validate()}")
