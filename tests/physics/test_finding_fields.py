"""Findings part by part: rule, where, how much against what, and what would help; the sentence says no more."""

import pytest

from planner.brief.records import Limits
from planner.design import Figure, FigureUnit, Finding, Jack, Place, PlaceKind, Severity
from planner.physics.line_findings import line_findings
from planner.physics.noise import chain_noise
from planner.physics.power import levels_at_seats
from planner.physics.power_findings import power_findings
from tests.physics.rig import In, Out, Rig, split
from tests.physics.small_systems import amplified


def of_lines(rig: Rig) -> list[Finding]:
    levels = rig.chains()
    return list(line_findings(levels, [chain_noise(each) for each in levels], Limits(physical=frozenset())))


def test_a_shortfall_has_its_figure_its_jacks_and_its_remedies_apart() -> None:
    """1.4 V are +5.14 dBu, and +2.0 dBu arrive: 3.14 dB."""
    (found,) = of_lines(split(Out(max_dbu=2.0), [In(volts=1.4)]))
    assert (found.rule, found.severity, found.heading) == ("R11", Severity.CONCERN, "Too little drive")
    (figure,) = found.figures
    assert (figure.of, figure.unit, figure.limit) == ("least level margin", FigureUnit.DB, 0.0)
    assert figure.value == pytest.approx(-3.14, abs=0.01)
    assert figure.beyond == pytest.approx(3.14, abs=0.01)
    assert [place.jacks for place in found.places] == [(Jack("Proc", "OUT1", 1),), (Jack("Sub 1", "IN", 1),)]
    assert all(remedy in found.message for remedy in found.remedies)
    assert len(found.remedies) == 2


@pytest.mark.parametrize(
    ("ceiling", "heading"),
    [
        ({"out": 2.0}, "DSP / OUT clips before full output"),
        ({"into": -9.0}, "DSP / IN clips before full output"),
        ({"source": -9.0}, "Too little drive"),
    ],
    ids=["output of the DSP unit", "input of the DSP unit", "head of the chain"],
)
def test_what_clips_behind_the_head_of_a_chain_is_called_clipping(ceiling: dict[str, float], heading: str) -> None:
    rig = Rig()
    rig.processor(Out(max_dbu=ceiling.get("source", 60.0)))
    rig.dsp("DSP", In(max_dbu=ceiling.get("into", 60.0)), Out(max_dbu=ceiling.get("out", 60.0)), max_gain_db=6.0)
    rig.sub("Sub 1", In(volts=1.4))
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", "Sub 1/IN/1")
    (found,) = of_lines(rig)
    assert found.heading == heading
    assert found.places[0].jacks[0].unit == heading.split(" / ")[0].replace("Too little drive", "Proc")


def test_alike_chains_share_a_finding_and_keep_their_places() -> None:
    rig = Rig()
    rig.processor(Out(max_dbu=2.0))
    rig.amplifier("Amp", In(volts=1.4))
    for number in (1, 2):
        rig.passive(f"L{number}")
        rig.wire(f"Proc/OUT1/{number}", f"Amp/IN/{number}")
        rig.wire(f"Amp/POST/{number}", f"L{number}/POST1/1")
    (found,) = of_lines(rig)
    assert {place.name for place in found.places} == {"Proc / OUT1 1", "Proc / OUT1 2", "Amp / IN 1", "Amp / IN 2"}


def test_a_missed_target_tells_set_loudspeaker_and_seat() -> None:
    system = amplified(4.0, passive={"sensitivity_db": 90.0})
    system.target_spl_db = 105.0
    told = power_findings(levels_at_seats(system.case(), system.channels()), Limits(physical=frozenset()))
    (found,) = (each for each in told if each.severity is not Severity.NOTE)
    assert [place.kind for place in found.places] == [PlaceKind.SET, PlaceKind.DEVICE, PlaceKind.SEAT]
    assert found.excess is not None
    assert (found.excess.limit, found.excess.unit) == (105.0, FigureUnit.DB)


@pytest.mark.parametrize(
    ("unit", "amount", "words"),
    [
        (FigureUnit.LOOPS, 1, "1 loop"),
        (FigureUnit.LOOPS, 6, "6 loops"),
        (FigureUnit.MS, 2.34, "2.3 ms"),
        (FigureUnit.DB, 0.031, "0.03 dB"),
        (FigureUnit.W, 7.5, "7.5 W"),
        (FigureUnit.A, 4.96, "5.0 A"),
        (FigureUnit.OHM, 8 / 3, "2.67 ohm"),
        (FigureUnit.V, 1.4, "1.4 V"),
    ],
)
def test_an_amount_is_told_in_its_unit(unit: FigureUnit, amount: float, words: str) -> None:
    assert Figure(of="x", value=amount, unit=unit).words(amount) == words


def test_the_sentence_is_made_of_the_parts() -> None:
    finding = Finding(
        rule="R17", severity=Severity.CONCERN, subject="A and B", heading="Too many earth loops", detail="Three.",
        figures=(Figure(of="hum", value=1e-4, unit=FigureUnit.V), Figure(of="loops", value=3, unit=FigureUnit.LOOPS,
                                                                          limit=1)),
        places=(Place(kind=PlaceKind.DEVICE, name="A"),), remedies=("one", "another"), caution="Never that.",
    )  # fmt: skip
    assert finding.message == "Too many earth loops by 2 loops. Three. Remedy: one; or another. Never that."
