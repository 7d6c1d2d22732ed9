"""A small way to write a mixed-integer programme down, and to put it to HiGHS through SciPy."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import inf

import numpy as np
from scipy.optimize import Bounds as VariableBounds
from scipy.optimize import LinearConstraint, milp
from scipy.sparse import csr_array


class Sum:
    """A linear expression with whole coefficients: a sum of multiples of variables and a constant."""

    __slots__ = ("constant", "terms")

    def __init__(self, terms: dict[int, int] | None = None, constant: int = 0) -> None:
        self.terms = terms or {}
        self.constant = constant

    def __add__(self, other: "Sum | int") -> "Sum":
        return total((self, other))

    def __radd__(self, other: int) -> "Sum":
        return self + other

    def __sub__(self, other: "Sum | int") -> "Sum":
        return self + -1 * other

    def __rsub__(self, other: int) -> "Sum":
        return -1 * self + other

    def __mul__(self, factor: int) -> "Sum":
        return Sum({v: factor * c for v, c in self.terms.items()}, factor * self.constant)

    __rmul__ = __mul__


def total(parts: Iterable[Sum | int]) -> Sum:
    """The sum of many expressions."""
    terms: dict[int, int] = defaultdict(int)
    constant = 0
    for part in parts:
        if isinstance(part, int):
            constant += part
            continue
        constant += part.constant
        for variable, coefficient in part.terms.items():
            terms[variable] += coefficient
    return Sum(dict(terms), constant)


class Programme:
    """Whole-numbered variables and linear constraints on them."""

    def __init__(self) -> None:
        self._uppers: list[float] = []
        self._rows: list[tuple[dict[int, int], float, float]] = []

    def binary(self) -> Sum:
        return self.whole(1)

    def whole(self, most: int | None) -> Sum:
        """A whole number from 0 to `most`."""
        self._uppers.append(inf if most is None else most)
        return Sum({len(self._uppers) - 1: 1})

    def at_most(self, left: Sum | int, right: Sum | int) -> None:
        self._add(left, right, -inf)

    def at_least(self, left: Sum | int, right: Sum | int) -> None:
        self._add(right, left, -inf)

    def equal(self, left: Sum | int, right: Sum | int) -> None:
        self._add(left, right, 0)

    @property
    def uppers(self) -> Sequence[float]:
        """The most that each variable may be, by its number; the least is 0."""
        return self._uppers

    @property
    def rows(self) -> Sequence[tuple[dict[int, int], float, float]]:
        """Each constraint: coefficients by variable, and the least and the most of their sum."""
        return self._rows

    def copy(self) -> "Programme":
        """The same variables and constraints, to which more can be added."""
        other = Programme()
        other._uppers, other._rows = list(self._uppers), list(self._rows)
        return other

    def least(self, objective: Sum) -> int | None:
        """The least value of an expression; None where the constraints cannot hold together."""
        if any(not low <= 0 <= high for terms, low, high in self._rows if not terms):
            return None
        rows = [row for row in self._rows if row[0]]
        places = [(row, variable, c) for row, (terms, _, _) in enumerate(rows) for variable, c in terms.items()]
        at, variables, coefficients = zip(*places, strict=True)
        size = len(self._uppers)
        matrix = csr_array((coefficients, (at, variables)), shape=(len(rows), size))
        costs = np.zeros(size)
        for variable, coefficient in objective.terms.items():
            costs[variable] = coefficient
        for presolve in (True, False):  # HiGHS now and then fails in its presolve, and not without
            answer = milp(
                costs,
                integrality=np.ones(size),
                bounds=VariableBounds(np.zeros(size), np.array(self._uppers)),
                constraints=LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]),
                options={"mip_rel_gap": 0.0, "presolve": presolve},
            )
            if answer.status == 2:
                return None
            if answer.status == 0:
                break
        assert answer.status == 0, answer.message
        return objective.constant + sum(c * round(float(answer.x[v])) for v, c in objective.terms.items())

    def _add(self, left: Sum | int, right: Sum | int, low: float) -> None:
        """Keeps left - right between `low` and 0; an expression without variables is checked on its own."""
        difference = total((left, -1 * right))
        terms = {variable: c for variable, c in difference.terms.items() if c}
        self._rows.append((terms, low - difference.constant, -difference.constant))
