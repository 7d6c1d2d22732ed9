"""Every published check value that concerns the formulas is met, and none is left out."""

import math
from collections import Counter

import pytest

from tests.formulas import cable_results, results
from tests.published.check_values import oracle, oracles

ROUNDING = 5e-9
"""The file gives nine figures, so a value with a leading 1 is right to half a unit in the ninth."""

EXACT = {
    name: result
    for group in (
        results.LEVELS,
        results.SPLITS,
        results.CAPACITANCE,
        results.HEARING,
        results.NOISE,
        results.SOUND_LEVEL,
        results.DELAY,
        results.EARTH,
        cable_results.CABLE,
    )
    for name, result in group.items()
}

CONCERNED = (
    "levels.",
    "split.",
    "cable_c.",
    "hearing.",
    "noise.",
    "speaker_cable.",
    "spl.",
    "loops.",
    "room.c_",
    "room.ms_per_m",
    "room.delay",
    "subs.cabs_delay",
)
"""What the names of the values begin with that these formulas answer for."""


@pytest.mark.parametrize("name", EXACT)
def test_a_value_is_met_within_its_tolerance(name: str) -> None:
    value = oracle(name)
    result = EXACT[name]()
    tolerance = value.tol_abs if value.tol_abs is not None else ROUNDING * abs(value.value)
    assert abs(result - value.value) <= tolerance, f"{result!r} does not meet {value}"


@pytest.mark.parametrize("name", cable_results.PRINTED)
def test_a_value_from_a_printed_table_is_met_to_half_a_per_cent(name: str) -> None:
    value = oracle(name)
    result = cable_results.PRINTED[name]()
    assert math.isclose(result, value.value, rel_tol=0.005), f"{result!r} does not meet {value}"


@pytest.mark.parametrize("name", cable_results.MAXIMA)
def test_a_conductor_of_its_nominal_area_keeps_within_the_standard(name: str) -> None:
    """IEC 60228 leaves a conductor some 5 to 8 % for stranding and drawing; here at most 10 %."""
    value = oracle(name)
    result = cable_results.MAXIMA[name]()
    assert 0.9 * value.value < result < value.value, f"{result!r} does not keep within {value}"


def test_every_concerned_value_is_held_against_a_formula() -> None:
    held = Counter([*EXACT, *cable_results.PRINTED, *cable_results.MAXIMA])
    concerned = {value.name for prefix in CONCERNED for value in oracles(prefix)}
    assert concerned
    assert set(held) == concerned
    assert max(held.values()) == 1
