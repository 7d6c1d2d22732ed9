"""R13 through whole designs: every published level and cable figure, and the findings around them."""

import math
from fractions import Fraction
from typing import Any

import pytest

from planner.brief.records import Limits, Point, Seat
from planner.catalogue.records import Powering
from planner.design import Finding, Severity, UnitKind
from planner.formulas.speaker_cable import CLASS_5_OHM_PER_KM
from planner.physics.power import LevelsAtSeats, levels_at_seats
from planner.physics.power_findings import power_findings
from tests.checks.drawing import DIRECT, made_up, stocked
from tests.physics.small_systems import System, amplified, catalogue
from tests.published.check_values import CheckValue, oracle, oracles

ROUNDING_DB = 1e-6
"""The published figures have nine digits."""


def computed(system: System) -> LevelsAtSeats:
    return levels_at_seats(system.case(), system.channels())


def found(system: System) -> tuple[Finding, ...]:
    return power_findings(computed(system), Limits(physical=frozenset()))


def concerns(system: System) -> list[str]:
    return [finding.message for finding in found(system) if finding.severity is Severity.CONCERN]


def level_db(system: System) -> float:
    (level,) = computed(system).seats
    return level.level_db


def meets(result: float, value: CheckValue) -> bool:
    return bool(abs(result - value.value) <= ROUNDING_DB)


def test_the_level_of_the_published_example() -> None:
    value = oracle("spl.ex_88db_200w_3_5m")
    result = level_db(amplified(3.5, amp={"power_8ohm_w": 200.0}))
    assert meets(result, value), f"{result!r} does not meet {value}"


def test_the_power_of_the_published_example_reaches_the_target_and_no_more() -> None:
    value = oracle("spl.ex_power_for_105_at_4m_90db")
    system = amplified(4.0, amp={"power_8ohm_w": value.value}, passive={"sensitivity_db": 90.0})
    system.target_spl_db = 105.0
    (headroom,) = computed(system).headrooms
    assert headroom.headroom_db == pytest.approx(0.0, abs=1e-7), value


def test_a_target_missed_names_the_power_that_would_do() -> None:
    value = oracle("spl.ex_power_for_105_at_4m_90db")
    system = amplified(4.0, passive={"sensitivity_db": 90.0})
    system.target_spl_db = 105.0
    (message,) = concerns(system)
    assert f"an amplifier of {value.value:.0f} W into 8 ohm; or a more sensitive loudspeaker" in message, value
    assert message.startswith("Target missed by 7.0 dB.")  # 10 log10(505.96 / 100) = 7.04


def test_the_amplifier_that_would_do_makes_up_for_the_cable() -> None:
    """A loss of 0.443 dB, published for 10 m of 18 AWG into 8 ohm, asks for 506 W x 10^0.0443."""
    loss, wanted = oracle("speaker_cable.loss_awg18_10m_8ohm"), oracle("spl.ex_power_for_105_at_4m_90db")
    area = oracle("speaker_cable.awg18_area").value
    system = amplified(4.0, cable_m=10.0, passive={"sensitivity_db": 90.0}, cable={"area_mm2": area})
    system.target_spl_db = 105.0
    (message,) = concerns(system)
    rating = math.ceil(wanted.value / 10 ** (loss.value / 10))
    assert f"an amplifier of {rating} W into 8 ohm; or a more sensitive loudspeaker" in message, (loss, wanted)


def test_a_target_beyond_what_the_loudspeaker_takes_asks_for_another_loudspeaker() -> None:
    system = amplified(4.0, passive={"sensitivity_db": 90.0, "handling_w": 300.0})
    system.target_spl_db = 105.0
    (message,) = concerns(system)
    assert "It would take 506 W at its terminals, and passive may be given 300 W" in message


@pytest.mark.parametrize("ohm", [4, 6, 8])
def test_a_sensitivity_for_2_83_v_is_brought_to_1_w(ohm: int) -> None:
    value = oracle(f"spl.sens_1w_minus_2v83_{ohm}ohm")
    amp = {"power_8ohm_w": 100.0, "power_4ohm_w": 200.0}
    for_1w = level_db(amplified(amp=amp, passive={"impedance_ohm": ohm}))
    for_2v83 = level_db(amplified(amp=amp, passive={"impedance_ohm": ohm, "sensitivity_at_2v83": True}))
    assert meets(for_2v83 - for_1w, value), value


