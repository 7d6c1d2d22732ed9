"""The study of a whole brief: what it takes from brief and catalogue, and what it says of it."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import signal

from planner.bass.band import Band
from planner.bass.bass_field import bass_field, frequencies
from planner.bass.refusals import shoebox
from planner.bass.room_response import room_response
from planner.bass.study import bass_study
from planner.bass.subwoofers import placed_subwoofers
from planner.brief.records import Seat
from tests.bass.example import BRIEF, CATALOGUE, FRONT, SIX_SEATS

STUDY = bass_study(BRIEF, CATALOGUE)
PAIR = replace(BRIEF, subwoofers=(FRONT,))


def test_the_field_is_the_room_s_response_through_low_corner_and_crossover() -> None:
    """Filters by SciPy: a Butterworth high-pass at 18 or 30 Hz, and two Butterworth low-passes at 80 Hz in a row."""
    hertz = np.array([20.0, 31.5, 50.0, 80.0])
    room, subwoofers = shoebox(BRIEF.room), placed_subwoofers(BRIEF, CATALOGUE)
    found, _ = bass_field(room, hertz, subwoofers, BRIEF.seats)
    places = [[(p.x_m, p.y_m, p.z_m) for p in points] for points in (
        [seat.position for seat in BRIEF.seats], [one.position for one in subwoofers],
    )]  # fmt: skip
    bare = room_response(room, hertz, np.array(places[0]), np.array(places[1])).pressure
    _, upper = signal.freqz(*signal.butter(2, 80.0, fs=48000), hertz, fs=48000)
    for n, one in enumerate(subwoofers):
        corner_hz = 18.0 if one.set_name == "Front" else 30.0
        _, lower = signal.freqz(*signal.butter(2, corner_hz, "highpass", fs=48000), hertz, fs=48000)
        assert found.pressure[:, n] == pytest.approx(bare[:, :, n] * (lower * upper**2)[:, None], rel=1e-6)
    assert found.headroom_db.tolist() == [8.0, 8.0, 0.0, 0.0, 0.0]
    assert found.seat_weight.tolist() == pytest.approx([1 / 7, 2 / 7, 1 / 7, 1 / 7, 1 / 7, 1 / 7])


def test_the_positions_in_use_come_first() -> None:
    assert [(one.name, one.used) for one in STUDY.subwoofers] == [
        ("Front 1", True), ("Front 2", True), ("Rear 1", True), ("Rear 2", True), ("Rear 3", False),
    ]  # fmt: skip
    assert [len(way.way.best.groups) for way in STUDY.ways] == [1, 2, 3, 4]
    assert [count.subwoofers for count in STUDY.counts] == [1, 2, 3, 4]


def test_before_is_one_signal_and_nothing_set() -> None:
    assert all((one.gain_db, one.delay_ms, one.inverted) == (0.0, 0.0, False) for one in STUDY.before.settings)
    assert STUDY.before.loss_db == pytest.approx(0.0, abs=1e-9)


def test_each_way_keeps_what_it_promises() -> None:
    spreads = [way.outcome.spread.spread_db for way in STUDY.ways]
    assert spreads == sorted(spreads, reverse=True)
    for way in STUDY.ways:
        assert way.outcome.spread.mean_spatial_variance_db2 == pytest.approx(way.way.best.variance_db2)
        assert way.outcome.loss_db <= STUDY.most_loss_db + 1e-6
        shared = [{way.outcome.settings[n] for n in group} for group in way.way.best.grouping]
        assert all(len(settings) == 1 for settings in shared)


def test_the_greatest_level_is_that_of_the_first_to_reach_its_own() -> None:
    """All alike, the 112 dB subwoofers give out first."""
    before = STUDY.before
    assert before.greatest_level_db == pytest.approx(before.spread.mean_level_db + 112.0)


def test_the_order_of_the_seats_is_of_no_consequence() -> None:
    straight, turned = (bass_study(replace(PAIR, seats=seats), CATALOGUE) for seats in (SIX_SEATS, SIX_SEATS[::-1]))
    for one, other in zip(straight.ways, turned.ways, strict=True):
        assert other.outcome.spread.spread_db == pytest.approx(one.outcome.spread.spread_db, rel=1e-6)


def test_an_open_model_has_no_low_corner_and_the_notes_say_so() -> None:
    either = replace(FRONT, candidates=("deep", "small"))
    study = bass_study(replace(BRIEF, subwoofers=(either,)), CATALOGUE)
    assert [one.low_corner_hz for one in study.subwoofers] == [None, None]
    assert any("'Front' is open" in note for note in study.notes)
    assert any("greatest level" in note for note in study.notes)
    assert study.before.greatest_level_db is None


def test_one_seat_has_nothing_to_differ_from() -> None:
    seat = Seat(name="Chair", position=BRIEF.seats[0].position)
    study = bass_study(replace(PAIR, seats=(seat,)), CATALOGUE)
    assert {way.outcome.spread.spread_db for way in study.ways} == {0.0}
    assert {setting.delay_ms for way in study.ways for setting in way.outcome.settings} == {0.0}
    assert any("one seat" in note for note in study.notes)


def test_the_notes_warn_above_schroeder_s_limit_and_of_heavy_damping() -> None:
    """2000 √(0.4 / 64.8) = 157 Hz; at 0.1 s the decay, 69/s, is more than half of ω at 20 Hz."""
    assert any("Above 157 Hz" in note for note in bass_study(PAIR, CATALOGUE, Band(low_hz=140, high_hz=170)).notes)
    damped = replace(PAIR, room=replace(PAIR.room, reverberation_time_s=0.1))
    assert any("light damping" in note for note in bass_study(damped, CATALOGUE).notes)


def test_frequencies_are_a_hertz_apart_or_four_to_a_bandwidth() -> None:
    """At 0.4 s a mode is 5.5 Hz wide; at 1.1 s 2 Hz, so half a hertz."""
    plain = frequencies(shoebox(BRIEF.room), 20.0, 80.0)
    assert plain.tolist() == list(range(20, 81))
    ringing = frequencies(shoebox(replace(BRIEF.room, reverberation_time_s=1.1)), 20.0, 80.0)
    assert len(ringing) == 122
    assert (ringing[0], ringing[-1]) == (20.0, 80.0)
