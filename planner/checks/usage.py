"""How many of each sku a design takes, cut leads counted in pairs of tails."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from planner.checks.case import Case
from planner.design import LeadMethod


@dataclass(frozen=True, kw_only=True, slots=True)
class Usage:
    """What a design takes: whole pieces by sku, and tails cut from leads as (end a, end b)."""

    pieces: Mapping[str, int]
    tails: Mapping[str, tuple[int, int]]

    def of(self, sku: str) -> int:
        """How many must be had. A lead yields one tail of each end, so the larger number counts."""
        return self.pieces.get(sku, 0) + max(self.tails.get(sku, (0, 0)))

    @property
    def skus(self) -> tuple[str, ...]:
        """Every sku in use, sorted."""
        return tuple(sorted({*self.pieces, *self.tails}))


def usage(case: Case) -> Usage:
    """Count what units and leads take."""
    pieces = Counter(unit.sku for unit in case.design.units)
    tails: dict[str, tuple[int, int]] = {}
    for connection in case.design.connections:
        for part in connection.lead.parts:
            if connection.lead.method is LeadMethod.CUT:
                a, b = tails.get(part.sku, (0, 0))
                tails[part.sku] = (a, b + 1) if connection.lead.cut_end == "b" else (a + 1, b)
            else:
                pieces[part.sku] += max(0, part.count)
    return Usage(pieces=pieces, tails=tails)
