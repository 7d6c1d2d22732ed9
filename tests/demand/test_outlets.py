"""Where a signal can leave a device: what a brief can tell apart, and what it cannot."""

from dataclasses import replace

import pytest

from planner.catalogue.records import Catalogue, Controls, PortGroup, PortRole
from planner.contacts import Connector
from planner.costing import PriceList
from planner.demand.gear import ProcessorChoice, processor_choices
from planner.demand.kinds import plain_kinds
from planner.demand.outlets import Outlet, View, signals_of
from tests.demand.shop import BARE_CONTROLS, CROSSING, FULL, HOUSE, POST, RCA, XLR, Shop, brief, outs, shelf

VIEW = View(
    kinds=plain_kinds(Catalogue()),
    channels=frozenset({"M+030", "M-030", "LFE1"}),
    filters_wanted=5,
    most_ways=1,
    most_spare=4,
)


def outlet(port: PortGroup, controls: Controls = FULL) -> Outlet:
    found = replace(VIEW, kinds=plain_kinds(Catalogue())).outlet(port, controls)
    assert found is not None
    return found


def choices(shop: Shop) -> tuple[ProcessorChoice, ...]:
    catalogue, asked = shop.catalogue(), brief()
    return processor_choices(VIEW, catalogue, shelf(asked, catalogue), PriceList(asked, catalogue, HOUSE))


@pytest.mark.parametrize(
    ("port", "carried"),
    [
        (outs("A", XLR, 2, PortRole.ASSIGNABLE), {"M+030", "M-030", "LFE1", "U+045"}),
        (outs("A", XLR, 2, PortRole.ASSIGNABLE, ("M+030", "LFE1")), {"M+030", "LFE1"}),
        (outs("F", XLR, 2, PortRole.FIXED_MAIN, ("M+030", "M-030")), {"M+030", "M-030"}),
        (outs("S", RCA, 2, PortRole.FIXED_SUB), {"LFE1"}),
        (outs("S", RCA, 2, PortRole.MIRRORED_SUB), {"LFE1"}),
    ],
)
def test_an_output_carries_a_channel_only_if_its_role_allows_it(port: PortGroup, carried: set[str]) -> None:
    """Rule R4."""
    found = outlet(port)
    assert {c for c in ("M+030", "M-030", "LFE1", "U+045") if found.may_carry(c)} == carried


@pytest.mark.parametrize("connector", [Connector.AES3, Connector.AES67])
def test_a_digital_port_is_no_outlet(connector: Connector) -> None:
    assert VIEW.outlet(outs("D", connector, 8, PortRole.ASSIGNABLE), FULL) is None


def test_a_mirrored_group_is_one_signal_on_several_jacks() -> None:
    mirrored, apart = outs("S", RCA, 3, PortRole.MIRRORED_SUB), outs("S", RCA, 3, PortRole.FIXED_SUB)
    assert (signals_of(mirrored), outlet(mirrored).jacks) == (1, 3)
    assert (signals_of(apart), outlet(apart).jacks) == (3, 1)


def test_groups_that_this_brief_cannot_tell_apart_are_one_outlet() -> None:
    """More delay, more filters than wanted and another name do not matter here; the connector does."""
    plain = outs("A", XLR, 2, PortRole.ASSIGNABLE)
    rich = replace(FULL, max_delay_ms=500.0, filters=31, crossover_ways=4)
    assert outlet(plain) == outlet(outs("B", XLR, 7, PortRole.ASSIGNABLE), rich)
    assert outlet(plain) != outlet(outs("A", RCA, 2, PortRole.ASSIGNABLE))


@pytest.mark.parametrize("controls", [BARE_CONTROLS, replace(FULL, filters=4), replace(FULL, max_delay_ms=0.0)])
def test_an_outlet_that_cannot_set_a_subwoofer_is_another_outlet(controls: Controls) -> None:
    port = outs("A", XLR, 2, PortRole.ASSIGNABLE)
    assert outlet(port, controls).capable is False
    assert outlet(port).capable is True


