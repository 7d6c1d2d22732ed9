"""Loads, levels at seats, delays, earth loops and mains as people read them: figures by hand, sentences whole."""

import pytest

from planner.design import UnitKind
from planner.physics import examine
from planner.physics.earth import EarthLoop
from planner.physics.earth_graph import SAFETY_EARTH, EarthEdge, Join
from planner.physics.load import ChannelLoad
from planner.physics.mains import MainsTotals, Supply
from planner.tables.delays import DELAY_HEADINGS, delay_rows
from planner.tables.earth import loop_rows
from planner.tables.loudness import (
    BASS_HEADINGS,
    LOAD_HEADINGS,
    SEAT_HEADINGS,
    bass_rows,
    load_rows,
    load_words,
    seat_rows,
)
from planner.tables.mains import mains_rows, mains_sentences
from tests.checks.drawing import stocked
from tests.physics.small_systems import System, amplified, catalogue
from tests.physics.test_delay import dedicated, table, within


def rows_of(headings: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[dict[str, str]]:
    return [dict(zip(headings, row, strict=True)) for row in rows]


def loads(system: System) -> list[dict[str, str]]:
    examined = examine(system.design(), system.brief(), system.shop)
    return rows_of(LOAD_HEADINGS, load_rows(examined.levels_at_seats.channels, examined.loads))


def test_a_channel_is_told_with_its_load_and_its_cable() -> None:
    """200 W into 4 ohm; no cable between."""
    (row,) = loads(
        amplified(
            amp={"power_4ohm_w": 200.0, "least_load_ohm": 4.0},
            passive={"impedance_ohm": 4.0, "least_impedance_ohm": 3.2},
        )
    )
    assert row == {
        "Amplifier channel": "Amp / SPK 1", "Drives": "Speaker 1", "Load": "fits", "Nominal, ohm": "4.0",
        "Least, ohm": "3.2", "Least allowed, ohm": "4.0", "Power into it, W": "200", "Cable, m": "0.0",
        "Area, mm²": "2.5", "Cable loss, dB": "0.00", "At the terminals, W": "200",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("nominal", "least", "allowed", "words"),
    [
        (8.0, 6.4, 8.0, "fits"),
        (4.0, 3.2, 8.0, "too low"),
        (8.0, 4.0, 8.0, "dips too low"),
        (None, 6.0, 8.0, "too low"),
        (8.0, 6.4, None, "not known"),
        (None, None, 8.0, "not known"),
    ],
)
def test_whether_a_load_fits(nominal: float | None, least: float | None, allowed: float | None, words: str) -> None:
    load = ChannelLoad(
        channel="A", device="A", drives=("B",), nominal_ohm=nominal, least_ohm=least, least_load_ohm=allowed
    )
    assert load_words(load) == words


def test_a_seat_is_told_with_the_headroom_to_its_target() -> None:
    """100 dB at 1 m are 94.0 dB at 2 m (inverse distance), 4.0 over 90 dB."""
    system = System(target_spl_db=90.0)
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    system.run("Proc/OUT/1", f"{system.speaker('active', 2.0)}/IN/1", stocked("rca", 1.0), "M+030")
    for number in (1, 2):
        system.run(f"Proc/OUT/{number + 1}", f"{system.subwoofer('sub', 2.0)}/IN/1", stocked("rca", 1.0))
    at_seats = examine(system.design(), system.brief(), system.shop).levels_at_seats
    first, *subwoofers = rows_of(SEAT_HEADINGS, seat_rows(at_seats))
    assert first == {
        "Plays": "Speaker 1", "Set": "Main", "Seat": "Seat", "Distance, m": "2.00",
        "Greatest level, dB SPL": "94.0", "Target, dB SPL": "90.0", "Headroom, dB": "4.0",
    }  # fmt: skip
    assert [(row["Target, dB SPL"], row["Headroom, dB"]) for row in subwoofers] == [("–", "–")] * 2
    # Two of 104.0 dB: 3.0 dB more by power, 6.0 dB more in phase.
    (bass,) = rows_of(BASS_HEADINGS, bass_rows(at_seats.bass))
    assert list(bass.values()) == ["LFE1", "Seat", "2", "107.0", "110.0"]


def delays(system: System) -> list[dict[str, str]]:
    return rows_of(DELAY_HEADINGS, delay_rows(table(system)))


def test_a_delay_is_told_with_the_output_that_makes_it() -> None:
    near, far = delays(dedicated(1.0, 4.43, latency_ms=2.0))
    assert (near["Set at"], near["Range, ms"], near["Latency, ms"]) == ("Proc / OUT 1", "1000.00", "2.00")
    # 3.43 m more at 343.2 m/s (20 °C, ISO 9613-1) are 9.99 ms.
    assert near["Delay to set, ms"] == "9.99"
    assert (near["Outcome"], far["Outcome"], far["Delay to set, ms"]) == ("aligned", "aligned", "0.00")


def test_a_delay_beyond_the_range_says_by_how_much() -> None:
    near, _ = delays(dedicated(1.0, 4.43, max_delay_ms=5.0))
    assert near["Delay to set, ms"] == "5.00"
    assert near["Outcome"] == "4.99 ms short of range"


def test_a_delay_that_is_shared_and_one_made_before_say_so() -> None:
    """Subwoofers at 1 and 2 m on one DSP output of 2 ms beside a loudspeaker at 6 m: 2.91 ms between the two."""
    system = System(shop=catalogue(dsp={"controls": within(2.0)}))
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    system.unit(UnitKind.DSP, "DSP", "dsp")
    lead = stocked("rca", 1.0)
    system.run("Proc/OUT/1", f"{system.speaker('active', 6.0)}/IN/1", lead, "M+030")
    system.run("Proc/OUT/2", "DSP/IN/1", lead)
    system.route("DSP/IN/1", "DSP/OUT/1")
    system.run("DSP/OUT/1", f"{system.subwoofer('sub', 1.0)}/IN/1", lead)
    system.run("Sub 1/LINK/1", f"{system.subwoofer('sub', 2.0)}/IN/1", lead)
    _, near, far = delays(system)
    # 4 m more at 343.2 m/s are 11.66 ms, of which the unit makes 2.
    assert far["Outcome"] == "9.66 ms more at Proc / OUT 2"
    assert near["Outcome"] == "9.66 ms more at Proc / OUT 2; 2.91 ms early, since it shares the delay of others"


def edge(one: str, other: str, join: Join, shield_ohm: float | None = None) -> EarthEdge:
    lead = "" if one == SAFETY_EARTH else f"{one} / OUT 1 to {other} / IN 1"
    return EarthEdge(one=one, other=other, join=join, lead=lead, shield_ohm=shield_ohm)


EARTHS = tuple(edge(SAFETY_EARTH, name, Join.PROTECTIVE_EARTH) for name in ("Proc", "Sub"))


def test_a_loop_that_may_hum_is_told_with_all_that_breaks_it() -> None:
    """316 µA in 0.5 ohm are 158 µV."""
    (row,) = loop_rows([EarthLoop(edges=(edge("Proc", "Sub", Join.UNBALANCED, 0.5), *EARTHS))])
    assert row == (
        "Proc, Sub, the safety earth",
        "Proc / OUT 1 to Sub / IN 1",
        "158.0",
        "Any one of these: a line isolating transformer at the receiving end of Proc / OUT 1 to Sub / IN 1; a balanced"
        " link with the right lead instead; gear of class II, which has no mains earth, in place of Proc or Sub.",
    )


def test_loops_that_do_no_harm_ask_for_nothing() -> None:
    balanced = EarthLoop(edges=(edge("Proc", "Sub", Join.BALANCED), *EARTHS))
    bundle = EarthLoop(edges=(edge("Proc", "Amp", Join.UNBALANCED), edge("Amp", "Proc", Join.UNBALANCED)))
    assert [row[2:] for row in loop_rows([balanced, bundle])] == [
        ("–", "Nothing needed in practice: its shields carry no signal."),
        ("–", "Run these leads side by side: they do no harm then."),
    ]


def test_mains_are_told_by_place_with_the_current_in_all() -> None:
    """230 W are 1.0 A at 230 V and 1.9 A at 120 V; 1 W is 3.412 BTU/h."""
    totals = MainsTotals(
        rack_units=5,
        rack=Supply(idle_w=50.0, rated_w=130.0),
        room=Supply(idle_w=20.0, rated_w=100.0),
        unstated=("Sub 1",),
    )
    assert [row[1:] for row in mains_rows(totals)] == [
        ("50", "130", "171", "444"),
        ("20", "100", "68", "341"),
        ("70", "230", "239", "785"),
    ]
    current, caution, unstated = mains_sentences(totals)
    assert (
        current
        == "5 rack units. In all 1.0 A at 230 V or 1.9 A at 120 V at rated output, more with a poor power factor."
    )
    assert "licensed electrician" in caution
    assert unstated == "The catalogue gives no mains power for Sub 1: left out here."
