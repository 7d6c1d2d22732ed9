"""What arrives at each input on an output, against the same circuit solved node by node."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.catalogue.records import OutputStage
from planner.formulas.output_circuit import arriving_db
from planner.physics.levels import ChainLevels
from tests.physics.nodal import hot_and_cold
from tests.physics.rig import BALANCED_STAGES, In, Out, Rig

KNOWN = [OutputStage.UNBALANCED, *(stage for stage in BALANCED_STAGES if stage is not OutputStage.UNKNOWN)]
SOURCES, INPUTS = st.floats(1.0, 10e3), st.floats(100.0, 1e6)


def mixed_split(stage: OutputStage, source_ohm: float, xlr_ohm: list[float], rca_ohm: list[float]) -> Rig:
    """Balanced subwoofers "X1" … and unbalanced ones "R1" … on one output of 0 dBu by a splitter."""
    out = Out(stage=stage, ohm=source_ohm, max_dbu=0.0)
    rig = Rig()
    rig.processor(out)
    rig.splitter("Split", len(xlr_ohm) + len(rca_ohm), balanced=out.balanced)
    rig.plug("Proc/OUT1/1", "Split")
    names = [f"X{n}" for n in range(len(xlr_ohm))] + [f"R{n}" for n in range(len(rca_ohm))]
    for leg, (name, ohm) in enumerate(zip(names, [*xlr_ohm, *rca_ohm], strict=True), 1):
        rig.sub(name, In(ohm=ohm, balanced=name.startswith("X"), volts=1.0))
        rig.wire(f"Split/LEG/{leg}", f"{name}/IN/1")
    return rig


def arriving_v(levels: ChainLevels) -> float:
    assert levels.arriving_dbu is not None
    return math.pow(10, levels.arriving_dbu / 20)  # re the 0 dBu that the output gives


@given(st.sampled_from(KNOWN), SOURCES, st.lists(INPUTS, max_size=3), st.lists(INPUTS, max_size=3))
@settings(max_examples=60)
def test_every_input_of_a_split_hears_what_the_nodes_say(
    stage: OutputStage, source_ohm: float, xlr_ohm: list[float], rca_ohm: list[float]
) -> None:
    if not xlr_ohm and not rca_ohm:
        rca_ohm = [10_000.0]
    if stage is OutputStage.UNBALANCED:
        # The shell side of a balanced input is joined to the shield, at the source's end of the lead.
        hot, cold = hot_and_cold(stage, source_ohm, [], [*xlr_ohm, *rca_ohm])
        assert cold == pytest.approx(0.0, abs=1e-9)
    else:
        hot, cold = hot_and_cold(stage, source_ohm, xlr_ohm, rca_ohm)
    for levels in mixed_split(stage, source_ohm, xlr_ohm, rca_ohm).chains():
        across = levels.chain.sink.jack.unit.startswith("X") and stage is not OutputStage.UNBALANCED
        assert arriving_v(levels) == pytest.approx(hot - cold if across else hot, rel=1e-6)


@pytest.mark.parametrize(
    ("stage", "db"),
    [
        # Measured re the balanced level. Symmetrical: D. Self, Small Signal Audio Design, chapter
        # on line outputs. Impedance-balanced: a stored glossary of an audio magazine. The other
        # two by Kirchhoff: the far end ties the cold, and the whole voltage stands at the hot.
        (OutputStage.SYMMETRICAL, -6.0206),
        (OutputStage.IMPEDANCE_BALANCED, 0.0),
        (OutputStage.SERVO, 0.0),
        (OutputStage.TRANSFORMER, 0.0),
    ],
)
def test_a_balanced_output_of_each_build_into_an_unbalanced_input(stage: OutputStage, db: float) -> None:
    levels = mixed_split(stage, 1e-3, [], [10e6]).levels("R0/IN/1")
    assert levels.arriving_dbu == pytest.approx(db, abs=1e-4)


def test_an_output_of_unknown_build_counts_with_the_lesser_level_and_gives_both() -> None:
    levels = mixed_split(OutputStage.UNKNOWN, 1e-3, [], [10e6]).levels("R0/IN/1")
    assert levels.arriving_dbu == pytest.approx(-6.0206, abs=1e-4)
    assert levels.losses_db[0] == pytest.approx((-6.0206, 0.0), abs=1e-4)


def test_an_output_of_unknown_build_is_sure_of_its_balanced_inputs() -> None:
    levels = mixed_split(OutputStage.UNKNOWN, 600.0, [600.0], []).levels("X0/IN/1")
    assert levels.losses_db[0] == pytest.approx((-6.0206, -6.0206), abs=1e-4)


def test_an_unbalanced_output_into_a_balanced_input_loses_nothing_by_it() -> None:
    levels = mixed_split(OutputStage.UNBALANCED, 1e-3, [10e6], []).levels("X0/IN/1")
    assert levels.arriving_dbu == pytest.approx(0.0, abs=1e-4)


@pytest.mark.parametrize("stage", KNOWN)
def test_an_output_without_impedance_of_its_own_cannot_be(stage: OutputStage) -> None:
    with pytest.raises(ValueError, match="source_ohm is 0"):
        arriving_db(stage, 0.0, [], [10_000.0], into_balanced=False)


def test_the_cold_is_lost_at_the_first_joint_that_has_no_place_for_it() -> None:
    """XLR output, splitter with RCA legs, then a two-core lead to a balanced input: one leg arrives."""
    rig = Rig()
    rig.processor(Out(stage=OutputStage.SYMMETRICAL, max_dbu=0.0))
    rig.splitter("Split", 2, balanced=False)
    rig.plug("Proc/OUT1/1", "Split")
    rig.sub("Sub 1", In(balanced=True, volts=1.0))
    rig.wire("Split/LEG/1", "Sub 1/IN/1")
    levels = rig.levels("Sub 1/IN/1")
    assert not levels.chain.hops[0].taken.balanced
    assert levels.arriving_dbu == pytest.approx(-6.0206, abs=1e-4)


def test_a_one_core_lead_loses_the_cold_too() -> None:
    rig = Rig()
    rig.processor(Out(stage=OutputStage.SYMMETRICAL, max_dbu=0.0))
    rig.sub("Sub 1", In(balanced=True, volts=1.0))
    rig.wire("Proc/OUT1/1", "Sub 1/IN/1", rig.lead("One core", length_m=3.0, pf_per_m=None, balanced=False))
    assert rig.levels("Sub 1/IN/1").arriving_dbu == pytest.approx(-6.0206, abs=1e-4)
