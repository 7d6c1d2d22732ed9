"""Decay, bandwidth, Schroeder's limit and the speed of sound against their published relations."""

import pytest

from planner.bass.refusals import shoebox
from planner.bass.shoebox import Shoebox
from planner.brief.records import Room
from tests.published.check_values import oracle


def box(volume_m3: float, reverberation_time_s: float) -> Shoebox:
    return Shoebox(size_m=(volume_m3 / 10, 4.0, 2.5), speed_m_per_s=343.2, reverberation_time_s=reverberation_time_s)


def test_decay_and_bandwidth_of_half_a_second() -> None:
    assert box(60, 0.5).decay_per_s == pytest.approx(oracle("room.decay_const_T0_5").value, rel=1e-8)
    assert box(60, 0.5).bandwidth_hz == pytest.approx(oracle("room.mode_bw_T0_5").value, rel=1e-8)


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