@pytest.mark.parametrize("name", ["2", "3", "3_5", "4", "5"])
def test_level_falls_with_distance(name: str) -> None:
    value = oracle(f"spl.distance_{name}")
    far = level_db(amplified(float(name.replace("_", "."))))
    assert meets(far - level_db(amplified(1.0)), value), value


def test_nearer_than_1_m_counts_as_1_m() -> None:
    """As where the brief's target chooses the loudspeaker: DEVELOPERS.md, and common practice."""
    assert level_db(amplified(0.2)) == level_db(amplified(1.0))


def subwoofers(*levels_db: float) -> System:
    shop = catalogue(sub={"max_spl_db": levels_db[0]}, bass={"max_spl_db": levels_db[-1], "powering": Powering.ACTIVE})
    system = System(shop=shop)
    for level in levels_db:
        system.subwoofer("sub" if level == levels_db[0] else "bass", 1.0)
    return system


@pytest.mark.parametrize("count", [2, 3, 4, 8])
def test_subwoofers_are_summed_between_incoherent_and_coherent(count: int) -> None:
    (bass,) = computed(subwoofers(*[100.0] * count)).bass
    for value, result in (
        (oracle(f"spl.incoherent_{count}"), bass.incoherent_db),
        (oracle(f"spl.coherent_{count}"), bass.coherent_db),
    ):
        assert meets(result - 100.0, value), value


def test_unequal_subwoofers_in_phase() -> None:
    value = oracle("spl.coherent_diff_6db")
    (bass,) = computed(subwoofers(100.0, 94.0)).bass
    assert meets(bass.coherent_db - 100.0, value), value


def test_the_sum_of_subwoofers_is_told_with_its_range() -> None:
    (note,) = found(subwoofers(100.0, 100.0))
    assert note.severity is Severity.NOTE
    assert "the 2 subwoofers of LFE1 together 103.0 dB (incoherent) to 106.0 dB (in phase) at Seat" in note.message


_GAUGES, _METRES, _LOADS = (12, 14, 16, 18), (5, 10, 20, 30), (4, 8)


@pytest.mark.parametrize("gauge", _GAUGES)
@pytest.mark.parametrize("metres", _METRES)
@pytest.mark.parametrize("ohm", _LOADS)
def test_cable_loses_what_the_published_table_says(gauge: int, metres: int, ohm: int) -> None:
    value, area = oracle(f"speaker_cable.loss_awg{gauge}_{metres}m_{ohm}ohm"), oracle(f"speaker_cable.awg{gauge}_area")
    system = amplified(cable_m=metres, cable={"area_mm2": area.value}, passive={"impedance_ohm": ohm})
    (channel,) = system.channels()
    assert meets((channel.feeds[0].loss_db or 0.0), value), value


def test_the_loss_of_cable_is_in_the_level_too() -> None:
    value, area = oracle("speaker_cable.loss_awg18_30m_8ohm"), oracle("speaker_cable.awg18_area")
    lossy = level_db(amplified(cable_m=30.0, cable={"area_mm2": area.value}))
    assert meets(lossy - level_db(amplified()), value), value


@pytest.mark.parametrize("value", oracles("speaker_cable.maxlen_0_5db_"), ids=lambda value: value.name[26:])
def test_half_a_decibel_is_the_limit_at_the_published_length(value: CheckValue) -> None:
    """Just within it nothing is said; a hundredth longer is a concern."""
    size, load = value.name.removeprefix("speaker_cable.maxlen_0_5db_").rsplit("_", 1)
    area = oracle(f"speaker_cable.{size}_area").value if size.startswith("awg") else float(size[:-3].replace("_", "."))
    figures: dict[str, Any] = {
        "cable": {"area_mm2": area},
        "passive": {"impedance_ohm": float(load.removesuffix("ohm"))},
    }
    assert concerns(amplified(cable_m=value.value * 0.9999, **figures)) == [], value
    (message,) = concerns(amplified(cable_m=value.value * 1.01, **figures))
    assert "and the brief tolerates 0.5 dB" in message


