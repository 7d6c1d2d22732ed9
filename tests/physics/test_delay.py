"""R15 through whole designs: published speeds and times, latency, ranges, and what shares a delay."""

import pytest

from planner.brief.records import Limits, Point, Seat
from planner.catalogue.records import Controls, PortRole
from planner.design import Finding, Severity, UnitKind
from planner.physics.delay import DelayLine, delay_table
from planner.physics.delay_findings import delay_findings
from tests.checks.drawing import DIRECT, made_up, stocked
from tests.physics.small_systems import OUT, RCA, System, catalogue, port, with_ports
from tests.published.check_values import oracle

LEAD = stocked("rca", 1.0)


def table(system: System) -> tuple[DelayLine, ...]:
    return delay_table(system.case())


def by_unit(system: System) -> dict[str, DelayLine]:
    return {line.unit: line for line in table(system)}


def found(system: System) -> tuple[Finding, ...]:
    return delay_findings(table(system), system.temperature_c, Limits(physical=frozenset()))


def of_severity(system: System, severity: Severity) -> list[str]:
    return [finding.message for finding in found(system) if finding.severity is severity]


def within(max_delay_ms: float) -> Controls:
    return Controls(gain=True, polarity=True, max_delay_ms=max_delay_ms, filters=10, crossover_ways=1)


def dedicated(*metres: float, latency_ms: float = 0.0, max_delay_ms: float = 1000.0, celsius: float = 20.0) -> System:
    """Active loudspeakers, each on a processor output of its own."""
    shop = catalogue(proc={"latency_ms": latency_ms, "controls": within(max_delay_ms)})
    system = System(shop=shop, temperature_c=celsius)
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    for number, distance in enumerate(metres, 1):
        speaker = system.speaker("active", distance)
        system.run(f"Proc/OUT/{number}", f"{speaker}/IN/1", LEAD)
    return system


@pytest.mark.parametrize("celsius", [0, 10, 15, 20, 25, 30])
def test_a_second_of_flight_is_the_published_speed(celsius: int) -> None:
    value = oracle(f"room.c_{celsius}C")
    (line,) = table(dedicated(value.value, celsius=float(celsius)))
    assert line.arrival_ms == pytest.approx(1000.0, rel=1e-8), value


def test_the_published_delays_by_distance() -> None:
    near, far = oracle("room.ms_per_m_20C"), oracle("room.delay_3_5m_20C_ms")
    lines = by_unit(dedicated(1.0, 3.5))
    assert lines["Speaker 1"].arrival_ms == pytest.approx(near.value, rel=1e-8), near
    assert lines["Speaker 2"].arrival_ms == pytest.approx(far.value, rel=1e-8), far
    assert lines["Speaker 1"].set_ms == pytest.approx(far.value - near.value, rel=1e-8)
    assert lines["Speaker 2"].set_ms == 0.0


def test_the_listener_is_the_mean_of_the_primary_seats() -> None:
    system = dedicated(1.0)
    system.seats = (
        Seat(name="a", position=Point(-4.0, 0.0, 0.0), primary=True),
        Seat(name="b", position=Point(-1.0, 0.0, 0.0), primary=True),
        Seat(name="c", position=Point(9.0, 0.0, 0.0)),
    )
    (line,) = table(system)
    assert line.distance_m == pytest.approx(3.5)
    assert line.arrival_ms == pytest.approx(oracle("room.delay_3_5m_20C_ms").value, rel=1e-8)


def by_dsp(*metres: float, dsp_range_ms: float = 1000.0, proc_range_ms: float = 1000.0) -> System:
    """A loudspeaker 3.5 m away on the processor; subwoofers on a DSP unit behind another output."""
    shop = catalogue(
        proc={"latency_ms": 2.0, "controls": within(proc_range_ms)},
        dsp={"latency_ms": 1.5, "controls": within(dsp_range_ms)},
    )
    system = System(shop=shop)
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    system.unit(UnitKind.DSP, "DSP 1", "dsp")
    system.speaker("active", 3.5)
    system.run("Proc/OUT/1", "Speaker 1/IN/1", LEAD)
    system.run("Proc/OUT/2", "DSP 1/IN/1", LEAD)
    for number, distance in enumerate(metres, 1):
        subwoofer = system.subwoofer("sub", distance)
        system.route("DSP 1/IN/1", f"DSP 1/OUT/{number}")
        system.run(f"DSP 1/OUT/{number}", f"{subwoofer}/IN/1", LEAD)
    return system


