"""Ten thousand random designs: every chain equals a recomputation that shares nothing with it, and nothing raises."""

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from planner.physics.levels import ChainLevels, chain_levels, voltage_v
from planner.physics.noise import ChainNoise, chain_noise
from tests.physics.many_chains import MOST_INPUTS, Designs, Expected, behind, chains_of, direct, random_designs

BLOCKS, DESIGNS_IN_BLOCK = 8, 1250


@pytest.mark.parametrize("block", range(BLOCKS))
def test_every_chain_of_ten_thousand_designs_equals_its_recomputation(block: int) -> None:
    designs = random_designs(seed=block, count=DESIGNS_IN_BLOCK, gaps=(0.0, 0.03)[block % 2])
    assert compared(designs, DESIGNS_IN_BLOCK) > DESIGNS_IN_BLOCK


def compared(designs: Designs, count: int) -> int:
    """Holds all chains of the designs against their recomputation; returns how many margins were known."""
    with np.errstate(divide="ignore"):
        ends = {
            **{(2, at): direct(designs, at) for at in range(MOST_INPUTS)},
            **{(4, at): behind(designs, at) for at in range(MOST_INPUTS)},
        }
    computed: dict[tuple[int, int], list[tuple[int, ChainLevels, ChainNoise]]] = {end: [] for end in ends}
    for number in range(count):
        for at, chain in chains_of(designs, number):
            levels = chain_levels(chain)
            computed[2 * len(chain.hops), at].append((number, levels, chain_noise(levels)))
    return sum(_compare(found, ends[end]) for end, found in computed.items())


def _compare(found: list[tuple[int, ChainLevels, ChainNoise]], expected: Expected) -> int:
    numbers = [number for number, _, _ in found]
    chains = [levels for _, levels, _ in found]
    pairs = [
        ([[p.at_maximum_dbu for p in each.points] for each in chains], expected.maximum_dbu),
        ([[p.at_full_output_dbu for p in each.points] for each in chains], expected.full_output_dbu),
        ([list(each.gains_db) for each in chains], expected.gain_db),
        ([each.treble_loss_db for each in chains], expected.treble_db),
    ]
    for ours, theirs in pairs:
        assert_allclose(np.array(ours, dtype=float), theirs[numbers], rtol=0, atol=1e-6)
    floors_v = [[math.nan if dbu is None else voltage_v(dbu) for dbu in noise.floors_dbu] for _, _, noise in found]
    assert_allclose(np.array(floors_v), expected.floor_v[numbers], rtol=1e-6)
    return sum(_margin_is(levels, float(expected.margin_db[number])) for number, levels, _ in found)


def _margin_is(levels: ChainLevels, expected_db: float) -> bool:
    """Whether a margin is known. Where a figure lacks, only a shortfall that nothing can mend is told."""
    margin_db = levels.least_margin_db
    if math.isnan(expected_db):
        assert margin_db is None or margin_db < 0
        return False
    assert margin_db == pytest.approx(expected_db, abs=1e-6)
    clips = [point.margin_db for point in levels.points if point.jack == levels.first_to_clip]
    assert clips == [pytest.approx(expected_db, abs=1e-6)]
    return True