def test_a_lossy_run_names_the_area_that_would_do() -> None:
    """8.9 m is the most for 1.5 mm2 into 4 ohm, 14.9 m for 2.5, 23.9 m for 4 (table of the standard's maxima)."""
    (message,) = concerns(amplified(cable_m=20.0, cable={"area_mm2": 1.5}, passive={"impedance_ohm": 4.0}))
    assert "20.00 m of 1.5 mm2" in message
    assert message.endswith(" Remedy: cable of 4 mm2.")


def test_the_area_named_serves_every_run_of_a_set() -> None:
    system = amplified(cable_m=10.0, cable={"area_mm2": 1.5}, passive={"impedance_ohm": 4.0})
    system.speaker("passive", 2.0)
    system.run("Amp/SPK/2", "Speaker 2/IN/1", made_up(20.0, ("cable", 1)))
    (message,) = concerns(system)
    assert "The cable to Speaker 2, 20.00 m" in message
    assert message.endswith("In all, 2 runs of this set lose too much. Remedy: cable of 4 mm2.")


def test_the_least_impedance_sets_the_cable_where_it_is_known() -> None:
    (channel,) = amplified(cable_m=10.0, passive={"least_impedance_ohm": 4.0}).channels()
    (nominal,) = amplified(cable_m=10.0, passive={"impedance_ohm": 4.0}).channels()
    assert channel.feeds[0].loss_db == nominal.feeds[0].loss_db


def test_a_run_that_no_cable_serves_is_to_be_shortened() -> None:
    (message,) = concerns(amplified(cable_m=500.0, passive={"impedance_ohm": 4.0}))
    assert message.endswith(f"a shorter run; no flexible conductor up to {max(CLASS_5_OHM_PER_KM):g} mm2 would do.")


@pytest.mark.parametrize(
    ("ohm", "expected"),
    [
        (16, Fraction(50)),  # the rated voltage limits it: V²/Z
        (8, Fraction(100)),
        (6, Fraction(100) + Fraction(60, 3)),  # a third of the way along 1/Z from 1/8 to 1/4
        (4, Fraction(160)),
        (2, Fraction(160)),  # no more than the last rating
    ],
)
def test_power_into_the_real_impedance(ohm: int, expected: Fraction) -> None:
    amp = {"power_8ohm_w": 100.0, "power_4ohm_w": 160.0}
    (channel,) = amplified(amp=amp, passive={"impedance_ohm": ohm}).channels()
    assert channel.feeds[0].available_w == pytest.approx(float(expected))


def test_power_beyond_handling_is_a_concern_and_is_not_counted() -> None:
    system = amplified(amp={"power_8ohm_w": 200.0}, passive={"handling_w": 100.0})
    (message,) = concerns(system)
    assert "Speaker 1 can be given up to 200 W, and passive may be given 100 W" in message
    assert level_db(system) == pytest.approx(88.0 + 20.0)  # 10 log10(100)


@pytest.mark.parametrize(("power_w", "told"), [(100.5, False), (102.0, True)])
def test_the_rounding_of_ratings_is_not_worth_a_word(power_w: float, told: bool) -> None:
    system = amplified(amp={"power_8ohm_w": power_w}, passive={"handling_w": 100.0})
    assert len(concerns(system)) == told


def test_a_receivers_own_amplifiers_play_too() -> None:
    system = System(shop=catalogue(proc={"amp_power_8ohm_w": 100.0}))
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    system.speaker("passive", 1.0)
    system.run("Proc/SPK/1", "Speaker 1/IN/1", made_up(0.0, ("cable", 1)))
    assert level_db(system) == pytest.approx(108.0)
    assert "own amplifiers give less than that when many play at once" in found(system)[-1].message


def test_the_weakest_way_of_a_crossed_loudspeaker_counts() -> None:
    system = System(shop=catalogue(crossed={"sensitivity_db": 90.0, "impedance_ohm": 8.0}))
    system.unit(UnitKind.AMPLIFIER, "Amp", "amp")
    system.speaker("crossed", 1.0)
    system.run("Amp/SPK/1", "Speaker 1/1 LOW/1", made_up(0.0, ("cable", 1)), way=1)
    system.run("Amp/SPK/2", "Speaker 1/2 HIGH/1", made_up(30.0, ("cable", 1)), way=2)
    (output,) = computed(system).outputs
    loss_db = min(feed.loss_db or 0.0 for channel in system.channels() for feed in channel.feeds)
    assert loss_db < -0.4
    assert output.level_1m_db == pytest.approx(90.0 + 20.0 + loss_db)


