"""R14: the load of every amplifier channel, an external one or a receiver's own, against the least it may drive."""

from typing import Any

import pytest

from planner.brief.records import Limits
from planner.design import Finding, Severity, UnitKind
from planner.physics.load import channel_loads, load_findings
from tests.checks.drawing import DIRECT, made_up
from tests.physics.small_systems import System, amplified, catalogue
from tests.published.check_values import oracle


def found(system: System) -> tuple[Finding, ...]:
    return load_findings(channel_loads(system.channels()), Limits(physical=frozenset()))


def internal(**changes: dict[str, Any]) -> System:
    system = System(shop=catalogue(**changes))
    system.unit(UnitKind.PROCESSOR, "Proc", "proc")
    system.speaker("passive", 2.0)
    system.run("Proc/SPK/1", "Speaker 1/IN/1", made_up(5.0, ("cable", 5)))
    return system


def of_impedance(nominal_ohm: float | None, least_ohm: float | None, least_load_ohm: float) -> System:
    return amplified(
        passive={"impedance_ohm": nominal_ohm, "least_impedance_ohm": least_ohm},
        amp={"least_load_ohm": least_load_ohm},
    )


def test_a_load_at_the_limit_is_nothing_to_speak_of() -> None:
    assert found(of_impedance(4.0, 3.2, 4.0)) == ()


def test_a_nominal_load_below_the_limit_is_told_with_both_figures() -> None:
    (finding,) = found(of_impedance(4.0, None, 6.0))
    assert (finding.rule, finding.severity, finding.subject) == ("R14", Severity.CONCERN, "Amp")
    assert "A load of 4 ohm (Speaker 1): a channel of Amp may drive no less than 6 ohm" in finding.message


@pytest.mark.parametrize(("least_ohm", "told"), [(4.8, False), (4.7, True)])
def test_a_dip_below_80_per_cent_of_the_limit_is_a_concern(least_ohm: float, told: bool) -> None:
    """80 %: IEC 60268-5, from memory."""
    findings = found(of_impedance(8.0, least_ohm, 6.0))
    assert [finding.severity for finding in findings] == [Severity.CONCERN] * told


def test_without_a_nominal_impedance_the_least_one_stands_in() -> None:
    (finding,) = found(of_impedance(None, 3.5, 4.0))
    assert "3.5 ohm (Speaker 1): a channel of Amp may drive no less than 4 ohm" in finding.message


def test_internal_amplifiers_have_a_limit_too() -> None:
    (finding,) = found(internal(proc={"amp_least_load_ohm": 6.0}, passive={"impedance_ohm": 4.0}))
    assert "a channel of Proc may drive no less than 6 ohm" in finding.message


@pytest.mark.parametrize(
    ("system", "lacking"),
    [
        (of_impedance(None, None, 4.0), "the impedance of Speaker 1"),
        (internal(), "the least load of Proc"),
    ],
)
def test_what_the_catalogue_does_not_say_is_a_note(system: System, lacking: str) -> None:
    (finding,) = found(system)
    assert finding.severity is Severity.NOTE
    assert lacking in finding.message


def chained(count: int) -> System:
    system = System(shop=catalogue(bass={"least_impedance_ohm": 6.4}, amp={"least_load_ohm": 4.0}))
    system.unit(UnitKind.AMPLIFIER, "Amp", "amp")
    for number in range(1, count + 1):
        system.subwoofer("bass", 2.0)
        system.run("Amp/SPK/1" if number == 1 else f"Sub {number - 1}/LINK/1", f"Sub {number}/IN/1", DIRECT)
    return system


def test_passive_subwoofers_in_a_chain_are_in_parallel() -> None:
    """Equal resistances in parallel, R/N by Kirchhoff: 8/2 is allowed, 8/3 is not."""
    (two,) = channel_loads(chained(2).channels())
    assert (two.nominal_ohm, two.least_ohm, two.too_low) == (4.0, 3.2, False)
    (three,) = channel_loads(chained(3).channels())
    assert three.nominal_ohm == pytest.approx(8 / 3)
    (finding,) = found(chained(3))
    assert "A load of 2.67 ohm (Sub 1, Sub 2 and Sub 3 together)" in finding.message


def test_several_output_jacks_of_one_channel_are_in_parallel() -> None:
    """Output jack k of every group is channel k; the load is that of a matched pair, published as 1:1."""
    system = amplified()
    system.speaker("passive", 2.0)
    system.run("Amp/SPK/1", "Speaker 2/IN/1", made_up(1.0, ("cable", 1)))
    (load,) = channel_loads(system.channels())
    # A source of 8 ohm into 8 ohm loses 6.02 dB by the published row: half, as two equal ones in parallel.
    assert load.nominal_ohm == pytest.approx(8 * 10 ** (oracle("split.matched_1_to_1").value / 20), rel=1e-8)


def test_channels_of_one_device_that_are_alike_are_told_together() -> None:
    system = of_impedance(4.0, None, 6.0)
    system.speaker("passive", 2.0)
    system.run("Amp/SPK/2", "Speaker 2/IN/1", made_up(1.0, ("cable", 1)))
    (finding,) = found(system)
    assert finding.message.startswith("Load too low by 2 ohm. A load of 4 ohm (Speaker 1 and Speaker 2):")
