"""Limits of R11 to R15 are put into the search only where a design that it finds breaks them.

Exact: without a limit the search has more designs to choose from, so whatever it proves the
cheapest, and the examination finds to keep the limit, is the cheapest with the limit too. At the
first design that breaks one, the search begins anew with that limit in it. Most briefs never
come to that, and pay nothing for their limits. Which limits it begins with is a matter of speed only.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TypeVar

from planner.brief.records import Brief, PhysicalLimit
from planner.demand.counts import Counts
from planner.design import Severity
from planner.finds import Finds
from planner.physics import Examination

Came = TypeVar("Came")

# By the rule of the finding; a target may be missed for want of power or by the cable's loss.
_LIMITS: Mapping[str, frozenset[PhysicalLimit]] = {
    "R11": frozenset({PhysicalLimit.LEVEL}),
    "R13": frozenset({PhysicalLimit.TARGET, PhysicalLimit.CABLE}),
    "R14": frozenset({PhysicalLimit.LOAD}),
    "R15": frozenset({PhysicalLimit.DELAY}),
}


class LimitsBroken(Exception):
    """A design was found that breaks limits which the search did not hold it to."""

    def __init__(self, limits: frozenset[PhysicalLimit]) -> None:
        super().__init__(", ".join(sorted(limits)))
        self.limits = limits


def likely(brief: Brief) -> frozenset[PhysicalLimit]:
    """The limits to begin with: where a model is open, the cheapest amplifier is seldom strong enough."""
    opened = any(not load.candidates and load.target_spl_db is not None for load in brief.loudspeakers)
    return frozenset({PhysicalLimit.TARGET, PhysicalLimit.CABLE}) if opened else frozenset()


def holding(brief: Brief, limits: frozenset[PhysicalLimit]) -> Brief:
    """The brief with only these of its limits in the search."""
    return replace(brief, limits=replace(brief.limits, physical=brief.limits.physical & limits))


def met(held: frozenset[PhysicalLimit], attempt: Callable[[frozenset[PhysicalLimit]], Came]) -> Came:
    """What an attempt comes to that holds its designs to some limits, begun anew with each that one of them breaks."""
    while True:
        try:
            return attempt(held)
        except LimitsBroken as broken:
            held |= broken.limits


class LimitWatch:
    """Examines every design that a search finds against the limits left out of it."""

    def __init__(self, finds: Finds) -> None:
        self.finds = finds
        self._left_out = finds.brief.limits.physical - finds.demand.brief.limits.physical

    def __call__(self, counts: Counts) -> None:
        """Raises LimitsBroken at a design that breaks a limit left out."""
        _, examined = self.finds.of(counts)
        self.hold(examined)

    def broken(self, counts: Counts) -> bool:
        """Whether a design breaks a limit left out."""
        _, examined = self.finds.of(counts)
        return bool(self._broken(examined))

    def hold(self, examined: Examination) -> None:
        """Raises LimitsBroken where what was examined breaks a limit left out."""
        if broken := self._broken(examined):
            raise LimitsBroken(broken)

    def _broken(self, examined: Examination) -> frozenset[PhysicalLimit]:
        rules = {finding.rule for finding in examined.findings if finding.severity is Severity.INVALID}
        return frozenset(limit for rule in rules for limit in _LIMITS.get(rule, ())) & self._left_out
