"""The chain view and the tables of the physics, each drawn by itself for a design of the tests."""

from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from planner.physics import Examination, examine
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE
from tests.physics.random_rigs import random_rig
from tests.ui.app import shown, sound


# Streamlit runs these by their source, where no name of this file is known.
def chain_view_of(examined: "Examination") -> None:
    from ui.widgets.chain_view import chain_view

    chain_view(examined, "1")


def tables_of(examined: "Examination") -> None:
    from ui.widgets.physics_tables import delays, earth, loudness, mains

    loudness(examined)
    delays(examined)
    earth(examined)
    mains(examined)


def drawn(script: Any, examined: Examination) -> AppTest:
    return sound(AppTest.from_function(script, args=(examined,), default_timeout=60).run())


def examined_of(drawn_design: Any) -> Examination:
    design, brief = drawn_design()
    return examine(design, brief, CATALOGUE)


def gapped(seed: int) -> Examination:
    rig = random_rig(seed)
    return examine(rig.design(), good_designs.brief(), rig.catalogue())


def column(app: AppTest, heading: str) -> list[str]:
    (found,) = [element.value for element in app.table if heading in element.value.columns]
    return [str(cell).replace("\\", "") for cell in found[heading]]


def test_the_chain_with_the_least_margin_comes_first() -> None:
    examined = gapped(0)  # of the rigs without gaps
    app = drawn(chain_view_of, examined)
    least = min(
        (levels for levels in examined.line_chains if levels.least_margin_db is not None),
        key=lambda levels: levels.least_margin_db or 0.0,
    )
    assert column(app, "Jack") == [str(point.jack) for point in least.points]
    assert app.selectbox[0].options[app.selectbox[0].index or 0].endswith(f"margin {least.least_margin_db:.1f} dB")
    assert len(column(app, "Chain")) == len(examined.line_chains)


def test_another_chain_is_picked_from_the_list() -> None:
    examined = gapped(0)
    app = drawn(chain_view_of, examined)
    last = len(examined.line_chains) - 1
    sound(app.selectbox[0].set_value(last).run())
    assert column(app, "Jack") == [str(point.jack) for point in examined.line_chains[last].points]


@pytest.mark.parametrize("seed", [2, 5])
def test_what_the_catalogue_leaves_open_is_no_trouble(seed: int) -> None:
    drawn(chain_view_of, gapped(seed))
    drawn(tables_of, gapped(seed))


@pytest.mark.parametrize("design", [good_designs.amplified, good_designs.by_dsp_unit, good_designs.receiver])
def test_every_table_is_filled_from_the_examination(design: Any) -> None:
    examined = examined_of(design)
    app = drawn(tables_of, examined)
    if examined.loads:
        assert column(app, "Amplifier channel") == [load.channel for load in examined.loads for _ in load.drives]
    assert column(app, "Set at") == [line.control for line in examined.delays]
    if examined.levels_at_seats.seats:
        assert column(app, "Plays") == [level.unit for level in examined.levels_at_seats.seats]
    assert "A protective earth is never lifted or disconnected." in shown(app)
    assert "licensed electrician" in shown(app)
