"""One random design, the planner's chains beside the plain recomputation of the same."""

import math
from random import Random

import pytest

from planner.brief.records import Limits
from planner.physics import examine
from planner.physics.levels import ChainLevels, chain_levels, voltage_v
from planner.physics.line_chain import line_chains
from planner.physics.line_findings import line_findings
from planner.physics.noise import ChainNoise, chain_noise
from tests.checks.good_designs import brief
from tests.physics.random_rigs import random_rig, spoiled
from tests.physics.recomputed import Chain, Recomputed, at_full_output_v, at_maximum_v, margin_db, noises_v


def compare(seed: int) -> int:
    """Holds every chain of a random design against its recomputation. Returns how many were known in full."""
    rig = random_rig(seed)
    design, catalogue = rig.design(), rig.catalogue()
    levels = {each.chain.sink.jack: each for each in map(chain_levels, line_chains(design, catalogue))}
    noises = {jack: chain_noise(each) for jack, each in levels.items()}
    assert all(finding.message for finding in line_findings([*levels.values()], [*noises.values()], Limits()))
    again = {chain.sink: chain for chain in Recomputed(design, catalogue).chains()}
    assert levels.keys() == again.keys()
    return sum(_compare(levels[jack], noises[jack], again[jack]) for jack in again)


def survive(seed: int) -> None:
    """Examines a random design and then broken ones; what matters is that all are answered."""
    rig, random = random_rig(seed), Random(seed)
    design, catalogue, asked = rig.design(), rig.catalogue(), brief()
    for each in (design, spoiled(design, random), spoiled(spoiled(design, random), random)):
        found = examine(each, asked, catalogue)
        assert len(found.line_chains) == len(found.line_noises)
        assert all(finding.message and finding.subject for finding in found.findings)


def _compare(levels: ChainLevels, noise: ChainNoise, again: Chain) -> bool:
    jacks = [jack for step in again.steps for jack in (step.output, step.input)]
    assert [point.jack for point in levels.points] == jacks
    _compare_treble(levels, again)
    if again.is_known:
        _compare_levels(levels, again)
    else:
        # What is not known is not made up; only a shortfall that nothing unknown can mend is told.
        assert levels.least_margin_db is None or levels.least_margin_db < 0
    floors_v = [math.nan if floor is None else voltage_v(floor) for floor in noise.floors_dbu]
    assert floors_v == pytest.approx(noises_v(again, list(levels.gains_db)), rel=1e-6, nan_ok=True)
    return again.is_known


def _compare_levels(levels: ChainLevels, again: Chain) -> None:
    assert levels.least_margin_db == pytest.approx(margin_db(again), abs=1e-5)
    gains_db = [gain for gain in levels.gains_db if gain is not None]
    for gain_db, step in zip(gains_db, again.steps, strict=True):
        assert gain_db <= (step.greatest_gain_db or 0.0)
    maximum_v = [voltage_v(p.at_maximum_dbu) for p in levels.points if p.at_maximum_dbu is not None]
    assert maximum_v == pytest.approx(at_maximum_v(again, gains_db), rel=1e-6)
    full_v = [voltage_v(p.at_full_output_dbu) for p in levels.points if p.at_full_output_dbu is not None]
    assert full_v == pytest.approx(at_full_output_v(again, gains_db), rel=1e-6)
    margins_db = [point.margin_db for point in levels.points if point.margin_db is not None]
    assert levels.least_margin_db == pytest.approx(min(margins_db), abs=1e-9)


def _compare_treble(levels: ChainLevels, again: Chain) -> None:
    losses_db = [step.treble_db for step in again.steps]
    known_db = [loss for loss in losses_db if loss is not None]
    if len(known_db) < len(losses_db):
        assert levels.treble_loss_db is None
    else:
        assert levels.treble_loss_db == pytest.approx(sum(known_db), abs=1e-9)
