"""Every formula says what it is and where it comes from, and refuses what is outside its range."""

import importlib
import inspect
import math
import pkgutil
from collections.abc import Callable

import pytest

from planner import formulas
from planner.catalogue.records import OutputStage
from planner.formulas import (
    amplifiers,
    balance,
    capacitance,
    clipping,
    common_mode,
    delay,
    earth_loops,
    hearing,
    levels,
    loading,
    noise,
    sound_level,
    speaker_cable,
)

MODULES = [
    importlib.import_module(f"planner.formulas.{module.name}")
    for module in pkgutil.iter_modules(formulas.__path__)
    if module.name != "validity"
]
FORMULAS = [
    formula
    for module in MODULES
    for name, formula in inspect.getmembers(module, inspect.isfunction)
    if formula.__module__ == module.__name__ and not name.startswith("_")
]


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.__name__)
def test_a_formula_names_its_source_and_works_an_example(formula: Callable[..., object]) -> None:
    text = inspect.getdoc(formula) or ""
    assert "Source: " in text
    assert ">>> " in text
    first = text.split("\n", 1)[0]
    assert first.endswith(".")
    assert first[0].isupper()


NUMBERS = [formula for formula in FORMULAS if "float" in str(inspect.signature(formula).parameters)]


def arguments(formula: Callable[..., object], bad: str) -> dict[str, object]:
    """Ones for every number, lists and pairs of ones, and not-a-number for the one called `bad`."""
    made: dict[str, object] = {}
    for name, parameter in inspect.signature(formula).parameters.items():
        value = math.nan if name == bad else 1.0
        annotation = str(parameter.annotation)
        if "OutputStage" in annotation:
            made[name] = OutputStage.SYMMETRICAL
        elif "tuple[float, float]" in annotation:
            made[name] = [(value, 1.0)]
        elif "Sequence[float]" in annotation:
            made[name] = [value]
        else:
            made[name] = value
    return made


@pytest.mark.parametrize(
    ("formula", "name"),
    [
        (formula, name)
        for formula in NUMBERS
        for name, p in inspect.signature(formula).parameters.items()
        if "float" in str(p)
    ],
    ids=lambda part: part if isinstance(part, str) else part.__name__,
)
def test_no_formula_takes_what_is_not_a_number(formula: Callable[..., object], name: str) -> None:
    one_of_several = "Sequence" in str(inspect.signature(formula).parameters[name])
    with pytest.raises(ValueError, match=f"{'' if one_of_several else name} is nan; expected"):
        formula(**arguments(formula, name))


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: levels.dbu_from_v(0.0), "voltage_v is 0.0; expected a finite number above 0"),
        (lambda: levels.voltage_ratio(1001.0), "gain_db is 1001.0; expected -1000 to 1000"),
        (lambda: loading.loading_loss_db(-1.0, []), "source_ohm is -1.0; expected a finite number, 0 or more"),
        (lambda: loading.loading_loss_db(100.0, [10_000.0, 0.0]), "impedance_ohm is 0.0"),
        (lambda: capacitance.low_pass_loss_db(-1.0, 1.0, 1.0), "frequency_hz is -1.0"),
        (lambda: noise.johnson_noise_v(1.0, 1.0, 293.15), "temperature_c is 293.15; expected -55 to 155"),
        (lambda: noise.noise_at_sink_dbu([]), "levels_db is empty"),
        (lambda: clipping.first_to_clip([(math.inf, 0.0)]), "limit_dbu is inf; expected a finite number"),
        (lambda: amplifiers.power_into_load_w(4.0, 100.0, 0.0), "power_4ohm_w is 0.0"),
        (lambda: speaker_cable.awg_diameter_mm(57), "gauge is 57; expected -3 to 56"),
        (lambda: speaker_cable.resistance_at_ohm(1.0, 120.0), "temperature_c is 120.0; expected -40 to 105"),
        (lambda: sound_level.inverse_distance_loss_db(0.0), "distance_m is 0.0"),
        (lambda: delay.speed_of_sound_m_per_s(68.0), "temperature_c is 68.0; expected -20 to 50"),
        (lambda: delay.alignment_delays_ms([1.0, -0.1]), "arrival_ms is -0.1"),
        (lambda: hearing.exposure_minutes(141.0), "level_dba is 141.0; expected 80 to 140"),
        (lambda: common_mode.resistor_rejection_db(1.0), "tolerance is 1.0; expected below 0.1, a fraction"),
        (lambda: balance.one_leg_ohm(0.0), "balanced_ohm is 0.0"),
        (lambda: earth_loops.common_impedance_hum_v(-1.0, 1.0), "current_a is -1.0"),
    ],
)
def test_a_value_outside_the_range_is_named(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError) as caught:  # noqa: PT011 - the whole message is compared below
        call()
    assert message in str(caught.value)
