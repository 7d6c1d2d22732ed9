"""What the formulas give for every published check value that concerns them, by its name.

The names and the figures behind them are in tests/published/check_values.toml; here stand
only the inputs, taken from the name or from the entry's own `inputs` and `formula`. Each
result is a call still to be made, so that one that raises fails its own test alone.
"""

from collections.abc import Callable
from functools import partial

from planner.formulas.amplifiers import input_for_full_output_v, power_from_voltage_w
from planner.formulas.balance import ONE_LEG_DB
from planner.formulas.capacitance import corner_hz, greatest_capacitance_pf, low_pass_loss_db
from planner.formulas.clipping import first_to_clip
from planner.formulas.common_mode import imbalance_rejection_db, resistor_rejection_db
from planner.formulas.delay import arrival_ms, speed_of_sound_m_per_s
from planner.formulas.earth_loops import common_impedance_hum_db, common_impedance_hum_v, loop_count
from planner.formulas.hearing import CRITERION_DBA, EXCHANGE_DB, exposure_minutes
from planner.formulas.levels import (
    DBU_REFERENCE_V,
    dbu_from_dbv,
    dbu_from_v,
    dbv_from_dbu,
    in_phase_sum_db,
    power_ratio_db,
    power_sum_db,
    v_from_dbu,
    v_from_dbv,
    voltage_ratio_db,
)
from planner.formulas.loading import (
    build_out_loss_db,
    loading_loss_db,
    pad_loss_db,
    pad_output_ohm,
    star_loss_db,
    star_resistor_ohm,
)
from planner.formulas.noise import KELVIN_AT_0_C, johnson_noise_v, noise_at_sink_dbu
from planner.formulas.sound_level import (
    full_scale_level_db,
    inverse_distance_loss_db,
    level_at_db,
    pair_sum_db,
    power_needed_w,
    pressure_level_db,
    sensitivity_for_1w_db,
    sum_range_db,
)

Results = dict[str, Callable[[], float]]

LEVELS: Results = {
    "levels.dbu_ref": lambda: DBU_REFERENCE_V,
    "levels.dbu_minus_dbv_offset": lambda: dbu_from_dbv(0.0),
    **{f"levels.plus{level}_dbu": partial(v_from_dbu, level) for level in (4, 14, 18, 20, 24)},
    "levels.plus4_dbu_in_dbv": lambda: dbv_from_dbu(4.0),
    "levels.minus10_dbv": lambda: v_from_dbv(-10.0),
    "levels.minus10_dbv_in_dbu": lambda: dbu_from_dbv(-10.0),
    "levels.pro_consumer_gap": lambda: voltage_ratio_db(v_from_dbu(4.0), v_from_dbv(-10.0)),
    "levels.bal_one_leg_loss": lambda: ONE_LEG_DB,
    "levels.two_volt_rms_dbu": lambda: dbu_from_v(2.0),
    "levels.amp_drive_200w_8ohm_26db": lambda: dbu_from_v(input_for_full_output_v(200.0, 8.0, 26.0)),
}

SPLITS: Results = {
    **{
        f"split.zs{source}_zin{kilohm}k_n{n}": partial(loading_loss_db, source, [1000 * kilohm] * n)
        for source in (50, 100, 150, 300, 600, 1000)
        for kilohm in (10, 20, 47)
        for n in (1, 2, 4)
    },
    "split.bridging_10_to_1": lambda: loading_loss_db(600.0, [6000.0]),
    "split.matched_1_to_1": lambda: loading_loss_db(600.0, [600.0]),
    "split.matched_600_two_loads_re_one": lambda: loading_loss_db(600, [600, 600]) - loading_loss_db(600, [600]),
    **{f"split.star_splitter_R_600_n{n}": partial(star_resistor_ohm, 600.0, n) for n in (2, 3, 4)},
    **{f"split.star_splitter_loss_n{n}": partial(star_loss_db, n) for n in (2, 3, 4)},
    **{
        f"split.buildout_zs100_rb1k_zin10k_n{n}": partial(build_out_loss_db, 100, 1000, 10_000, [10_000] * (n - 1))
        for n in (1, 2, 4)
    },
    "split.buildout_zs100_rb1k_zin10k_n2_one_shorted": lambda: build_out_loss_db(100.0, 1000.0, 10_000.0, [0.0]),
    "split.pad_2k7_1k_zs100_zl22k": lambda: pad_loss_db(100.0, 2700.0, 1000.0, 22_000.0),
    "split.pad_2k7_1k_zout": lambda: pad_output_ohm(100.0, 2700.0, 1000.0),
    "split.sum_Y_two_outputs_into_one": lambda: loading_loss_db(100.0, [100.0]),
}

