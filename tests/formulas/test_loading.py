"""Splitting, loading and pads against the same circuit solved by its nodes, and in the limits."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.formulas.common_mode import imbalance_rejection_db
from planner.formulas.loading import (
    build_out_loss_db,
    loading_loss_db,
    pad_loss_db,
    pad_output_ohm,
    parallel_ohm,
    star_loss_db,
    star_resistor_ohm,
)
from tests.formulas.circuit import node_voltages

EARTH, EMF, JOINT = -1, 0, 1
CLOSE_DB = 1e-6

sources_ohm = st.floats(1, 3000)
inputs_ohm = st.floats(1000, 200_000)
resistors_ohm = st.floats(10, 20_000)
few = settings(max_examples=40)


def level_db(voltage_v: float) -> float:
    return 20 * math.log10(voltage_v)


@few
@given(sources_ohm, st.lists(inputs_ohm, min_size=1, max_size=8))
def test_inputs_in_parallel(source: float, inputs: list[float]) -> None:
    solved = node_voltages(2, [(EMF, JOINT, source), *((JOINT, EARTH, each) for each in inputs)])
    assert loading_loss_db(source, inputs) == pytest.approx(level_db(solved[JOINT]), abs=CLOSE_DB)


@few
@given(sources_ohm, resistors_ohm, inputs_ohm, st.lists(inputs_ohm | st.just(0.0), max_size=5))
def test_a_build_out_splitter_with_any_of_the_other_branches_shorted(
    source: float, build_out: float, first: float, others: list[float]
) -> None:
    ends = [first, *others]
    circuit = [(EMF, JOINT, source)]
    for node, end in enumerate(ends, start=2):
        circuit += [(JOINT, node, build_out), (node, EARTH, end)]
    solved = node_voltages(2 + len(ends), circuit)
    assert build_out_loss_db(source, build_out, first, others) == pytest.approx(level_db(solved[2]), abs=CLOSE_DB)


@few
@given(st.floats(50, 1000), st.integers(1, 6))
def test_a_star_splitter_matches_at_its_input_and_loses_what_it_says(impedance: float, outputs: int) -> None:
    leg = star_resistor_ohm(impedance, outputs)
    inlet, centre = 1, 2
    circuit = [(EMF, inlet, impedance), (inlet, centre, leg)]
    for node in range(3, 3 + outputs):
        circuit += [(centre, node, leg), (node, EARTH, impedance)]
    solved = node_voltages(3 + outputs, circuit)
    assert solved[inlet] == pytest.approx(0.5, rel=1e-6)
    assert star_loss_db(outputs) == pytest.approx(level_db(solved[3] / solved[inlet]), abs=CLOSE_DB)


@few
@given(sources_ohm, resistors_ohm, resistors_ohm, inputs_ohm)
def test_a_pad_loses_what_it_says_and_drives_from_what_it_says(
    source: float, series: float, shunt: float, load: float
) -> None:
    ladder = [(EMF, 1, source), (1, 2, series), (2, EARTH, shunt)]
    open_circuit = node_voltages(3, ladder)[2]
    loaded = node_voltages(3, [*ladder, (2, EARTH, load)])[2]
    assert pad_loss_db(source, series, shunt, load) == pytest.approx(level_db(loaded), abs=CLOSE_DB)
    assert pad_output_ohm(source, series, shunt) == pytest.approx(load * (open_circuit / loaded - 1), rel=1e-5)


@few
@given(st.floats(1, 2000), st.floats(1, 2000), st.floats(5_000, 1e6))
def test_rejection_is_what_two_unequal_dividers_leave_of_a_common_voltage(
    source: float, imbalance: float, common_mode: float
) -> None:
    hot, cold = 1, 2
    circuit = [(EMF, hot, source), (hot, EARTH, common_mode)]
    circuit += [(EMF, cold, source + imbalance), (cold, EARTH, common_mode)]
    solved = node_voltages(3, circuit)
    left_db = level_db(solved[hot] - solved[cold])
    assert imbalance_rejection_db(source, imbalance, common_mode) == pytest.approx(-left_db, abs=1e-4)


def test_an_unbalanced_source_on_two_cores_limits_the_rejection_by_its_impedance() -> None:
    """1 kohm against 50 kohm: 51/1, 34.15 dB."""
    assert imbalance_rejection_db(0.0, 1000.0, 50_000.0) == pytest.approx(20 * math.log10(51))


def test_no_load_loses_nothing() -> None:
    assert loading_loss_db(600.0, []) == 0


def test_an_ideal_source_loses_nothing() -> None:
    assert loading_loss_db(0.0, [10_000.0, 10_000.0]) == 0


def test_one_input_equal_to_the_source_halves_the_voltage() -> None:
    assert loading_loss_db(600.0, [600.0]) == pytest.approx(-6.0206, abs=1e-4)


def test_each_further_input_lowers_the_level() -> None:
    losses = [loading_loss_db(100.0, [10_000.0] * n) for n in range(6)]
    assert losses == sorted(losses, reverse=True)
    assert len(set(losses)) == len(losses)


def test_a_short_on_one_leg_silences_a_bare_splitter_but_not_a_built_out_one() -> None:
    assert loading_loss_db(100.0, [10_000.0, 1e-6]) < -120
    assert build_out_loss_db(100.0, 1000.0, 10_000.0, [0.0]) > -2


def test_a_splitter_of_one_leg_is_a_piece_of_wire() -> None:
    assert star_resistor_ohm(600.0, 1) == 0
    assert star_loss_db(1) == 0


def test_one_impedance_in_parallel_with_nothing_is_itself() -> None:
    assert parallel_ohm([4.0]) == 4.0


def test_equal_loudspeakers_in_parallel_divide_the_impedance() -> None:
    assert parallel_ohm([8.0] * 4) == 2.0


def test_nothing_in_parallel_has_no_impedance() -> None:
    with pytest.raises(ValueError, match="impedances_ohm is empty"):
        parallel_ohm([])