def test_what_an_outlet_could_set_does_not_matter_where_no_bass_passes() -> None:
    port = outs("F", XLR, 2, PortRole.FIXED_MAIN, ("M+030", "M-030"))
    assert outlet(port) == outlet(port, BARE_CONTROLS)


def test_a_fixed_jack_never_carries_a_way() -> None:
    view = replace(VIEW, most_ways=2)
    fixed = view.outlet(outs("F", XLR, 1, PortRole.FIXED_MAIN, ("M+030",)), CROSSING)
    free = view.outlet(outs("A", XLR, 1, PortRole.ASSIGNABLE), CROSSING)
    assert fixed is not None
    assert free is not None
    assert (fixed.crossover_ways, free.crossover_ways) == (1, 2)


@pytest.mark.parametrize(
    ("channels", "others"), [(("M+030", "U+045", "U-045"), 2), (("M+030",), 0), (tuple(f"C{n}" for n in range(9)), 4)]
)
def test_listed_channels_that_the_brief_lacks_bound_what_is_spare(channels: tuple[str, ...], others: int) -> None:
    assert outlet(outs("A", XLR, 9, PortRole.ASSIGNABLE, channels)).others == others  # no more than the ceiling of 4


def test_like_groups_of_processor_and_cards_merge_into_one_outlet() -> None:
    shop = Shop()
    shop.processor(
        "P", 100, outs("A", XLR, 2, PortRole.ASSIGNABLE), outs("B", XLR, 3, PortRole.ASSIGNABLE), card_slots=2
    )
    shop.card("C", 10, outs("X", XLR, 4, PortRole.ASSIGNABLE), fits=("P",), adds_processed_outputs=4)
    found = {choice.cards: choice for choice in choices(shop)}
    assert set(found) == {(), ("C",), ("C", "C")}
    assert [list(found[cards].outlets.values()) for cards in sorted(found)] == [[5], [9], [13]]
    (origins,) = found[("C", "C")].origins.values()
    assert [(o.card, o.group, o.signals) for o in origins] == [(0, "A", 2), (0, "B", 3), (1, "X", 4), (2, "X", 4)]
    assert [found[cards].processed_outputs for cards in sorted(found)] == [16, 20, 24]
    assert [found[cards].price_minor for cards in sorted(found)] == [10000, 11000, 12000]


def test_mirrored_groups_that_look_alike_stay_apart() -> None:
    """Each is a control point of its own, with jacks of its own."""
    shop = Shop()
    shop.processor("P", 100, outs("S", RCA, 2, PortRole.MIRRORED_SUB), outs("T", RCA, 2, PortRole.MIRRORED_SUB))
    (choice,) = choices(shop)
    assert sorted(o.ordinal for o in choice.outlets) == [0, 1]
    assert list(choice.outlets.values()) == [1, 1]


def test_cards_go_into_the_slots_that_they_fit() -> None:
    shop = Shop()
    shop.processor("P", 100, outs("A", XLR, 2, PortRole.ASSIGNABLE), card_slots=2)
    shop.processor("Q", 100, outs("A", XLR, 2, PortRole.ASSIGNABLE), card_slots=0)
    shop.card("wide", 10, outs("X", XLR, 4, PortRole.ASSIGNABLE), fits=("P", "Q"), slots=2)
    shop.card("other", 10, outs("X", XLR, 4, PortRole.ASSIGNABLE), fits=("R",))
    assert {(c.sku, c.cards) for c in choices(shop)} == {("P", ()), ("P", ("wide",)), ("Q", ())}


def test_a_speaker_level_outlet_is_one_of_its_own() -> None:
    found = outlet(outs("SPK", POST, 7, PortRole.ASSIGNABLE, ("M+030", "M-030")))
    assert found.speaker
    assert not outlet(outs("A", XLR, 7, PortRole.ASSIGNABLE)).speaker
