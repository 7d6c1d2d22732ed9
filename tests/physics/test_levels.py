"""Levels and margins on chains small enough to work out by hand, and the gain of a DSP unit."""

import pytest

from planner.catalogue.records import OutputStage
from planner.physics import examine
from planner.physics.levels import level_words
from tests.checks.good_designs import brief
from tests.physics.rig import In, Out, Rig, split
from tests.published.check_values import oracle

SUB_1 = "Sub 1/IN/1"
HALF_VOLT_DBU = -3.8021
"""20 log10(0.5 / 0.7746), by hand."""


def through_dsp(
    *,
    source_dbu: float | None = 18.0,
    in_dbu: float | None = 20.0,
    out_dbu: float | None = 12.0,
    max_gain_db: float = 0.0,
    sub: In | None = None,
) -> Rig:
    rig = Rig()
    rig.processor(Out(max_dbu=source_dbu))
    rig.dsp("DSP", In(max_dbu=in_dbu), Out(max_dbu=out_dbu), max_gain_db=max_gain_db)
    rig.sub("Sub 1", sub or In(volts=0.5, max_dbu=None))
    rig.wire("Proc/OUT1/1", "DSP/IN/1")
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", SUB_1)
    return rig


def test_a_direct_chain_has_the_margin_of_its_output() -> None:
    levels = split(Out(max_dbu=8.2), [In(volts=0.5, max_dbu=14.0)]).levels(SUB_1)
    assert levels.full_output_dbu == pytest.approx(HALF_VOLT_DBU, abs=1e-4)
    assert [point.margin_db for point in levels.points] == pytest.approx(
        [8.2 - HALF_VOLT_DBU, 14 - HALF_VOLT_DBU], abs=1e-4
    )
    assert levels.least_margin_db == pytest.approx(12.0021, abs=1e-4)
    assert str(levels.first_to_clip) == "Proc / OUT1 1"


def test_without_a_ceiling_of_the_sink_the_rest_decides() -> None:
    levels = split(Out(max_dbu=8.2), [In(volts=0.5, max_dbu=None)]).levels(SUB_1)
    assert levels.points[1].margin_db is None
    assert levels.least_margin_db == pytest.approx(12.0021, abs=1e-4)


def test_the_dsp_unit_is_turned_down_until_what_comes_in_fits_its_output() -> None:
    levels = through_dsp().levels(SUB_1)
    assert levels.gains_db == pytest.approx((0.0, 12.0 - 18.0), abs=1e-6)
    assert levels.least_margin_db == pytest.approx(12.0 - HALF_VOLT_DBU, abs=1e-4)
    assert str(levels.first_to_clip) == "DSP / OUT 1"  # and the processor with it: less gain would not help


def test_the_dsp_unit_is_turned_up_no_further_than_it_goes() -> None:
    levels = through_dsp(source_dbu=2.0, max_gain_db=6.0).levels(SUB_1)
    assert levels.gains_db == pytest.approx((0.0, 6.0))
    assert levels.least_margin_db == pytest.approx(2.0 + 6.0 - HALF_VOLT_DBU, abs=1e-4)
    assert str(levels.first_to_clip) == "Proc / OUT1 1"


def test_the_input_of_a_dsp_unit_holds_a_hot_source_back() -> None:
    levels = through_dsp(in_dbu=4.0, max_gain_db=0.0).levels(SUB_1)
    assert levels.least_margin_db == pytest.approx(4.0 - HALF_VOLT_DBU, abs=1e-4)
    assert str(levels.first_to_clip) == "DSP / IN 1"
    # At the input stands all that the source gives; behind it what it passes.
    assert [point.at_maximum_dbu for point in levels.points] == pytest.approx([18.0, 18.0, 4.0, 4.0], abs=1e-6)


def test_a_link_output_clips_what_its_subwoofer_would_still_take() -> None:
    rig = Rig()
    rig.processor(Out(max_dbu=18.0))
    rig.sub("Sub 1", In(volts=0.5, max_dbu=20.0), Out(max_dbu=10.0))
    rig.sub("Sub 2", In(volts=0.5, max_dbu=20.0))
    rig.wire("Proc/OUT1/1", SUB_1)
    rig.wire("Sub 1/LINK/1", "Sub 2/IN/1")
    assert rig.levels(SUB_1).least_margin_db == pytest.approx(18.0 - HALF_VOLT_DBU, abs=1e-4)
    behind = rig.levels("Sub 2/IN/1")
    assert behind.gains_db == (0.0, 0.0)
    assert behind.least_margin_db == pytest.approx(10.0 - HALF_VOLT_DBU, abs=1e-4)
    assert str(behind.first_to_clip) == "Sub 1 / LINK 1"


def test_a_link_wired_through_loads_the_output_with_both_inputs() -> None:
    """Two inputs of 1200 ohm on 600 ohm are matched: 6.02 dB at both subwoofers."""
    rig = Rig()
    rig.processor(Out(max_dbu=0.0, ohm=600.0))
    rig.sub("Sub 1", In(volts=0.5, ohm=1200.0), Out(ohm=None, stage=OutputStage.UNKNOWN))
    rig.sub("Sub 2", In(volts=0.5, ohm=1200.0))
    rig.wire("Proc/OUT1/1", SUB_1)
    rig.wire("Sub 1/LINK/1", "Sub 2/IN/1")
    for sink in (SUB_1, "Sub 2/IN/1"):
        assert rig.levels(sink).arriving_dbu == pytest.approx(-6.0206, abs=1e-4)


