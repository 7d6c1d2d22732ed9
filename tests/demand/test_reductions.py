"""Every reduction of the demand is exact: the model without it has the same trade-off set.

For each reduction some problems that have an answer and from which it takes something away;
`tests.demand.campaign` finds more of them.
"""

from functools import cache

import pytest

from tests.demand.campaign import sizes
from tests.demand.random_shops import Values, problem
from tests.demand.reductions import REDUCTIONS

SEEDS: dict[str, tuple[int, ...]] = {
    "leads": (60, 65, 24, 57, 222, 228, 438, 680),
    "processors": (78, 167, 233),
    "models": (24, 57, 101, 156, 222),
    "dsp units": (103, 105, 57, 200, 222),
    "amplifiers": (60, 105, 156, 222),
    "feeds": (67, 76, 101, 167, 200),
    "inlets": (60, 111, 24, 57),
    "splits": (88, 99, 123, 156, 211),
    "offers": (65, 67, 167, 211, 233),
    "outlets": (60, 80, 101, 178, 211),
    "chains": (76, 99, 134, 156),
}
CASES = [(name, seed) for name, seeds in SEEDS.items() for seed in seeds]


@cache
def reduced(seed: int) -> frozenset[Values]:
    """The answer as the planner gives it."""
    return problem(seed).answer()


def test_there_are_problems_for_every_reduction() -> None:
    assert set(SEEDS) == set(REDUCTIONS)


@pytest.mark.parametrize(("name", "seed"), CASES)
def test_the_unreduced_model_has_the_same_answer(name: str, seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    found, expected = problem(seed), reduced(seed)
    small = sizes(found)[name]
    REDUCTIONS[name].undo(monkeypatch)
    assert sizes(found)[name] > small
    assert expected
    assert found.answer() == expected
