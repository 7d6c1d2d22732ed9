"""A programme put to a general-purpose solver through MathOpt, the solvers' own settings left as they are."""

import time
from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum
from typing import Any

from ortools.math_opt.python import mathopt

from tests.oracle.linear import Programme, Sum


class Solver(StrEnum):
    """The general-purpose solvers for mixed-integer programmes that come with OR-Tools."""

    HIGHS = "highs"
    SCIP = "scip"


_TYPES = {Solver.HIGHS: mathopt.SolverType.HIGHS, Solver.SCIP: mathopt.SolverType.GSCIP}


@dataclass(frozen=True, kw_only=True, slots=True)
class Solved:
    """`value` is the least value, None where there is none; not `settled`: time ran out first.

    The seconds are those of the solver, without the time that it takes to hand the programme over.
    """

    settled: bool
    value: int | None
    clock_s: float
    cpu_s: float


def least(programme: Programme, objective: Sum, solver: Solver, time_limit_s: float) -> Solved:
    """The least value of an expression, proven. Raises AssertionError where a solver fails."""
    if any(not low <= 0 <= high for terms, low, high in programme.rows if not terms):
        return Solved(settled=True, value=None, clock_s=0.0, cpu_s=0.0)
    model, variables = _model(programme, objective)
    handed_clock, handed_cpu = time.perf_counter(), time.process_time()
    model.export_model()
    clock, cpu = time.perf_counter(), time.process_time()
    result = mathopt.solve(
        model,
        _TYPES[solver],
        params=mathopt.SolveParameters(
            time_limit=timedelta(seconds=time_limit_s), relative_gap_tolerance=0.0, absolute_gap_tolerance=0.5
        ),
    )
    clock_s = time.perf_counter() - clock - (clock - handed_clock)
    cpu_s = time.process_time() - cpu - (cpu - handed_cpu)
    reason = result.termination.reason
    if reason is mathopt.TerminationReason.OPTIMAL:
        values = result.variable_values()
        value = objective.constant + sum(c * round(values[variables[v]]) for v, c in objective.terms.items())
        return Solved(settled=True, value=value, clock_s=clock_s, cpu_s=cpu_s)
    if reason in (mathopt.TerminationReason.INFEASIBLE, mathopt.TerminationReason.INFEASIBLE_OR_UNBOUNDED):
        return Solved(settled=True, value=None, clock_s=clock_s, cpu_s=cpu_s)
    limits = (mathopt.TerminationReason.NO_SOLUTION_FOUND, mathopt.TerminationReason.FEASIBLE)
    assert reason in limits, result.termination
    return Solved(settled=False, value=None, clock_s=clock_s, cpu_s=cpu_s)


def _model(programme: Programme, objective: Sum) -> tuple[mathopt.Model, list[Any]]:
    model = mathopt.Model()
    variables = [model.add_integer_variable(lb=0.0, ub=float(upper)) for upper in programme.uppers]
    for terms, low, high in programme.rows:
        row = model.add_linear_constraint(lb=float(low), ub=float(high))
        for variable, coefficient in terms.items():
            row.set_coefficient(variables[variable], float(coefficient))
    for variable, coefficient in objective.terms.items():
        model.objective.set_linear_coefficient(variables[variable], float(coefficient))
    return model, variables
