"""Balanced outputs into unbalanced inputs and the other way round.

The expected gains come from the voltages of the two legs to earth: of opposite drivers each
has half; a floating source has its whole voltage between them, whichever is earthed.
"""

import math

import pytest

from planner.catalogue.records import OutputStage
from planner.formulas.balance import (
    ONE_LEG_DB,
    ColdCore,
    into_balanced_db,
    into_unbalanced_db,
    may_short_the_cold_driver,
    one_leg_ohm,
    right_cold_cores,
)

TIED = (ColdCore.TO_SHELL_AT_SOURCE, ColdCore.TO_SHELL_AT_SINK)


def gain_db(hot_v: float, cold_v: float) -> float:
    """From hot against cold to hot against earth."""
    return 20 * math.log10(abs(hot_v) / abs(hot_v - cold_v))


@pytest.mark.parametrize("cold", ColdCore)
def test_one_leg_of_two_opposite_drivers_is_half_of_the_pair(cold: ColdCore) -> None:
    """Hot +1 V, cold -1 V: 2 V across the pair, 1 V to earth, whatever the cold driver suffers."""
    assert into_unbalanced_db(OutputStage.SYMMETRICAL, cold) == pytest.approx((gain_db(1, -1),) * 2)


@pytest.mark.parametrize("stage", [OutputStage.SERVO, OutputStage.TRANSFORMER])
@pytest.mark.parametrize("cold", TIED)
def test_a_floating_output_gives_all_of_its_voltage_with_its_cold_earthed(stage: OutputStage, cold: ColdCore) -> None:
    """A floating 2 V with its cold at 0 V has its hot at 2 V."""
    assert into_unbalanced_db(stage, cold) == pytest.approx((gain_db(2, 0),) * 2)


@pytest.mark.parametrize("stage", [OutputStage.UNBALANCED, OutputStage.IMPEDANCE_BALANCED])
@pytest.mark.parametrize("cold", ColdCore)
def test_an_output_with_an_idle_cold_leg_loses_nothing(stage: OutputStage, cold: ColdCore) -> None:
    assert into_unbalanced_db(stage, cold) == pytest.approx((gain_db(1, 0),) * 2)


def test_a_transformer_with_its_cold_open_has_no_level() -> None:
    with pytest.raises(ValueError, match="cold core open"):
        into_unbalanced_db(OutputStage.TRANSFORMER, ColdCore.OPEN)


@pytest.mark.parametrize("cold", ColdCore)
def test_an_unknown_output_may_be_any_that_has_a_level(cold: ColdCore) -> None:
    known = [
        into_unbalanced_db(stage, cold)
        for stage in OutputStage
        if stage is not OutputStage.UNKNOWN and (stage, cold) != (OutputStage.TRANSFORMER, ColdCore.OPEN)
    ]
    assert into_unbalanced_db(OutputStage.UNKNOWN, cold) == (
        min(each[0] for each in known),
        max(each[1] for each in known),
    )


def test_a_servo_output_with_its_cold_open_falls_by_no_more_than_one_leg() -> None:
    assert into_unbalanced_db(OutputStage.SERVO, ColdCore.OPEN) == (ONE_LEG_DB, 0)


@pytest.mark.parametrize("cold", TIED)
def test_a_balanced_input_takes_all_of_an_unbalanced_output(cold: ColdCore) -> None:
    assert into_balanced_db(cold) == (0, 0)


def test_a_balanced_input_with_its_cold_open_takes_half_or_all() -> None:
    assert into_balanced_db(ColdCore.OPEN) == pytest.approx((-6.0206, 0), abs=1e-4)


@pytest.mark.parametrize("stage", OutputStage)
def test_a_right_lead_shorts_no_driver_and_has_a_level(stage: OutputStage) -> None:
    for cold in right_cold_cores(stage):
        assert not may_short_the_cold_driver(stage, cold)
        least, most = into_unbalanced_db(stage, cold)
        assert ONE_LEG_DB <= least <= most <= 0


@pytest.mark.parametrize(
    ("stage", "cold", "shorts"),
    [
        (OutputStage.SYMMETRICAL, ColdCore.TO_SHELL_AT_SINK, True),
        (OutputStage.SYMMETRICAL, ColdCore.OPEN, False),
        (OutputStage.UNKNOWN, ColdCore.TO_SHELL_AT_SOURCE, True),
        (OutputStage.IMPEDANCE_BALANCED, ColdCore.TO_SHELL_AT_SINK, False),
        (OutputStage.TRANSFORMER, ColdCore.TO_SHELL_AT_SINK, False),
        (OutputStage.SERVO, ColdCore.TO_SHELL_AT_SINK, False),
    ],
)
def test_only_a_driven_cold_leg_can_be_shorted(stage: OutputStage, cold: ColdCore, shorts: bool) -> None:
    """D. Self, Small Signal Audio Design, line outputs; an equipment manual warns of the same damage."""
    assert may_short_the_cold_driver(stage, cold) is shorts


def test_the_two_legs_of_a_pair_are_in_series() -> None:
    assert 2 * one_leg_ohm(150.0) == 150.0
