"""Sums for the model, always as expressions: an empty sum is the constant zero."""

from collections.abc import Iterable

from ortools.sat.python import cp_model

Expr = cp_model.LinearExpr


def total(terms: Iterable[Expr | int]) -> Expr:
    """The sum of expressions."""
    return Expr.sum(list(terms))


def weighted(pairs: Iterable[tuple[int, Expr]]) -> Expr:
    """The sum of counts times expressions; pairs of weight zero are left out."""
    return Expr.sum([weight * expression for weight, expression in pairs if weight])
