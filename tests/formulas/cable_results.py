"""What the formulas give for every published check value of loudspeaker cable, by its name."""

from functools import partial

from planner.formulas.speaker_cable import (
    COPPER_COEFFICIENT_PER_K,
    COPPER_RESISTIVITY_OHM_MM2_PER_M,
    awg_area_mm2,
    awg_diameter_mm,
    cable_loss_db,
    class_5_ohm_per_m,
    copper_ohm_per_m,
    damping_factor,
    greatest_loop_ohm,
    longest_run_m,
    loop_resistance_ohm,
)
from tests.formulas.results import Results


def awg_ohm_per_m(gauge: int) -> float:
    return copper_ohm_per_m(awg_area_mm2(gauge))


def _loss_db(gauge: int, metres: float, load_ohm: float) -> float:
    return cable_loss_db(load_ohm, loop_resistance_ohm(awg_ohm_per_m(gauge), metres))


def _run_within_half_a_db_m(ohm_per_m: float, load_ohm: float) -> float:
    return longest_run_m(ohm_per_m, greatest_loop_ohm(load_ohm, -0.5))


def _run_within_5_percent_m(ohm_per_m: float, load_ohm: float) -> float:
    return longest_run_m(ohm_per_m, 0.05 * load_ohm)


_GAUGES = (10, 11, 12, 13, 14, 16, 18, 20, 22, 24, 26)
_CLASS_5 = {"1_0": 1.0, "1_5": 1.5, "2_5": 2.5, "4_0": 4.0, "6_0": 6.0, "10_0": 10.0}
_OHM_PER_M_BY_SIZE = {f"awg{gauge}": awg_ohm_per_m(gauge) for gauge in (10, 12, 14, 16, 18)} | {
    f"{name}mm2": class_5_ohm_per_m(_CLASS_5[name]) for name in ("1_5", "2_5", "4_0", "6_0")
}

CABLE: Results = {
    **{f"speaker_cable.awg{gauge}_diameter": partial(awg_diameter_mm, gauge) for gauge in _GAUGES},
    **{f"speaker_cable.awg{gauge}_area": partial(awg_area_mm2, gauge) for gauge in _GAUGES},
    **{f"speaker_cable.awg{gauge}_r": partial(awg_ohm_per_m, gauge) for gauge in _GAUGES},
    **{f"speaker_cable.iec60228_class5_{name}_max": partial(class_5_ohm_per_m, mm2) for name, mm2 in _CLASS_5.items()},
    "speaker_cable.copper_rho_20c": lambda: COPPER_RESISTIVITY_OHM_MM2_PER_M * 1e-6,
    "speaker_cable.copper_alpha_20c": lambda: COPPER_COEFFICIENT_PER_K,
    **{
        f"speaker_cable.loss_awg{gauge}_{metres}m_{load}ohm": partial(_loss_db, gauge, metres, load)
        for gauge in (12, 14, 16, 18)
        for metres in (5, 10, 20, 30)
        for load in (4, 8)
    },
    **{
        f"speaker_cable.maxlen_0_5db_{size}_{load}ohm": partial(_run_within_half_a_db_m, ohm_per_m, load)
        for size, ohm_per_m in _OHM_PER_M_BY_SIZE.items()
        for load in (4, 6, 8)
    },
    **{
        f"speaker_cable.maxlen_5pct_{size}_{load}ohm": partial(_run_within_5_percent_m, ohm_per_m, load)
        for size, ohm_per_m in _OHM_PER_M_BY_SIZE.items()
        for load in (4, 6, 8)
    },
    "speaker_cable.ratio_for_half_db": lambda: greatest_loop_ohm(1.0, -0.5),
    "speaker_cable.loss_at_5pct": lambda: cable_loss_db(8.0, 0.05 * 8.0),
    "speaker_cable.damping_at_5pct": lambda: damping_factor(8.0, 0.05 * 8.0),
    "speaker_cable.example_damping": lambda: damping_factor(8.0, loop_resistance_ohm(awg_ohm_per_m(14), 20.0), 0.02),
    "loops.drain_26awg_25ft": lambda: awg_ohm_per_m(26) * 25 * 0.3048,
}

PRINTED: Results = {
    f"speaker_cable.awg{gauge}_r_published": partial(awg_ohm_per_m, gauge) for gauge in (10, 12, 14, 16, 18, 20, 22, 24)
}
"""Rows of a wire table printed to three figures."""

MAXIMA: Results = {
    f"speaker_cable.iec60228_class2_{name}_max": partial(copper_ohm_per_m, mm2)
    for name, mm2 in {"1_5": 1.5, "2_5": 2.5, "4": 4.0, "6": 6.0, "10": 10.0}.items()
}
"""Rows that a conductor of the nominal area may not exceed."""
