"""Builds the model of a demand once, and answers one set of bounds after another."""

from dataclasses import dataclass
from enum import StrEnum

from ortools.sat.python import cp_model

from planner.allocation.bounds import Bounds
from planner.allocation.measured import Measuring
from planner.allocation.purchases import Purchases
from planner.allocation.rules import Rules
from planner.allocation.variables import Variables
from planner.brief.records import Measure
from planner.demand.build import Demand
from planner.demand.counts import Bought, ChannelUse, Claim, Counts, LinkUse
from planner.demand.flows import Mode
from planner.errors import PlannerBug
from planner.money import minor_digits


class Verdict(StrEnum):
    """What one solve established: the least price, none exists, or nothing in the time."""

    OPTIMAL = "optimal"
    NONE = "none"
    FEASIBLE = "feasible"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Outcome:
    """The verdict, with the best counts found where there are any."""

    verdict: Verdict
    counts: Counts | None = None


class AllocationModel:
    """The exact model of one demand. Building is done once; each solve works on a copy."""

    def __init__(self, demand: Demand) -> None:
        self._demand = demand
        self._model = cp_model.CpModel()
        self._v = Variables(self._model, demand)
        rules = Rules(self._model, self._v)
        rules.add_rules()
        self._weigh_joints = weigh_joints = Measure.JOINTS in demand.brief.measures
        self._purchases = Purchases(self._model, self._v, weigh_joints)
        self._subtotal = self._purchases.subtotal()
        self._measured = Measuring(self._model, self._v, rules).measured(weigh_joints)
        self._joints = self._measured.joints + self._purchases.open_joints() if weigh_joints else 0
        self._limit_budget()

    def cheapest(self, bounds: Bounds, seconds: float, *, at_least_minor: int = 0, below_minor: int | None = None) -> Outcome:
        """The least price before tax within bounds; ties prefer better measures.

        `at_least_minor` and `below_minor` are known bounds on the answer that help the search.
        """
        model = self._bounded(bounds)
        if at_least_minor:
            model.add(self._subtotal >= at_least_minor)
        if below_minor is not None:
            model.add(self._subtotal < below_minor)
        bonus = self._measured.independent + self._measured.spare
        penalty = self._measured.lost + self._measured.conversions + self._joints
        weight = 64 + 8 * len(self._demand.feeds) + 16 * sum(len(f.members) for f in self._demand.feeds)
        model.minimize(weight * self._subtotal + penalty - bonus)
        return self._run(model, seconds)

    def exists(self, bounds: Bounds, seconds: float) -> Outcome:
        """Whether any design is within bounds, without an objective."""
        return self._run(self._bounded(bounds), seconds)

    def _bounded(self, bounds: Bounds) -> cp_model.CpModel:
        model = self._model.clone()
        model.add(self._measured.independent >= bounds.independent)
        model.add(self._measured.groups >= bounds.groups)
        model.add(self._measured.spare >= bounds.spare)
        if bounds.lost is not None:
            model.add(self._measured.lost <= bounds.lost)
        if bounds.conversions is not None:
            model.add(self._measured.conversions <= bounds.conversions)
        if bounds.joints is not None:
            model.add(self._joints <= bounds.joints)
        if bounds.output_each:
            for flow, n in zip(self._demand.feed_flows, self._v.feed, strict=True):
                if flow.feed.bass and (flow.unit is not None or flow.mode is not Mode.ALONE):
                    model.add(n == 0)
        return model

    def _limit_budget(self) -> None:
        budget = self._demand.brief.limits.budget
        if budget is not None:
            whole = int(budget.scaleb(minor_digits(self._demand.prices.currency)))
            self._model.add(self._subtotal <= self._demand.prices.greatest_subtotal(whole))

    def _run(self, model: cp_model.CpModel, seconds: float) -> Outcome:
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = max(seconds, 0.01)
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        status = solver.solve(model)
        match status:
            case cp_model.OPTIMAL:
                return Outcome(Verdict.OPTIMAL, self._counts(solver))
            case cp_model.FEASIBLE:
                return Outcome(Verdict.FEASIBLE, self._counts(solver))
            case cp_model.INFEASIBLE:
                return Outcome(Verdict.NONE)
            case cp_model.UNKNOWN:
                return Outcome(Verdict.UNKNOWN)
        raise PlannerBug(f"the solver refused the model: {model.validate()}")

    def _counts(self, solver: cp_model.CpSolver) -> Counts:
        v, value, purchases = self._v, solver.value, self._purchases
        return Counts(
            claim=self._claim(solver),
            processor=next(i for i, y in enumerate(v.processor) if value(y)),
            present=tuple(key for key, there in v.present.items() if value(there)),
            feed=tuple(value(n) for n in v.feed),
            amplifier_in=tuple(value(n) for n in v.amplifier_in),
            dsp_in=tuple(value(n) for n in v.dsp_in),
            split=tuple(value(n) for n in v.split),
            chain=tuple(value(n) for n in v.chain),
            units=tuple(key for key, is_it in v.unit.items() if value(is_it)),
            amplifiers=tuple((sku, value(n)) for sku, n in v.amplifiers.items() if value(n)),
            amplifier_uses=tuple(
                ChannelUse(u.amplifier.sku, u.inlet, value(u.channels), value(u.bass_channels))
                for u in v.amplifier_uses
                if value(u.channels)
            ),
            links=tuple(
                LinkUse(choice.key, choice.bass, choice.option, value(n))
                for choice, n in purchases.link_choices.items()
                if value(n)
            ),
            bought=tuple(
                Bought(o.sku, o.offer.supplier, o.unit_minor, value(o.count))
                for o in purchases.offer_counts
                if value(o.count)
            ),
        )

    def _claim(self, solver: cp_model.CpSolver) -> Claim:
        value, measured = solver.value, self._measured
        return Claim(
            subtotal_minor=value(self._subtotal),
            independent=value(measured.independent),
            groups=value(measured.groups),
            spare=value(measured.spare),
            lost=value(measured.lost),
            conversions=value(measured.conversions),
            joints=value(self._joints) if self._weigh_joints else None,
        )