def test_latency_of_processor_and_dsp_unit_comes_before_the_flight() -> None:
    lines = by_unit(by_dsp(3.5))
    assert lines["Sub 1"].arrival_ms - lines["Speaker 1"].arrival_ms == pytest.approx(1.5)
    assert lines["Speaker 1"].latency_ms == 2.0
    assert lines["Speaker 1"].set_ms == pytest.approx(1.5)
    assert lines["Sub 1"].set_ms == 0.0


def test_the_nearest_control_point_makes_the_delay() -> None:
    line = by_unit(by_dsp(1.0))["Sub 1"]
    # 2.5 m nearer is 7.2844 ms at 20 °C by the published 2.91375 ms/m, less 1.5 ms of latency.
    wanted = 2.5 * oracle("room.ms_per_m_20C").value - 1.5
    assert (line.control, line.device, line.before) == ("DSP 1 / OUT 1", "DSP 1", "")
    assert line.set_ms == pytest.approx(wanted, rel=1e-8)
    assert line.early_ms == pytest.approx(0.0, abs=1e-12)


def test_what_the_dsp_unit_cannot_give_the_output_before_it_gives() -> None:
    lines = by_unit(by_dsp(1.0, 1.5, dsp_range_ms=5.0))
    wanted = [d * oracle("room.ms_per_m_20C").value - 1.5 for d in (2.5, 2.0)]
    assert lines["Sub 1"].before == "Proc / OUT 2"
    assert lines["Sub 1"].before_ms == lines["Sub 2"].before_ms == pytest.approx(wanted[0] - 5.0)
    assert lines["Sub 1"].set_ms == pytest.approx(5.0)
    assert lines["Sub 2"].set_ms == pytest.approx(wanted[1] - (wanted[0] - 5.0))
    assert of_severity(by_dsp(1.0, 1.5, dsp_range_ms=5.0), Severity.CONCERN) == []


def test_the_output_before_gives_no_more_than_all_beneath_it_want() -> None:
    """One subwoofer is nearly as late as the loudspeaker, so the other falls short."""
    system = by_dsp(1.0, 2.9, dsp_range_ms=2.0)
    wanted = [d * oracle("room.ms_per_m_20C").value - 1.5 for d in (2.5, 0.6)]
    lines = by_unit(system)
    assert lines["Sub 1"].before_ms == pytest.approx(wanted[1])
    assert lines["Sub 1"].short_ms == pytest.approx(wanted[0] - wanted[1] - 2.0)
    (message,) = of_severity(system, Severity.CONCERN)
    assert "Sub 1 is to be delayed by 5.8 ms to arrive with Speaker 1" in message
    assert message.startswith("Delay out of range by 3.5 ms.")
    assert "DSP 1 / OUT 1 gives at most 2 ms, and Proc / OUT 2 0.2 ms before it." in message


def test_the_output_before_gives_no_more_than_it_can() -> None:
    line = by_unit(by_dsp(1.0, dsp_range_ms=2.0, proc_range_ms=1.0))["Sub 1"]
    wanted = 2.5 * oracle("room.ms_per_m_20C").value - 1.5
    assert (line.set_ms, line.before_ms) == (2.0, 1.0)
    assert line.short_ms == pytest.approx(wanted - 3.0)


def test_a_delay_beyond_the_range_is_told_with_its_milliseconds() -> None:
    """2.5 m at 2.91375 ms/m is 7.28 ms."""
    (message,) = of_severity(dedicated(1.0, 3.5, max_delay_ms=5.0), Severity.CONCERN)
    assert message.startswith(
        "Delay out of range by 2.3 ms. Speaker 1 is to be delayed by 7.3 ms to arrive with Speaker 2;"
    )
    assert "Proc / OUT 1 gives at most 5 ms." in message


