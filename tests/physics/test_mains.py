"""R16: rack units, watts and heat as totals; nothing is passed, and an electrician is named."""

import pytest
from scipy import constants

from planner.catalogue.records import Mains
from planner.design import Severity, UnitKind
from planner.physics.mains import MainsTotals, Supply, mains_findings, mains_totals
from tests.physics.small_systems import System, catalogue


def system(**changes: Mains) -> System:
    """A processor and an amplifier in the rack, an active loudspeaker and a passive one in the room."""
    drawn = System(shop=catalogue(**{sku: {"mains": mains} for sku, mains in changes.items()}))
    drawn.unit(UnitKind.PROCESSOR, "Proc", "proc")
    drawn.unit(UnitKind.AMPLIFIER, "Amp 1", "amp")
    drawn.unit(UnitKind.AMPLIFIER, "Amp 2", "amp")
    drawn.speaker("active", 2.0)
    drawn.speaker("passive", 2.0)
    return drawn


def totals() -> MainsTotals:
    return mains_totals(
        system(
            proc=Mains(rack_units=2, idle_w=30.0, rated_w=60.0),
            amp=Mains(rack_units=3, idle_w=40.0, rated_w=500.0),
            active=Mains(idle_w=10.0, rated_w=100.0),
        ).case()
    )


def test_units_and_watts_are_summed_by_place() -> None:
    found = totals()
    assert found.rack_units == 2 + 3 + 3
    assert found.rack == Supply(idle_w=30.0 + 40.0 + 40.0, rated_w=60.0 + 500.0 + 500.0)
    assert found.room == Supply(idle_w=10.0, rated_w=100.0)
    assert found.whole == Supply(idle_w=120.0, rated_w=1160.0)
    assert found.unstated == ()


def test_heat_in_btu_per_hour_agrees_with_scipy() -> None:
    """scipy.constants holds the International Table BTU, as CODATA's conversions do."""
    rack = totals().rack
    assert rack.idle_btu_per_h == pytest.approx(110.0 * constants.hour / constants.Btu)
    assert rack.rated_btu_per_h == pytest.approx(1060.0 * constants.hour / constants.Btu)


def test_the_notes_give_amperes_and_leave_circuits_to_an_electrician() -> None:
    mains, heat = mains_findings(totals())
    assert (mains.rule, mains.severity, heat.severity) == ("R16", Severity.NOTE, Severity.NOTE)
    assert "8 rack units" in mains.message
    assert "5.0 A at 230 V or 9.7 A at 120 V" in mains.message  # 1160 / 230 and 1160 / 120
    assert "switch it on in turn" in mains.message
    assert "licensed electrician, by the local code" in mains.message
    assert "at most 1060 W (3617 BTU/h)" in heat.message  # 1060 W at 3.412 BTU/h each


def test_a_device_without_stated_mains_is_named_and_a_passive_one_is_not() -> None:
    found = mains_totals(system(proc=Mains(rack_units=2, rated_w=60.0)).case())
    assert found.unstated == ("Amp 1", "Amp 2", "Speaker 1")
    note = mains_findings(found)[-1]
    assert note.severity is Severity.NOTE
    assert "no mains power for Amp 1, Amp 2 and Speaker 1" in note.message
