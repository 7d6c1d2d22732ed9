"""The level diagram shows the figures of the chain, in dash and shape as well as colour, and marks the least margin."""

from functools import cache
from typing import Any

import pytest

from planner.physics.noise import chain_noise
from tests.physics.random_rigs import random_rig
from tests.physics.rig import In, Out, Rig, split
from tests.physics.test_levels import through_dsp
from ui.level_diagram import level_diagram
from ui.level_scale import level_scale

SUB_1 = "Sub 1/IN/1"


@cache
def through_the_dsp_unit() -> Any:
    """+18 dBu, a DSP unit that clips at +12 dBu, and 0.5 V, -3.8 dBu, at the sink."""
    return drawn(through_dsp())


def drawn(rig: Rig, sink: str = SUB_1) -> Any:
    levels = rig.levels(sink)
    return level_diagram(levels, chain_noise(levels)).to_dict()


def rows(chart: Any) -> list[dict[str, Any]]:
    return [row for values in chart["datasets"].values() for row in values]


def line(chart: Any, name: str) -> dict[float, str]:
    return {row["stage"]: row["figure"] for row in rows(chart) if row.get("line") == name}


def words(chart: Any) -> list[str]:
    return [row["words"] for row in rows(chart) if "words" in row and "line" not in row]


def layers(chart: Any) -> list[Any]:
    return [layer for group in chart["layer"] for layer in group.get("layer", [group])]


def test_the_lines_are_the_levels_of_the_chain() -> None:
    chart = through_the_dsp_unit()
    assert line(chart, "Greatest level") == {0: "+18.0", 1: "+18.0", 2: "+12.0", 3: "+12.0"}
    assert line(chart, "Level at full output") == {0: "+2.2", 1: "+2.2", 2: "−3.8", 3: "−3.8"}
    assert line(chart, "Noise floor")[0] == "−200.0"


def test_ceilings_are_steps_as_wide_as_their_jack() -> None:
    """The subwoofer's input has no ceiling that is known, and no step."""
    steps = line(through_the_dsp_unit(), "Ceiling of the jack")
    assert steps == {-0.5: "+18.0", 0.5: "+20.0", 1.5: "+12.0", 2.5: "+12.0"}  # the later corner stands at each join


def test_jacks_are_named_across_in_the_order_of_flow() -> None:
    axis = layers(through_the_dsp_unit())[-2]["encoding"]["x"]["axis"]
    assert axis["values"] == [0, 1, 2, 3]
    assert (
        axis["labelExpr"] == '([["Proc", "OUT1 1"], ["DSP", "IN 1"], ["DSP", "OUT 1"], ["Sub 1", "IN 1"]])[datum.value]'
    )


def test_the_least_margin_is_a_bracket_with_its_figure() -> None:
    chart = through_the_dsp_unit()
    assert words(chart) == ["scale broken here", "least margin 15.8 dB"]
    scale = level_scale([18.0, 18.0, 12.0, 12.0, 20.0, 2.2, -3.8], [-200.0])
    assert scale.breaks is not None
    ends = [row["height"] for row in rows(chart) if set(row) == {"stage", "height"} and row["stage"] == 2]
    assert sorted(ends) == pytest.approx([-3.8021, 12.0], abs=1e-3)


def test_a_shortfall_is_marked_as_one() -> None:
    assert "4.2 dB lacking" in words(drawn(split(Out(max_dbu=4.0), [In(volts=2.0)])))


def test_what_differs_in_colour_differs_in_shape_and_dash() -> None:
    chart = layers(through_the_dsp_unit())
    (points,) = [layer for layer in chart if "shape" in layer.get("encoding", {})]
    for name in ("shape", "color"):
        scale = points["encoding"][name]["scale"]
        assert len(set(scale["range"])) == len(scale["domain"]) == 4
    dashes = [tuple(layer["mark"]["strokeDash"]) for layer in chart if layer["mark"].get("strokeWidth") == 2]
    assert len(set(dashes)) == len(dashes) == 3


def test_volts_stand_on_the_right_at_the_heights_of_their_levels() -> None:
    *_, volts = layers(drawn(split(Out(max_dbu=10.0), [In(volts=0.5)])))
    axis = volts["encoding"]["y"]["axis"]
    assert axis["orient"] == "right"
    assert '"1 V"' in axis["labelExpr"]


@pytest.mark.parametrize("seed", range(4))
def test_any_chain_can_be_drawn(seed: int) -> None:
    longest = max(random_rig(seed).chains(), key=lambda levels: len(levels.points))
    assert level_diagram(longest, chain_noise(longest)).to_dict()["layer"]


def test_a_chain_of_which_nothing_is_known_is_drawn_empty() -> None:
    chart = drawn(split(Out(max_dbu=None, ohm=None), [In(ohm=None, max_dbu=None)]))
    assert line(chart, "Greatest level") == line(chart, "Level at full output") == {}