def test_mirrored_jacks_do_not_load_one_another() -> None:
    rig = Rig()
    rig.processor(Out(max_dbu=0.0, ohm=600.0))
    for number in (1, 2):
        rig.sub(f"Sub {number}", In(ohm=600.0))
        rig.wire(f"Proc/OUT1/{number}", f"Sub {number}/IN/1")
    assert rig.levels(SUB_1).arriving_dbu == pytest.approx(-6.0206, abs=1e-4)


def test_levels_at_full_output_stand_one_below_the_other() -> None:
    """18 dBu source, DSP unit at -6 dB; 1.2 V at the sink are +3.8 dBu there and +9.8 dBu at the source."""
    levels = through_dsp(sub=In(volts=1.2)).levels(SUB_1)
    assert [point.at_full_output_dbu for point in levels.points] == pytest.approx(
        [9.8021, 9.8021, 3.8021, 3.8021], abs=1e-4
    )


@pytest.mark.parametrize(
    ("rig", "known"),
    [
        (through_dsp(source_dbu=None), False),
        (through_dsp(in_dbu=None), False),
        (through_dsp(out_dbu=None), False),
        (through_dsp(sub=In(volts=None)), False),
        (through_dsp(sub=In(volts=0.5, ohm=None)), False),
        (through_dsp(sub=In(volts=0.5, max_dbu=None)), True),
        (split(Out(ohm=None), [In(volts=0.5)]), False),
    ],
)
def test_a_margin_is_known_only_where_all_that_it_needs_is(rig: Rig, known: bool) -> None:
    assert (rig.levels(SUB_1).least_margin_db is not None) is known


def test_one_unknown_input_leaves_its_neighbours_unknown_too() -> None:
    rig = split(Out(), [In(volts=0.5, ohm=None), In(volts=0.5)])
    assert rig.levels("Sub 2/IN/1").arriving_dbu is None


def test_a_shortfall_is_told_though_something_before_it_is_unknown() -> None:
    """The DSP unit's output gives -10 dBu, the sink needs -3.8: no source can mend that."""
    levels = through_dsp(source_dbu=None, out_dbu=-10.0).levels(SUB_1)
    assert levels.least_margin_db == pytest.approx(-10.0 - HALF_VOLT_DBU, abs=1e-4)
    assert str(levels.first_to_clip) == "DSP / OUT 1"


def test_the_least_margin_is_over_all_chains_that_are_known() -> None:
    def m8_db(rig: Rig) -> float | None:
        return examine(rig.design(), brief(), rig.catalogue()).least_margin_db

    known = split(Out(max_dbu=10.0), [In(volts=0.5), In(volts=1.0), In(volts=None)])
    assert m8_db(known) == pytest.approx(10.0 - 2.2185, abs=1e-4)
    assert m8_db(split(Out(), [In(volts=None)])) is None
    assert m8_db(Rig()) is None


def test_the_leads_of_a_split_take_treble_together() -> None:
    """Twice 30 m of 100 pF/m behind 1000 ohm are 6 nF, as much as the published 10 nF behind 600 ohm."""
    rig = Rig()
    rig.processor(Out(ohm=1000.0))
    rig.splitter("Split", 2)
    rig.plug("Proc/OUT1/1", "Split")
    lead = rig.lead("Long", length_m=30.0, pf_per_m=100.0, balanced=False)
    for number in (1, 2):
        rig.active(f"L{number}", In())
        rig.wire(f"Split/LEG/{number}", f"L{number}/IN/1", lead)
    value = oracle("cable_c.loss20k_zs600_100m")
    assert rig.levels("L1/IN/1").treble_loss_db == pytest.approx(value.value, abs=1e-6), value


def test_one_leg_of_a_symmetrical_output_drives_a_lead_with_half_its_impedance() -> None:
    """30 m of 100 pF/m behind one leg of 2 x 500 ohm: -10 log10[1 + (2 pi 20k 500 3n)^2] = -0.1516 dB."""
    rig = Rig()
    rig.processor(Out(stage=OutputStage.SYMMETRICAL, ohm=1000.0))
    rig.active("Left", In())
    rig.wire("Proc/OUT1/1", "Left/IN/1", rig.lead("Long", length_m=30.0, pf_per_m=100.0, balanced=True))
    assert rig.levels("Left/IN/1").treble_loss_db == pytest.approx(-0.1516, abs=1e-4)


@pytest.mark.parametrize(
    ("level_dbu", "words"),
    [
        (4.0, "1.23 V (+4.0 dBu, +1.8 dBV)"),
        (-7.7815, "0.32 V (-7.8 dBu, -10.0 dBV)"),
        (-40.0, "7.75 mV (-40.0 dBu, -42.2 dBV)"),
    ],
)
def test_a_level_is_told_in_the_three_units_of_the_trade(level_dbu: float, words: str) -> None:
    assert level_words(level_dbu) == words


@pytest.mark.parametrize("tiny", [1e-320, 1e-300, 1e-9])
def test_figures_that_no_device_has_are_worked_with_all_the_same(tiny: float) -> None:
    """The catalogue's reader takes any impedance and sensitivity above 0."""
    rig = split(Out(stage=OutputStage.SYMMETRICAL, ohm=tiny, max_dbu=-60.0), [In(ohm=tiny, volts=tiny)])
    assert rig.levels(SUB_1).least_margin_db is not None
    assert all(rig.sentences())
