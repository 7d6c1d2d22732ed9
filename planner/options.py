"""What the planner answers: options with their proof, a shortlist, or why there is none."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planner.brief.records import PhysicalLimit
from planner.design import Design, Finding, LedgerLine, Measures


class Status(StrEnum):
    """PROVEN: the whole set is exact. PARTIAL: time ran out. INFEASIBLE: no valid design."""

    PROVEN = "proven"
    PARTIAL = "partial"
    INFEASIBLE = "infeasible"


class Question(StrEnum):
    """The named questions of the shortlist."""

    CHEAPEST = "cheapest"
    OUTPUT_EACH = "cheapest_output_each"
    INDEPENDENT = "cheapest_all_independent"
    ONE_LOST = "cheapest_one_lost"
    NO_CONVERSION = "cheapest_no_conversion"
    SPARE = "cheapest_spare_wanted"
    LEAST_SPREAD = "least_spread_for_the_money"


SAME_SPREAD_DB = 0.25
"""Predicted spreads no further apart than this are as good as one another. Common practice, no published source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Quote:
    """The price of a design in minor units of `currency`; tax is on the subtotal."""

    currency: str
    gear_minor: int
    labour_minor: int
    subtotal_minor: int
    tax_minor: int
    total_minor: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Option:
    """One valid design. `proven`: none is cheaper with measures as good as these."""

    id: str
    design: Design
    measures: Measures
    quote: Quote
    ledger: tuple[LedgerLine, ...]
    findings: tuple[Finding, ...]
    proven: bool
    drives: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class Answer:
    """The answer to one shortlist question: an option's id, or why there is none."""

    question: Question
    option_id: str | None
    reason: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Relaxation:
    """A change of the brief, in words, that leaves a valid design, what it gives up, and the least price then.

    The price is with tax; None: a design exists, and time ran out before its least price was known.
    """

    change: str
    price_minor: int | None
    gives_up: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Result:
    """Everything that one run found. `options` are sorted by price, then by the rest.

    `unproven` says in sentences what was not settled when time ran out. With status
    INFEASIBLE, `conflict` is the smallest set of requirements that cannot hold together, and
    `relaxations` are single changes that mend it, what gives up least first, where they were asked for.
    `held` are the limits of R11 to R15 that the search was held to; see `planner.limits_met`.
    """

    status: Status
    currency: str
    seconds: float
    options: tuple[Option, ...] = ()
    shortlist: tuple[Answer, ...] = ()
    conflict: tuple[str, ...] = ()
    unproven: tuple[str, ...] = ()
    relaxations: tuple[Relaxation, ...] = ()
    held: frozenset[PhysicalLimit] = frozenset()
