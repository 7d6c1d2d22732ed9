"""Designs as nothing but a price and measures, and stand-ins for the solver that know them all."""

from collections.abc import Callable, Iterable
from concurrent.futures import Executor
from dataclasses import dataclass, field

from hypothesis import strategies as st

from planner.allocation.bounds import Bounds, Point, bounds_at, claim_point
from planner.allocation.parts import Attempt
from planner.allocation.side_by_side import Recall
from planner.allocation.solve import Outcome, Verdict
from planner.demand.counts import Claim, Counts

SCALE = 1000
CEILINGS: Point = (3, 3, -1, 0, 0, 0, 3)

CLAIMS = st.builds(
    Claim,
    subtotal_minor=st.integers(1, 9),
    independent=st.integers(0, 3),
    groups=st.integers(0, 3),
    spare=st.integers(0, 3),
    lost=st.integers(1, 3),
    conversions=st.integers(0, 3),
    joints=st.integers(0, 3),
    loops=st.integers(0, 3),
    margin=st.integers(-1, 3),
)


def counts(claim: Claim) -> Counts:
    """Counts that claim these measures and hold nothing else."""
    return Counts(
        claim=claim, processor=0, present=(), feed=(), drive=(), amplifier_in=(), dsp_in=(), split=(), chain=(),
        units=(), amplifiers=(), amplifier_uses=(), links=(), bought=(),
    )  # fmt: skip


def score(claim: Claim) -> int:
    """The objective of the models: price first, then every measure."""
    return SCALE * claim.subtotal_minor - sum(claim_point(claim))


def within(claim: Claim, bounds: Bounds) -> bool:
    """Whether a design meets bounds, read one by one."""
    return (
        claim.independent >= bounds.independent
        and claim.groups >= bounds.groups
        and claim.spare >= bounds.spare
        and (bounds.lost is None or claim.lost <= bounds.lost)
        and (bounds.conversions is None or claim.conversions <= bounds.conversions)
        and (bounds.joints is None or (claim.joints or 0) <= bounds.joints)
        and (bounds.loops is None or (claim.loops or 0) <= bounds.loops)
        and (bounds.margin is None or (claim.margin or 0) >= bounds.margin)
    )


def best(claims: Iterable[Claim], bounds: Bounds) -> Claim | None:
    """The design of the least score within bounds."""
    return min((claim for claim in claims if within(claim, bounds)), key=score, default=None)


class AllKnown:
    """Stands in for the processors: it knows all designs, and runs out of time after `solves` attempts."""

    def __init__(self, claims: Iterable[Claim], solves: int = 10**6) -> None:
        self._claims, self._left = tuple(claims), solves
        self.asked: list[Point] = []
        self.recall = Recall()

    def prime(self, bounds: Bounds, seconds: float, pool: Executor, beat: Callable[[int], None]) -> int:
        """Nothing to learn beforehand."""
        return 0

    def attempt(self, bounds: Bounds, seconds: float, known: tuple[int, Counts] | None = None) -> Attempt:
        """The best design within bounds."""
        self.asked.append(bounds.point())
        found = best(self._claims, bounds)
        if self._left == 0:
            unproven = max((c for c in self._claims if within(c, bounds)), key=score, default=None)
            if unproven is None:
                return Attempt(Outcome(Verdict.UNKNOWN), solves=1)
            return Attempt(Outcome(Verdict.FEASIBLE, counts(unproven), score(unproven)), solves=1)
        self._left -= 1
        if found is None:
            return Attempt(Outcome(Verdict.NONE), solves=1)
        return Attempt(Outcome(Verdict.OPTIMAL, counts(found), score(found)), solves=1)

    def remember(self, attempt: Attempt) -> None:
        """Nothing is learnt."""


@dataclass
class OneKnown:
    """Stands in for the model of one processor, and notes what it is asked."""

    claims: tuple[Claim, ...]
    asked: list[tuple[Point, int, int]] = field(default_factory=list)
    out_of_time: Callable[[Bounds], bool] = lambda bounds: False

    @property
    def least_score(self) -> int:
        """A score below all of its designs."""
        return min((score(claim) for claim in self.claims), default=SCALE) - 5

    def cheapest(self, bounds: Bounds, seconds: float, *, floor: int, below: int) -> Outcome:
        """The best design within bounds if its score is less than `below`."""
        self.asked.append((bounds.point(), floor, below))
        found = best(self.claims, bounds)
        if self.out_of_time(bounds):
            return Outcome(Verdict.UNKNOWN)
        if found is None or score(found) >= below:
            return Outcome(Verdict.NONE, score=below)
        assert score(found) >= floor, "a floor that was proven is undercut"
        return Outcome(Verdict.OPTIMAL, counts(found), score(found))

    def exists(self, bounds: Bounds, seconds: float) -> Outcome:
        """Whether any design is within bounds."""
        if self.out_of_time(bounds):
            return Outcome(Verdict.UNKNOWN)
        return Outcome(Verdict.NONE if best(self.claims, bounds) is None else Verdict.OPTIMAL)


def all_bounds() -> st.SearchStrategy[Bounds]:
    """Bounds that some of the designs meet."""
    few, more = st.integers(-3, 0), st.integers(0, 3)
    point = st.tuples(more, more, st.integers(-3, -1), few, few, few, st.integers(-1, 3))
    return st.one_of(st.just(Bounds()), point.map(lambda p: bounds_at(p, 0)))