def test_passive_subwoofers_in_a_chain_share_the_power_and_the_cable() -> None:
    """Two of 8 ohm are 4 ohm together: each gets half of the 160 W into 4 ohm (Kirchhoff)."""
    system = System(shop=catalogue(amp={"power_8ohm_w": 100.0, "power_4ohm_w": 160.0}, bass={"sensitivity_db": 90.0}))
    system.unit(UnitKind.AMPLIFIER, "Amp", "amp")
    for number in (1, 2):
        system.subwoofer("bass", float(number))
    system.run("Amp/SPK/1", "Sub 1/IN/1", made_up(10.0, ("cable", 1)))
    system.run("Sub 1/LINK/1", "Sub 2/IN/1", DIRECT)
    (channel,) = system.channels()
    # 10 m of 2.5 mm2 there and back, 7.98 ohm/km (IEC 60228 class 5), into 4 ohm.
    share = (4 / (4 + 2 * 10 * 0.00798)) ** 2
    assert [feed.available_w for feed in channel.feeds] == pytest.approx([80 * share, 80 * share])


def test_every_primary_seat_has_a_level_and_the_worst_one_counts() -> None:
    system = amplified(2.0)
    system.seats = (
        Seat(name="Near", position=Point(0.0, 0.0, 0.0), primary=True),
        Seat(name="Far", position=Point(-2.0, 0.0, 0.0), primary=True),
        Seat(name="Guest", position=Point(-9.0, 0.0, 0.0)),
    )
    levels = computed(system)
    assert [level.seat for level in levels.seats] == ["Near", "Far"]
    assert levels.lowest[0].seat == "Far"
    assert levels.seats[0].level_db - levels.seats[1].level_db == pytest.approx(-oracle("spl.distance_2").value)


def test_without_a_primary_seat_every_seat_counts() -> None:
    system = amplified(2.0)
    system.seats = (Seat(name="One", position=Point(0.0, 0.0, 0.0)), Seat(name="Two", position=Point(-2.0, 0.0, 0.0)))
    assert [level.seat for level in computed(system).seats] == ["One", "Two"]


@pytest.mark.parametrize(
    ("changes", "lacking"),
    [
        ({"passive": {"sensitivity_db": None}}, "the sensitivity of passive"),
        ({"passive": {"impedance_ohm": None}}, "the impedance of passive"),
        ({"cable": {"area_mm2": None}}, "the copper area of the cable to Speaker 1"),
        ({"passive": {"handling_w": None}}, "the power that passive may be given"),
    ],
)
def test_what_the_catalogue_does_not_say_is_a_note(changes: dict[str, Any], lacking: str) -> None:
    changes = {"passive": {"handling_w": 500.0}, **changes}
    notes = [finding for finding in found(amplified(**changes)) if lacking in finding.message]
    assert [note.severity for note in notes] == [Severity.NOTE]


def test_an_active_loudspeaker_without_a_level_is_a_note() -> None:
    system = System(shop=catalogue(active={"max_spl_db": None}))
    system.speaker("active", 2.0)
    (note,) = found(system)
    assert (note.severity, note.subject) == (Severity.NOTE, "Main")
    assert "its greatest level" in note.message


def test_one_subwoofer_of_unknown_level_leaves_no_sum() -> None:
    system = subwoofers(100.0, 94.0)
    system.shop = catalogue(bass={"powering": Powering.ACTIVE})
    assert computed(system).bass == ()


def test_a_passive_loudspeaker_on_a_line_output_has_no_amplifier() -> None:
    system = System()
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    system.speaker("passive", 2.0)
    system.run("Proc/OUT/1", "Speaker 1/IN/1", stocked("rca", 1.0))
    (output,) = computed(system).outputs
    assert (output.level_1m_db, output.unknown) == (None, "the amplifier that drives it")
