"""The exact model of one processor: built once, it answers one set of bounds after another."""

import time
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import StrEnum
from threading import Lock

from ortools.sat.python import cp_model

from planner.allocation.bounds import Bounds
from planner.allocation.earths import earth_loops
from planner.allocation.expressions import Expr, total
from planner.allocation.margins import least_margin
from planner.allocation.measured import Measuring
from planner.allocation.purchases import Purchases
from planner.allocation.rules import add_rules
from planner.allocation.side_by_side import Recall
from planner.allocation.variables import Variables
from planner.brief.records import Measure
from planner.demand.build import Demand, ModelKey
from planner.demand.counts import Bought, ChannelUse, Claim, Counts, LinkUse
from planner.demand.flows import Mode
from planner.errors import PlannerBug
from planner.money import minor_digits

MOST_SCORE = 1 << 50

Values = tuple[int, ...]


class Verdict(StrEnum):
    """What one solve established: the least price, none exists, or nothing in the time."""

    OPTIMAL = "optimal"
    NONE = "none"
    FEASIBLE = "feasible"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Outcome:
    """The verdict, with the best counts found where there are any, and their objective value."""

    verdict: Verdict
    counts: Counts | None = None
    score: int = 0


def scale_of(demand: Demand) -> int:
    """What a minor unit weighs in a score: more than all measures together, the same for all processors."""
    return 192 + 24 * sum(len(f.members) for f in demand.feeds)


