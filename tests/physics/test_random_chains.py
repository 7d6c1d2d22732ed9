"""Random designs: the planner's chains equal a plain recomputation, and nothing raises.

For many more of them, run `python -m tests.physics.campaign 10000`.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.physics.compared import compare, survive


@pytest.mark.parametrize("seed", range(20))
def test_chains_equal_their_recomputation(seed: int) -> None:
    compare(seed)


@given(st.integers(min_value=0, max_value=2**32))
@settings(max_examples=20)
def test_chains_of_any_seed_equal_their_recomputation(seed: int) -> None:
    compare(seed)


@given(st.integers(min_value=0, max_value=2**32))
@settings(max_examples=40)
def test_a_spoiled_design_is_answered_all_the_same(seed: int) -> None:
    survive(seed)


def test_the_random_designs_are_not_all_unknown() -> None:
    assert sum(compare(seed) for seed in range(0, 21, 3)) >= 20
