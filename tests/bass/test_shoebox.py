"""Decay, bandwidth, Schroeder's limit and the speed of sound against their published relations."""

from dataclasses import replace

import numpy as np
import pytest

from planner.bass.refusals import shoebox
from planner.bass.shoebox import Shoebox
from planner.brief.records import Room
from tests.bass.rooms import decay_per_s
from tests.published.check_values import oracle


def box(volume_m3: float, reverberation_time_s: float) -> Shoebox:
    return Shoebox(size_m=(volume_m3 / 10, 4.0, 2.5), speed_m_per_s=343.2, reverberation_time_s=reverberation_time_s)


def test_decay_and_bandwidth_of_half_a_second() -> None:
    assert decay_per_s(box(60, 0.5)) == pytest.approx(oracle("room.decay_const_T0_5").value, rel=1e-8)
    assert box(60, 0.5).bandwidth_hz(50.0) == pytest.approx(oracle("room.mode_bw_T0_5").value, rel=1e-8)


@pytest.mark.parametrize(
    ("volume_m3", "time_s", "name"),
    [(200.0, 1.0, "room.schroeder_200m3_1s"), (60.0, 0.4, "room.schroeder_60m3_0_4s")],
)
def test_schroeder_s_limit(volume_m3: float, time_s: float, name: str) -> None:
    assert box(volume_m3, time_s).schroeder_hz == pytest.approx(oracle(name).value, rel=1e-8)


@pytest.mark.parametrize("celsius", [0, 10, 15, 20, 25, 30])
def test_the_speed_of_sound_follows_the_room_s_temperature(celsius: int) -> None:
    room = Room(length_m=5, width_m=4, height_m=2.5, temperature_c=celsius)
    assert shoebox(room).speed_m_per_s == pytest.approx(oracle(f"room.c_{celsius}C").value, rel=1e-8)


def test_times_by_frequency_are_taken_along_its_logarithm_and_held_at_the_ends() -> None:
    room = replace(box(60, 9.9), reverberation_bands=((31.5, 0.8), (126.0, 0.4)))
    times = room.reverberation_times_s(np.array([0.0, 20.0, 31.5, 63.0, 126.0, 500.0]))
    assert times == pytest.approx([0.8, 0.8, 0.8, 0.6, 0.4, 0.4])
    assert room.bandwidth_hz(63.0) == pytest.approx(box(60, 0.6).bandwidth_hz(63.0))


def test_bands_of_one_time_are_that_time() -> None:
    plain, banded = box(60, 0.5), replace(box(60, 9.9), reverberation_bands=((40.0, 0.5), (80.0, 0.5)))
    hertz = np.array([0.0, 10.0, 60.0, 300.0])
    assert banded.decays_per_s(hertz) == pytest.approx(plain.decays_per_s(hertz))
    assert banded.schroeder_hz == pytest.approx(plain.schroeder_hz)


def test_schroeder_s_limit_takes_the_time_at_the_limit_itself() -> None:
    room = replace(box(60, 0.4), reverberation_bands=((63.0, 1.0), (250.0, 0.3)))
    limit = room.schroeder_hz
    (time_s,) = room.reverberation_times_s(np.array([limit])).tolist()
    assert limit == pytest.approx(2000 * (time_s / room.volume_m3) ** 0.5, rel=1e-3)