class ProcessorModel:
    """The model of a demand with one of its processors, numbered `processor`, some models of its sets `left_out`.

    It is built when first asked. Each solve works on a copy. Counts are those of the whole demand.
    """

    def __init__(
        self,
        demand: Demand,
        processor: int,
        recall: Recall | None = None,
        left_out: Collection[ModelKey] = frozenset(),
    ) -> None:
        self._recall = recall or Recall()
        self._number, self._whole, self._left_out = processor, demand, left_out
        self._scale = scale_of(demand)
        self._weigh_joints = Measure.JOINTS in demand.brief.measures
        self._building = Lock()
        self._built = False

    def cheapest(self, bounds: Bounds, seconds: float, *, floor: int, below: int) -> Outcome:
        """The least score within bounds, where it is less than `below`; NONE where it is not.

        `floor` is a score already proven to be out of reach from below.
        """
        return self._cheapest_of(self._bounded(bounds), seconds, floor=floor, below=below)

    def _cheapest_of(
        self, model: cp_model.CpModel, seconds: float, *, floor: int, below: int, discount: Expr | int = 0
    ) -> Outcome:
        """The least score of a bounded model; `discount` is taken off the price before tax."""
        bonus = self._measured.independent + self._measured.spare + self._margin
        penalty = self._measured.lost + self._measured.conversions + self._joints + self._loops
        # what is known of the score is the range of a variable: as constraints it would fill the relaxation
        score = model.new_int_var(floor, below - 1, "score")
        model.add(score == self._scale * (self._subtotal - discount) + penalty - bonus)
        model.minimize(score)
        return self._run(model, seconds)

    def exists(self, bounds: Bounds, seconds: float) -> Outcome:
        """Whether any design is within bounds, without an objective."""
        return self._run(self._bounded(bounds), seconds)

    def _modelled(self) -> Demand:
        """The part of the demand that the model is of."""
        self._part = self._whole.with_processor(self._whole.processors[self._number])
        return self._part.without(self._left_out)

    def _build(self) -> None:
        """Variables, rules, price and measures."""
        self._fill(cp_model.CpModel(), Purchases)
        self._limit_budget()

    def _fill(self, model: cp_model.CpModel, purchases: type[Purchases]) -> None:
        """All but the budget, in a model that may hold others too."""
        demand = self._demand = self._modelled()
        self._model = model
        self._v = Variables(model, demand)
        add_rules(model, self._v)
        self._purchases = purchases(model, self._v, self._weigh_joints)
        self._subtotal = self._purchases.subtotal()
        self._measured = Measuring(model, self._v).measured(self._weigh_joints)
        self._joints = self._measured.joints + self._purchases.open_joints()
        weighed, limits = demand.brief.measures, demand.brief.limits
        self._count_loops = Measure.EARTH_LOOPS in weighed or limits.most_earth_loops is not None
        self._loops = earth_loops(model, self._v, self._purchases) if self._count_loops else total(())
        self._weigh_margin = Measure.LEAST_MARGIN in weighed
        self._margin = least_margin(model, self._v) if self._weigh_margin else total(())

    def _bounded(self, bounds: Bounds) -> cp_model.CpModel:
        with self._building:
            if not self._built:
                self._build()
                self._built = True
        model = self._model.clone()
        self._bound(model, bounds)
        return model

    def _bound(self, model: cp_model.CpModel, bounds: Bounds) -> None:
        """Adds what bounds ask for to a model, or to a copy of it."""
        model.add(self._measured.independent >= bounds.independent)
        model.add(self._measured.groups >= bounds.groups)
        model.add(self._measured.spare >= bounds.spare)
        if bounds.lost is not None:
            model.add(self._measured.lost <= bounds.lost)
        if bounds.conversions is not None:
            model.add(self._measured.conversions <= bounds.conversions)
        if bounds.joints is not None:
            model.add(self._joints <= bounds.joints)
        if bounds.subwoofers:
            bass = {load.name for load in self._demand.sets if load.bass}
            present = self._v.present.items()
            model.add(total(there for member, there in present if member[0] in bass) >= bounds.subwoofers)
        self._bound_physics(model, bounds)
        if bounds.output_each:
            for flow, n in zip(self._demand.feed_flows, self._v.feed, strict=True):
                if flow.feed.bass and (flow.unit is not None or flow.mode is not Mode.ALONE):
                    model.add(n == 0)

    def _bound_physics(self, model: cp_model.CpModel, bounds: Bounds) -> None:
        """M7 and M8."""
        if bounds.loops is not None:
            model.add(self._loops <= bounds.loops)
        if bounds.margin is not None:
            model.add(self._margin >= bounds.margin)

    def _limit_budget(self) -> None:
        budget = self._demand.brief.limits.budget
        if budget is not None:
            whole = int(budget.scaleb(minor_digits(self._demand.prices.currency)))
            self._model.add(self._subtotal <= self._demand.prices.greatest_subtotal(whole))

    def _run(self, model: cp_model.CpModel, seconds: float) -> Outcome:
        """One solve, and where that gives up a more thorough one."""
        started = time.monotonic()
        for solver in (quick_solver_of(seconds), solver_of(seconds)):
            if self._recall.called:
                return Outcome(Verdict.UNKNOWN)
            solver.parameters.max_time_in_seconds = max(seconds - (time.monotonic() - started), 0.01)
            with self._recall.hears(solver):
                status = solver.solve(model)
            if status not in (cp_model.FEASIBLE, cp_model.UNKNOWN):
                break
        match status:
            case cp_model.OPTIMAL:
                return Outcome(Verdict.OPTIMAL, self._counts(solver), round(solver.objective_value))
            case cp_model.FEASIBLE:
                return Outcome(Verdict.FEASIBLE, self._counts(solver), round(solver.objective_value))
            case cp_model.INFEASIBLE:
                return Outcome(Verdict.NONE)
            case cp_model.UNKNOWN:
                return Outcome(Verdict.UNKNOWN)
        raise PlannerBug(f"the solver refused the model: {model.validate()}")

    def _counts(self, solver: cp_model.CpSolver) -> Counts:
        v, value, purchases, demand = self._v, solver.value, self._purchases, self._demand

        def values(flows: Sequence[object], modelled: Sequence[object], counts: Sequence[cp_model.IntVar]) -> Values:
            counted = {id(flow): value(n) for flow, n in zip(modelled, counts, strict=True)}
            return tuple(counted.get(id(flow), 0) for flow in flows)

        return Counts(
            claim=self._claim(solver),
            processor=self._number,
            present=tuple(key for key, there in v.present.items() if value(there)),
            feed=values(self._part.feed_flows, demand.feed_flows, v.feed),
            drive=values(self._part.drive_flows, demand.drive_flows, v.drive),
            amplifier_in=tuple(value(n) for n in v.amplifier_in),
            dsp_in=values(self._part.dsp_flows, demand.dsp_flows, v.dsp_in),
            split=values(self._part.split_flows, demand.split_flows, v.split),
            chain=values(self._part.chains, demand.chains, v.chain),
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
            loops=value(self._loops) if self._count_loops else None,
            margin=value(self._margin) if self._weigh_margin else None,
        )


def quick_solver_of(seconds: float) -> cp_model.CpSolver:
    """As `solver_of`, for the first try: without cuts, which cost small models more than they save.

    It gives up after so much work, the same on any machine, that cuts are worth their while.
    """
    solver = solver_of(seconds)
    solver.parameters.cut_level = 0
    solver.parameters.max_deterministic_time = 0.5
    return solver


def solver_of(seconds: float) -> cp_model.CpSolver:
    """A solver as these models want it: one worker, a fixed seed, and a limit of time."""
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = max(seconds, 0.01)
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    # Ctrl-C belongs to Python: the solver's own handler, when left on, ends the process with an abort
    solver.parameters.catch_sigint_signal = False
    # the linear relaxation proves prices here; for models this small the rest costs more than it saves
    solver.parameters.linearization_level = 2
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.symmetry_level = 0
    solver.parameters.max_presolve_iterations = 1
    solver.parameters.use_sat_inprocessing = False
    solver.parameters.find_big_linear_overlap = False
    return solver