_LEADS = [(source, metres) for source in (50, 100, 600, 1000, 2200, 10_000) for metres in (10, 30, 100)]
CAPACITANCE: Results = {
    **{f"cable_c.fc_zs{source}_{metres}m": partial(corner_hz, source, 100 * metres) for source, metres in _LEADS},
    **{
        f"cable_c.loss20k_zs{source}_{metres}m": partial(low_pass_loss_db, 20_000, source, 100 * metres)
        for source, metres in _LEADS
    },
    **{f"cable_c.iec61938_cmax_{kilohm}k": partial(greatest_capacitance_pf, 1000 * kilohm) for kilohm in (10, 22, 47)},
}

HEARING: Results = {
    **{f"hearing.niosh_minutes_{level}dba": partial(exposure_minutes, level) for level in (88, 91, 94, 97, 100, 105)},
    "hearing.niosh_criterion_dba": lambda: CRITERION_DBA,
    "hearing.niosh_exchange_db": lambda: EXCHANGE_DB,
}

_PROCESSOR_DBU, _DSP_DBU, _INPUT_DBU = (14.0, -96.0), (8.0, -98.0), (4.0, -108.0)
"""The worked chain: largest level and noise of each stage, gain from each to the next being 0 dB."""


def _chain_largest_dbu(pad_db: float) -> float:
    return first_to_clip([(_PROCESSOR_DBU[0], -pad_db), (_DSP_DBU[0], -pad_db), (_INPUT_DBU[0], 0)])[1]


def _chain_noise_dbu(pad_db: float) -> float:
    return noise_at_sink_dbu([(_PROCESSOR_DBU[1], -pad_db), (_DSP_DBU[1], -pad_db), (_INPUT_DBU[1], 0)])


def _johnson_noise_dbu(resistance_ohm: float) -> float:
    return dbu_from_v(johnson_noise_v(resistance_ohm))


_RESISTORS = (150, 600, 1000, 10_000, 47_000)
NOISE: Results = {
    **{f"noise.johnson_{ohm}_v": partial(johnson_noise_v, ohm) for ohm in _RESISTORS},
    **{f"noise.johnson_{ohm}_dbu": partial(_johnson_noise_dbu, ohm) for ohm in _RESISTORS},
    # A resistance gives a matched load e²/(4 R), here in 1 Hz and re 1 mW.
    "noise.kT_290K": lambda: power_ratio_db(
        power_from_voltage_w(johnson_noise_v(50.0, 1.0, 290.0 - KELVIN_AT_0_C), 4 * 50.0), 0.001
    ),
    **{f"noise.power_sum_diff_{apart}db": partial(power_sum_db, [0.0, -apart]) for apart in (0, 3, 6, 10, 20)},
    "noise.chain_noise_at_amp_in": lambda: _chain_noise_dbu(0),
    "noise.chain_max": lambda: _chain_largest_dbu(0),
    "noise.chain_snr": lambda: _chain_largest_dbu(0) - _chain_noise_dbu(0),
    "noise.chain_4db_pad_noise": lambda: _chain_noise_dbu(4),
    "noise.chain_4db_pad_snr": lambda: _chain_largest_dbu(4) - _chain_noise_dbu(4),
    "noise.chain_6db_pad_noise": lambda: _chain_noise_dbu(6),
    "noise.chain_6db_pad_snr": lambda: _chain_largest_dbu(6) - _chain_noise_dbu(6),
    **{f"noise.n_equal_stages_snr_loss_{n}": partial(power_sum_db, [0.0] * n) for n in (2, 3, 4)},
}


