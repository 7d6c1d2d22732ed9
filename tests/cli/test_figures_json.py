"""The figures of an option as JSON: by hand on a small system, and against what the findings are made of."""

import json
from dataclasses import replace
from random import Random
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from planner.catalogue.records import Catalogue, OutputStage
from planner.design import Design
from planner.figures_json import figures_tree
from planner.physics import examine
from planner.physics.earth import EarthLoop
from planner.physics.earth_graph import SAFETY_EARTH, EarthEdge, Join
from planner.physics.earth_remedies import Means, remedies
from planner.result_json import as_text
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE
from tests.cli.test_result_json import SCHEMA
from tests.physics.random_rigs import random_rig
from tests.physics.rig import In, Out, Rig, split

FIGURES = Draft202012Validator({"$ref": "#/$defs/figures", "$defs": SCHEMA["$defs"]})


def parsed(design: Design, catalogue: Catalogue, brief: Any = None) -> Any:
    tree = figures_tree(examine(design, brief or good_designs.brief(), catalogue))
    FIGURES.validate(tree)
    return json.loads(as_text(tree))


def through_dsp() -> Rig:
    """+18 dBu into a DSP unit that clips at +12 dBu, on to a subwoofer that wants 0.5 V; 600 ohm into 600 ohm twice."""
    rig = Rig()
    rig.processor(Out(max_dbu=18.0, ohm=600.0), noise_dbu=-90.0)
    rig.dsp("DSP", In(max_dbu=20.0, ohm=600.0), Out(max_dbu=12.0, ohm=600.0), noise_dbu=-95.0)
    rig.sub("Sub 1", In(volts=0.5, ohm=600.0, max_dbu=None))
    rig.wire("Proc/OUT1/1", "DSP/IN/1", rig.lead("Long", length_m=20.0, pf_per_m=100.0, balanced=False))
    rig.route("DSP/IN/1", "DSP/OUT/1")
    rig.wire("DSP/OUT/1", "Sub 1/IN/1")
    return rig


def test_a_chain_jack_by_jack_by_hand() -> None:
    """Matched impedances take 6.02 dB at each joint; 0.5 V are -3.80 dBu and -6.02 dBV."""
    rig = through_dsp()
    (chain,) = parsed(rig.design(), rig.catalogue())["chains"]
    points = chain["points"]
    assert [f"{point['device']} {point['port']}" for point in points] == [
        "Proc OUT1 1",
        "DSP IN 1",
        "DSP OUT 1",
        "Sub 1 IN 1",
    ]
    assert [point["maximum"]["dbu"] for point in points] == [18.0, 11.98, 11.98, 5.96]
    assert [point["full_output"]["dbu"] for point in points] == [8.24, 2.22, 2.22, -3.8]
    assert points[-1]["full_output"] == {"v": 0.5, "dbu": -3.8, "dbv": -6.02}
    assert points[1]["full_output"]["v"] == 1.0
    assert [point["margin_db"] for point in points] == [9.76, 17.78, 9.78, None]
    assert points[0]["noise_dbu"] == -90.0
    assert points[1]["noise_dbu"] == pytest.approx(-96.02, abs=0.01)  # the heat in 300 ohm is 32 dB below
    assert (chain["least_margin_db"], chain["first_to_clip"]) == (9.76, {"device": "Proc", "port": "OUT1 1"})


def test_what_loads_an_output_is_told_with_the_way_to_its_input() -> None:
    rig = through_dsp()
    first, second = parsed(rig.design(), rig.catalogue())["chains"][0]["hops"]
    assert (first["source_ohm"], first["load_ohm"], first["inputs"]) == (600.0, 600.0, 1)
    assert first["least_arriving_db"] == first["greatest_arriving_db"] == -6.02
    assert (first["gain_set_db"], second["gain_set_db"]) == (0.0, 0.0)
    assert first["joints"] == [
        {"from_device": "Proc", "from_port": "OUT1 1", "to_device": "DSP", "to_port": "IN 1", "length_m": 20.0}
    ]
    # 20 m of 100 pF/m behind 600 ohm: -10 log10[1 + (2 pi 20k 600 2n)^2].
    assert first["treble_loss_db"] == pytest.approx(-0.10, abs=0.005)


