"""What must be connected: which models may serve a set, and where its members stand."""

from dataclasses import replace

import pytest

from planner.brief.records import LoudspeakerSet, Placement, Point, Seat
from planner.catalogue.records import Loudspeaker, PortRole, Powering
from planner.demand.loads import greatest_level_at_1m_db, load_sets
from planner.options import Status
from planner.placement import member_positions
from planner.plan import options
from tests.demand.shop import (
    HOUSE,
    POST,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
    at,
    brief,
    ins,
    outs,
    shelf,
    speakers,
    subs,
)

PASSIVE = Loudspeaker(
    sku="L", name="L", powering=Powering.PASSIVE, sensitivity_db=87.0, impedance_ohm=8.0, handling_w=100.0
)


def test_an_active_loudspeaker_states_its_own_level() -> None:
    active = Loudspeaker(sku="A", name="A", powering=Powering.ACTIVE, max_spl_db=110.0)
    assert greatest_level_at_1m_db(active) == 110.0
    assert greatest_level_at_1m_db(replace(active, max_spl_db=None)) is None


def test_a_passive_one_reaches_its_sensitivity_at_all_that_it_handles() -> None:
    """By hand: 87 dB for 1 W is 107 dB for 100 W, since a hundred times the power is 20 dB."""
    assert greatest_level_at_1m_db(PASSIVE) == pytest.approx(107.0, abs=1e-9)
    assert greatest_level_at_1m_db(replace(PASSIVE, sensitivity_db=None)) is None
    assert greatest_level_at_1m_db(replace(PASSIVE, handling_w=None)) is None


@pytest.mark.parametrize(("impedance_ohm", "excess_db"), [(8.0, 0.0048), (4.0, 3.0151)])
def test_a_sensitivity_for_2_83_v_is_for_more_than_a_watt_below_8_ohm(impedance_ohm: float, excess_db: float) -> None:
    """2.83 V is 2.83²/Z W: 1.0011 W into 8 ohm, 2.0022 W into 4 ohm, as in IEC 60268-5 practice (from memory)."""
    at_2v83 = replace(PASSIVE, sensitivity_at_2v83=True, impedance_ohm=impedance_ohm)
    level = greatest_level_at_1m_db(at_2v83)
    assert level == pytest.approx(107.0 - excess_db, abs=1e-4)


def test_only_loudspeakers_that_reach_the_target_at_the_farthest_primary_seat_serve() -> None:
    """By hand: at 2 m the level is 6.02 dB less than at 1 m, so 100 dB there takes 106.02 dB."""
    shop = Shop()
    for sku, level in (("loud", 106.1), ("low", 106.0)):
        found = Loudspeaker(sku=sku, name=sku, powering=Powering.ACTIVE, max_spl_db=level)
        shop.sell(found, 100, ins("IN", XLR))
    asked = LoudspeakerSet(
        name="C", placements=(Placement(channel="M+000", position=Point(1.0, 2.5, 1.2)),), target_spl_db=100.0
    )
    near, far = (
        Seat(name="near", position=Point(2.0, 2.5, 1.2)),
        Seat(name="far", position=Point(3.0, 2.5, 1.2), primary=True),
    )
    found_brief = replace(brief(asked), seats=(near, far))
    catalogue = shop.catalogue()
    (load,) = load_sets(found_brief, catalogue, shelf(found_brief, catalogue), member_positions(found_brief))
    assert [model.sku for model in load.models] == ["loud"]


def small_shop() -> Shop:
    shop = Shop()
    shop.processor("P", 1000, outs("A", XLR, 2, PortRole.ASSIGNABLE))
    shop.speaker("L", 200, ins("IN", XLR))
    shop.sub("S", 300, ins("IN", XLR))
    shop.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    return shop


def test_members_stand_where_the_brief_says_and_leads_are_as_long_as_the_way() -> None:
    asked, catalogue = brief(subs("S", 4.0, 6.5)), small_shop().catalogue()
    (load,) = load_sets(asked, catalogue, shelf(asked, catalogue), member_positions(asked))
    assert [(m.index, m.channel, m.position, m.from_rack_m) for m in load.members] == [
        (0, "LFE1", at(4.0)[0], 4.0),
        (1, "LFE1", at(6.5)[0], 6.5),
    ]


def test_a_model_without_a_usable_input_serves_nobody() -> None:
    shop = small_shop()
    shop.speaker("X", 1, ins("LOW", POST), ways=2)  # two ways, and terminals for one
    asked, catalogue = brief(speakers("Mains", "X", "M+000", 3.0)), shop.catalogue()
    (load,) = load_sets(asked, catalogue, shelf(asked, catalogue), member_positions(asked))
    assert load.models == ()


def test_a_set_that_may_stay_empty_does_where_nothing_can_serve_it() -> None:
    """No subwoofer can be had, none is needed: the loudspeaker is planned for 1000 + 200 + 10."""
    asked = brief(speakers("Mains", "L", "M+000", 3.0), subs("S", 4.0, least=0), excluded=("S",))
    result = options(asked, small_shop().catalogue(), HOUSE)
    assert result.status is Status.PROVEN
    assert [option.measures.price_minor for option in result.options] == [121000]
