"""The two oracles, written in different ways, agree on tiny instances."""

from random import Random

import pytest

from tests.optimum.campaign import oracle_differences
from tests.optimum.seeds import TINY, TINY_INFEASIBLE
from tests.oracle.instances import seeded, tiny


@pytest.mark.parametrize("seed", [*TINY, *TINY_INFEASIBLE])
def test_brute_force_and_programme_agree(seed: int) -> None:
    assert oracle_differences(seeded(tiny, seed), Random(seed)) == []