def test_a_split_is_loaded_by_all_its_inputs() -> None:
    rig = split(Out(ohm=600.0), [In(ohm=1200.0, volts=0.5), In(ohm=1200.0)])
    first, second = parsed(rig.design(), rig.catalogue())["chains"]
    assert [hop["load_ohm"] for chain in (first, second) for hop in chain["hops"]] == [600.0, 600.0]
    assert [joint["to_device"] for joint in first["hops"][0]["joints"]] == ["Split", "Sub 1"]
    assert second["full_output_dbu"] is second["least_margin_db"] is second["first_to_clip"] is None


@pytest.mark.parametrize("drawn", good_designs.ALL, ids=lambda drawn: drawn.__name__)
def test_the_figures_of_every_good_design_fit_the_schema(drawn: Any) -> None:
    design, brief = drawn()
    examined, tree = examine(design, brief, CATALOGUE), parsed(design, CATALOGUE, brief)
    assert len(tree["earth_loops"]) == len(examined.earth_loops)
    assert {line["device"] for line in tree["delays"]} == {line.unit for line in examined.delays}
    for headroom in examined.levels_at_seats.headrooms:
        told = [level["headroom_db"] for level in tree["seat_levels"] if level["set"] == headroom.set_name]
        assert min(told) == pytest.approx(headroom.headroom_db, abs=0.005)
    assert tree["mains"]["whole"]["rated_w"] == pytest.approx(examined.mains.whole.rated_w)


@pytest.mark.parametrize("seed", range(12))
def test_figures_with_gaps_fit_the_schema_too(seed: int) -> None:
    rig = random_rig(seed)
    parsed(rig.design(), rig.catalogue())


def test_an_unbalanced_output_has_no_figure_beyond_sense() -> None:
    """The catalogue's reader takes any level; what is beyond JSON or sense must not stop the answer."""
    rig = split(Out(max_dbu=1e6, stage=OutputStage.SYMMETRICAL), [In(volts=1e-300)])
    assert parsed(rig.design(), rig.catalogue())["chains"][0]["points"][0]["maximum"]["v"] > 0


def edge(one: str, other: str, join: Join) -> EarthEdge:
    return EarthEdge(one=one, other=other, join=join, lead="" if one == SAFETY_EARTH else f"{one} to {other}")


def test_a_loop_is_broken_at_any_unbalanced_lead_or_by_a_device_without_an_earth() -> None:
    loop = EarthLoop(
        edges=(
            edge("Proc", "Sub", Join.UNBALANCED),
            edge(SAFETY_EARTH, "Sub", Join.PROTECTIVE_EARTH),
            edge(SAFETY_EARTH, "DSP", Join.PROTECTIVE_EARTH),
            edge("DSP", "Proc", Join.BALANCED),
        )
    )
    assert [(remedy.by, remedy.any_of) for remedy in remedies(loop)] == [
        (Means.ISOLATOR, ("Proc to Sub",)),
        (Means.BALANCED_LINK, ("Proc to Sub",)),
        (Means.CLASS_II, ("Sub", "DSP")),
    ]


def test_a_balanced_loop_wants_no_balanced_link() -> None:
    loop = EarthLoop(edges=(edge("A", "B", Join.BALANCED), edge("B", "A", Join.BALANCED)))
    assert [(remedy.by, remedy.any_of) for remedy in remedies(loop)] == [(Means.ISOLATOR, ("A to B", "B to A"))]


def test_no_remedy_ever_lifts_a_protective_earth() -> None:
    """Whatever the design, an earth is no place for any means but a device that needs none."""
    random = Random(3)
    for drawn in good_designs.ALL:
        design, brief = drawn()
        items = tuple(
            replace(amp, mains=random.choice([amp.mains, replace(amp.mains, class_ii=True)]))
            for amp in CATALOGUE.amplifiers
        )
        for loop in examine(design, brief, replace(CATALOGUE, amplifiers=items)).earth_loops:
            for remedy in remedies(loop):
                assert "" not in remedy.any_of
                assert SAFETY_EARTH not in remedy.any_of
