"""A device left out enters at the cut named, and not at a minor unit less: asked of a catalogue with that price."""

from decimal import Decimal

import pytest

from planner.catalogue.records import CableKind, PortRole
from planner.explain.clock import Clock
from planner.explain.left_out import LeftOut, LeftOutList, left_out
from planner.explain.why_gear import all_gear_prices
from planner.options import Option, Question
from planner.plan import options
from tests.demand.shop import HOUSE, POST, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, ins, outs, speakers, subs

WANTED = brief(speakers("Mains", "P", "M+030 M-030 M+000", 3.0, 3.0, 3.0), subs("S", 4.0, 4.0))
PRICES = {"four outputs": 900.0, "six outputs": 1500.0, "two channels": 200.0, "three channels": 450.0, "dsp": 700.0}


def sold(**prices: float) -> Shop:
    """Passive loudspeakers: an amplifier of three channels against two of two; a DSP unit; two processors."""
    of, found = PRICES | prices, Shop()
    found.processor("four outputs", of["four outputs"], outs("A", XLR, 4, PortRole.ASSIGNABLE))
    found.processor("six outputs", of["six outputs"], outs("A", XLR, 6, PortRole.ASSIGNABLE))
    found.amplifier("two channels", of["two channels"], 2, XLR)
    found.amplifier("three channels", of["three channels"], 3, XLR)
    found.dsp("dsp", of["dsp"], ins("IN", XLR, 2), outs("OUT", XLR, 2))
    found.speaker("P", 100, ins("IN", POST))
    found.sub("S", 300, ins("IN", XLR))
    found.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    found.cable("twin", 1, CableKind.SPEAKER)
    found.splitter("Y", 20, XLR_SOCKET, XLR_PINS, balanced=True)
    return found


def answered(shop: Shop) -> tuple[tuple[Option, ...], LeftOutList]:
    catalogue, clock = shop.catalogue(), Clock.of(600.0)
    result = options(WANTED, catalogue, HOUSE)
    prices = all_gear_prices(WANTED, catalogue, HOUSE, clock)
    return result.options, left_out(result.options, result.shortlist, prices, catalogue)


@pytest.fixture(scope="module")
def found() -> LeftOutList:
    return answered(sold())[1]


def used_in(shop: Shop, entry: LeftOut) -> tuple[int, int]:
    """(least price, least price with the device) of the cheapest design, before tax."""
    catalogue, clock = shop.catalogue(), Clock.of(600.0)
    prices = all_gear_prices(WANTED, catalogue, HOUSE, clock)
    with_it = prices.least(some_of=[entry.sku])
    return prices.least().price_minor or 0, with_it.price_minor or 0


def test_every_unused_device_is_listed_nearest_first(found: LeftOutList) -> None:
    options_, _ = answered(sold())
    used = {unit.sku for option in options_ for unit in option.design.units}
    assert {entry.sku for entry in found.devices} == set(PRICES) - used
    assert (found.others, found.beyond_minor, found.settled) == (0, None, True)
    extra = [entry.over_minor for entry in found.devices]
    assert extra == sorted(extra)


def test_two_amplifiers_of_two_channels_cost_400_so_one_of_three_enters_50_cheaper(found: LeftOutList) -> None:
    entry = next(e for e in found.devices if e.sku == "three channels")
    assert (entry.question, entry.count, entry.price_minor, entry.cut_minor) == (Question.CHEAPEST, 1, 45000, 5000)


def test_at_the_cut_the_device_draws_level_and_a_minor_unit_less_does_not_do(found: LeftOutList) -> None:
    for entry in found.devices:
        if entry.question is not Question.CHEAPEST or entry.cut_minor is None:
            continue
        level = Decimal(entry.price_minor - entry.cut_minor) / 100
        cheapest, with_it = used_in(sold(**{entry.sku: float(level)}), entry)
        assert cheapest == with_it, entry.sku
        cheapest, with_it = used_in(sold(**{entry.sku: float(level + Decimal("0.01"))}), entry)
        assert cheapest < with_it, entry.sku


def test_several_of_a_device_share_what_it_lacks() -> None:
    """Three channels at 300 do it now; two amplifiers of two would have to cost 150 each."""
    _, found = answered(sold(**{"three channels": 300.0}))
    entry = next(e for e in found.devices if e.sku == "two channels")
    assert (entry.count, entry.cut_minor) == (2, 5000)