def test_the_others_of_one_device_are_named_with_the_worst() -> None:
    (message,) = of_severity(dedicated(1.0, 1.2, 3.5, max_delay_ms=5.0), Severity.CONCERN)
    assert message.startswith("Delay out of range by 2.3 ms.")
    assert "at most 5 ms. Short too: Speaker 2." in message


def chained() -> System:
    system = dedicated(3.5)
    for metres in (2.0, 1.0):
        system.subwoofer("sub", metres)
    system.run("Proc/OUT/2", "Sub 1/IN/1", LEAD)
    system.run("Sub 1/LINK/1", "Sub 2/IN/1", LEAD)
    return system


def split() -> System:
    system = dedicated(3.5)
    system.unit(UnitKind.SPLITTER, "Splitter 1", "y")
    system.run("Proc/OUT/2", "Splitter 1/IN/1", DIRECT)
    for number, metres in enumerate((2.0, 1.0), 1):
        system.subwoofer("sub", metres)
        system.run(f"Splitter 1/LEG/{number}", f"Sub {number}/IN/1", LEAD)
    return system


def mirrored() -> System:
    system = dedicated(3.5)
    system.shop = with_ports(system.shop, port("proc", "XLR", OUT, RCA, role=PortRole.MIRRORED_SUB))
    for number, metres in enumerate((2.0, 1.0), 1):
        system.subwoofer("sub", metres)
        system.run(f"Proc/XLR/{number}", f"Sub {number}/IN/1", LEAD)
    return system


@pytest.mark.parametrize("system", [chained(), split(), mirrored()], ids=["chained", "split", "mirrored"])
def test_what_shares_a_control_point_shares_its_delay(system: System) -> None:
    """The later one arrives with the latest; the other 1 m, 2.91 ms, before it, whatever is set."""
    lines = by_unit(system)
    per_m = oracle("room.ms_per_m_20C").value
    assert lines["Sub 1"].set_ms == lines["Sub 2"].set_ms == pytest.approx(1.5 * per_m)
    assert lines["Sub 1"].early_ms == pytest.approx(0, abs=1e-9)
    assert lines["Sub 2"].early_ms == pytest.approx(per_m)
    assert of_severity(system, Severity.CONCERN) == []
    assert any(
        "share one delay: Sub 2 arrives 2.9 ms before Sub 1" in text for text in of_severity(system, Severity.NOTE)
    )


def test_ways_of_one_loudspeaker_are_delayed_one_by_one() -> None:
    """The low way straight from the processor, the high one through a DSP unit of 1.5 ms."""
    system = System(shop=catalogue(dsp={"latency_ms": 1.5}))
    for kind, unit_id, sku in ((UnitKind.PROCESSOR, "Proc", "proc"), (UnitKind.DSP, "DSP 1", "dsp")):
        system.unit(kind, unit_id, sku)
    system.unit(UnitKind.AMPLIFIER, "Amp", "amp")
    system.speaker("crossed", 2.0)
    system.run("Proc/OUT/1", "Amp/IN/1", LEAD, way=1)
    system.run("Proc/OUT/2", "DSP 1/IN/1", LEAD)
    system.route("DSP 1/IN/1", "DSP 1/OUT/1")
    system.run("DSP 1/OUT/1", "Amp/IN/2", LEAD, way=2)
    for channel, group in ((1, "1 LOW"), (2, "2 HIGH")):
        system.run(f"Amp/SPK/{channel}", f"Speaker 1/{group}/1", made_up(2.0, ("cable", 2)), way=channel)
    delays = {line.control: line.set_ms for line in table(system)}
    assert delays == {"Proc / OUT 1": pytest.approx(1.5), "DSP 1 / OUT 1": 0.0}


def test_all_equal_needs_no_delay() -> None:
    (note,) = found(dedicated(2.0, 2.0))
    assert note.message.endswith("none of the others needs a delay.")


@pytest.mark.parametrize(("celsius", "told"), [(-30.0, True), (20.0, False), (60.0, True)])
def test_a_temperature_beyond_the_standard_is_a_note(celsius: float, told: bool) -> None:
    notes = of_severity(dedicated(2.0, celsius=celsius), Severity.NOTE)
    assert any("the nearer end was taken" in message for message in notes) is told


def test_nothing_connected_needs_nothing() -> None:
    assert found(System()) == ()