def _equal_sum_db(sources: int, end: int) -> float:
    """The incoherent (0) or coherent (1) end of the range of so many equal sources, re one."""
    return sum_range_db([0.0] * sources)[end]


_MAIN_DB, _LFE_DB = full_scale_level_db(85.0), full_scale_level_db(85.0, channel_gain_db=10.0)
SOUND_LEVEL: Results = {
    "spl.one_pascal": lambda: pressure_level_db(1.0),
    "spl.p_2v83_8ohm": lambda: power_from_voltage_w(2.83, 8.0),
    "spl.p_2v83_4ohm": lambda: power_from_voltage_w(2.83, 4.0),
    **{f"spl.sens_1w_minus_2v83_{ohm}ohm": partial(sensitivity_for_1w_db, 0.0, ohm) for ohm in (4, 6, 8)},
    **{
        f"spl.distance_{name}": partial(inverse_distance_loss_db, metres)
        for name, metres in {"2": 2.0, "3": 3.0, "3_5": 3.5, "4": 4.0, "5": 5.0}.items()
    },
    "spl.ex_88db_200w_3_5m": lambda: level_at_db(88.0, 200.0, 3.5),
    "spl.ex_power_for_105_at_4m_90db": lambda: power_needed_w(105.0, 90.0, 4.0),
    **{f"spl.incoherent_{n}": partial(_equal_sum_db, n, 0) for n in (2, 3, 4, 8)},
    **{f"spl.coherent_{n}": partial(_equal_sum_db, n, 1) for n in (2, 3, 4, 8)},
    "spl.coherent_diff_6db": lambda: in_phase_sum_db([0.0, -6.0]),
    **{f"spl.two_equal_phase_{deg}": partial(pair_sum_db, 0.0, 0.0, deg) for deg in (30, 60, 90, 120, 150, 170)},
    "spl.main_peak": lambda: _MAIN_DB,
    "spl.lfe_peak": lambda: _LFE_DB,
    **{
        f"spl.bass_managed_sum_{layout}": partial(in_phase_sum_db, [_MAIN_DB] * mains + [_LFE_DB])
        for layout, mains in {"5_1": 5, "7_1": 7, "7_1_4": 11, "9_1_6": 15}.items()
    },
}

DELAY: Results = {
    **{f"room.c_{celsius}C": partial(speed_of_sound_m_per_s, celsius) for celsius in (0, 10, 15, 20, 25, 30)},
    "room.ms_per_m_20C": lambda: arrival_ms(1.0, speed_of_sound_m_per_s(20.0)),
    "room.ms_per_m_c343": lambda: arrival_ms(1.0, 343.0),
    "room.delay_3_5m_20C_ms": lambda: arrival_ms(3.5, speed_of_sound_m_per_s(20.0)),
    "subs.cabs_delay_7m_ms": lambda: arrival_ms(7.0, 343.2),
}

_EARTHS = [("earth", "A"), ("earth", "B"), ("earth", "C"), ("earth", "D")]
_SHIELDS = [("A", "B"), ("B", "C"), ("C", "D"), ("A", "D")]
EARTH: Results = {
    "loops.hum_316uA_1ohm": lambda: common_impedance_hum_v(316e-6, 1.0),
    "loops.hum_re_minus10dbv": lambda: common_impedance_hum_db(316e-6, 1.0, v_from_dbv(-10.0)),
    "loops.shield_1ohm_to_0_065": lambda: common_impedance_hum_db(1e-3, 0.065, common_impedance_hum_v(1e-3, 1.0)),
    **{
        f"loops.cmrr_dr10_zcm{ohm}": partial(imbalance_rejection_db, 50.0, 10.0, ohm)
        for ohm in (10_000, 20_000, 50_000, 10_000_000)
    },
    "loops.cmrr_1pct_resistors": lambda: resistor_rejection_db(0.01),
    "loops.cyclomatic_example": lambda: loop_count(_EARTHS + _SHIELDS),
    "loops.cyclomatic_classII": lambda: loop_count(_EARTHS[:2] + _SHIELDS),
    "loops.cyclomatic_two_classI": lambda: loop_count([*_EARTHS[:2], ("A", "B")]),
}
