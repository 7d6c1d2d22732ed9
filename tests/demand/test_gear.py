"""Gear that offers nothing more is left out, and gear that does in any one respect is kept.

That leaving it out is exact is shown in `test_reductions`. The cheap and the dear one of each
pair are alike but for what the case names.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from planner.brief.records import Brief, Owned
from planner.catalogue.records import Amplifier, CableKind, DspUnit, Mains, PortRole, Powering, Subwoofer
from planner.demand.build import Demand, build_demand
from tests.demand.shop import (
    FULL,
    HOUSE,
    POLE,
    POLE_PLUG,
    POST,
    RCA,
    RCA_PLUG,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
    brief,
    ins,
    outs,
    speakers,
    subs,
)

ASKED = brief(speakers("Mains", "L", "M+030 M-030", 3.0, 3.0), subs("S", 3.0, 3.0, 3.0), rack_units=20)
FREE_RACK = replace(ASKED, rack=replace(ASKED.rack, units=None))
Change = dict[str, Any]


def shop() -> Shop:
    """All that a system needs but a processor; leads of every kind, so that connectors do not decide."""
    found = Shop()
    found.speaker("L", 200, ins("IN", POST))
    found.sub("S", 300, ins("IN", XLR))
    found.cable("twin", 1, CableKind.SPEAKER)
    found.part("4p", 1, POLE_PLUG)
    for number, near in enumerate((XLR_SOCKET, RCA_PLUG)):
        for other, far in enumerate((XLR_PINS, RCA_PLUG)):
            found.lead(f"W{number}{other}", 10, near, far, 10.0)
    return found


def demand(sold: Shop, asked: Brief) -> Demand:
    return build_demand(asked, sold.catalogue(), HOUSE)


# Processors


def processors(asked: Brief = ASKED, **more: Any) -> list[str]:
    """What is kept of two processors: the dear one has `more`."""
    sold = shop()
    sold.amplifier("amp", 100, 4, XLR)
    jacks = more.pop("jacks", 5)
    cheap = {"rendered_channels": 3, "processed_outputs": 5, "rack_units": 2}
    sold.processor("cheap", 1000, outs("A", XLR, 5, PortRole.ASSIGNABLE), **cheap)
    sold.processor("dear", 1001, outs("A", XLR, jacks, PortRole.ASSIGNABLE), **(cheap | more))
    return sorted(p.sku for p in demand(sold, asked).processors)


def test_a_dearer_processor_that_offers_no_more_is_left_out() -> None:
    assert processors() == ["cheap"]
    assert processors(rack_units=3) == ["cheap"]
    assert processors(jacks=4) == ["cheap"]


@pytest.mark.parametrize(
    "more", [{"rendered_channels": 4}, {"processed_outputs": 6}, {"jacks": 6}, {"rack_units": 1}], ids=str
)
def test_a_dearer_processor_that_offers_more_is_kept(more: Change) -> None:
    assert processors(**more) == ["cheap", "dear"]


def test_a_lower_processor_is_worth_nothing_where_the_rack_has_no_limit() -> None:
    assert processors(FREE_RACK, rack_units=1) == ["cheap"]


def test_jacks_beyond_all_that_can_be_used_or_count_as_spare_are_worth_nothing() -> None:
    """Five feeds and a ceiling of four spare outputs: nine jacks are as good as ninety."""
    sold = shop()
    sold.amplifier("amp", 100, 4, XLR)
    for sku, price, jacks in (("nine", 1000, 9), ("ninety", 1001, 90)):
        sold.processor(sku, price, outs("A", XLR, jacks, PortRole.ASSIGNABLE), processed_outputs=jacks)
    assert [p.sku for p in demand(sold, ASKED).processors] == ["nine"]


def test_a_processor_that_cannot_render_the_brief_is_left_out() -> None:
    assert processors(rendered_channels=2) == ["cheap"]
    sold = shop()
    sold.processor("small", 1, outs("A", XLR, 5, PortRole.ASSIGNABLE), rendered_channels=2)
    assert demand(sold, ASKED).processors == ()


def test_a_processor_that_must_be_used_is_kept() -> None:
    must = replace(ASKED, owned=(Owned(sku="dear", must_use=True),))
    sold = shop()
    sold.amplifier("amp", 100, 4, XLR)
    for sku in ("cheap", "dear"):
        sold.processor(sku, 0, outs("A", XLR, 5, PortRole.ASSIGNABLE))
    assert sorted(p.sku for p in demand(sold, must).processors) == ["cheap", "dear"]


# DSP units


def dsp_units(asked: Brief = ASKED, bounds: Change | None = None, **more: Any) -> list[str]:
    """What is kept of two DSP units of two inputs and three outputs: the dear one has `more`."""
    sold = shop()
    sold.processor("P", 1000, outs("A", XLR, 5, PortRole.ASSIGNABLE))
    sold.amplifier("amp", 100, 4, XLR)
    jacks_in, jacks_out, units = more.pop("jacks_in", 2), more.pop("jacks_out", 3), more.pop("rack_units", 2)
    alike: Change = {"inputs": 1, "outputs": 2, "controls": FULL}
    cheap = DspUnit(sku="cheap", name="cheap", mains=Mains(rack_units=2), **alike)
    dear = DspUnit(sku="dear", name="dear", mains=Mains(rack_units=units), **(alike | more))
    sold.sell(cheap, 100, ins("IN", XLR, 2), outs("OUT", XLR, 3), **(bounds or {}))
    sold.sell(dear, 101, ins("IN", XLR, jacks_in), outs("OUT", XLR, jacks_out))
    return sorted(d.sku for d in demand(sold, asked).dsp_units)


TWO_BASS = replace(
    ASKED, subwoofers=(subs("S", 3.0, 3.0, 3.0), subs("S", 3.0, 3.0, name="More", channel="LFE2"))
)  # two signals, so that a second input is worth something


def test_a_dearer_dsp_unit_that_offers_no_more_is_left_out() -> None:
    assert dsp_units(TWO_BASS) == ["cheap"]
    assert dsp_units(TWO_BASS, rack_units=3) == ["cheap"]


@pytest.mark.parametrize("more", [{"inputs": 2}, {"outputs": 3}, {"jacks_out": 4}, {"rack_units": 1}], ids=str)
def test_a_dearer_dsp_unit_that_offers_more_is_kept(more: Change) -> None:
    assert dsp_units(TWO_BASS, **more) == ["cheap", "dear"]


def test_a_second_input_is_worth_nothing_for_one_signal() -> None:
    assert dsp_units(ASKED, inputs=2) == ["cheap"]


def test_a_dearer_dsp_unit_is_kept_beside_one_that_is_scarce() -> None:
    assert dsp_units(TWO_BASS, bounds={"stock": 1}) == ["cheap", "dear"]


def test_fixed_routing_never_stands_for_a_matrix() -> None:
    sold = shop()
    sold.processor("P", 1000, outs("A", XLR, 5, PortRole.ASSIGNABLE))
    sold.dsp("fixed", 100, ins("IN", XLR, 2), outs("OUT", XLR, 4), outputs_per_input=2)
    sold.dsp("matrix", 101, ins("IN", XLR, 2), outs("OUT", XLR, 4))
    assert sorted(d.sku for d in demand(sold, TWO_BASS).dsp_units) == ["fixed", "matrix"]


# Amplifiers


def amplifiers(
    asked: Brief = ASKED, *, channels: int = 2, rack_units: int = 2, entry: Any = XLR, terminals: Any = POST
) -> list[str]:
    """What is kept of two amplifiers of two channels: the dear one is as the arguments say."""
    sold = shop()
    sold.processor("P", 1000, outs("A", XLR, 5, PortRole.ASSIGNABLE), outs("B", RCA, 5, PortRole.ASSIGNABLE))
    for sku, price, n, units, way_in, way_out in (
        ("cheap", 100, 2, 2, XLR, POST), ("dear", 101, channels, rack_units, entry, terminals),
    ):  # fmt: skip
        found = Amplifier(sku=sku, name=sku, channels=n, power_8ohm_w=100.0, mains=Mains(rack_units=units))
        sold.sell(found, price, ins("IN", way_in, n), outs("OUT", way_out, n))
    return sorted(a.sku for a in demand(sold, asked).amplifiers)


def test_a_dearer_amplifier_that_offers_no_more_is_left_out() -> None:
    assert amplifiers() == ["cheap"]
    assert amplifiers(channels=1) == ["cheap"]
    assert amplifiers(FREE_RACK, rack_units=1) == ["cheap"]


@pytest.mark.parametrize(
    "more", [{"channels": 3}, {"rack_units": 1}, {"entry": RCA}, {"terminals": POLE}], ids=lambda more: next(iter(more))
)
def test_a_dearer_amplifier_that_offers_more_is_kept(more: Change) -> None:
    """An RCA input converts nothing behind an RCA output; an XLR input does."""
    assert amplifiers(**more) == ["cheap", "dear"]


# Models of a set


def models(asked: Brief, change: Callable[[Shop], None]) -> list[str]:
    """What is kept of subwoofer S at 300 and a dearer one."""
    sold = shop()
    sold.processor("P", 1000, outs("A", XLR, 5, PortRole.ASSIGNABLE))
    sold.amplifier("amp", 100, 4, XLR)
    change(sold)
    free = replace(asked, subwoofers=tuple(replace(entry, candidates=()) for entry in asked.subwoofers))
    return sorted(m.sku for load in demand(sold, free).sets if load.bass for m in load.models)


@pytest.mark.parametrize(
    ("ports", "kept"),
    [
        ([ins("IN", XLR)], ["S"]),
        ([ins("IN", XLR), ins("MORE", RCA)], ["S", "dear"]),
        ([ins("IN", XLR), outs("LINK", XLR, 1, PortRole.LINK)], ["S", "dear"]),
        ([ins("IN", POST)], ["S", "dear"]),
    ],
)
def test_a_dearer_model_is_kept_only_if_it_takes_or_gives_more(ports: list[Any], kept: list[str]) -> None:
    assert models(ASKED, lambda sold: sold.sub("dear", 301, *ports)) == kept


def test_a_dearer_model_that_takes_less_of_the_rack_is_kept_where_that_matters() -> None:
    def change(sold: Shop) -> None:
        for sku, price, units in (("high", 250, 2), ("low", 299, 1)):
            found = Subwoofer(
                sku=sku, name=sku, powering=Powering.ACTIVE, low_corner_hz=20.0, mains=Mains(rack_units=units)
            )
            sold.sell(found, price, ins("IN", XLR))

    assert models(ASKED, change) == ["S", "high", "low"]
    assert models(FREE_RACK, change) == ["high"]


def test_a_model_that_must_be_used_is_kept_though_another_costs_nothing() -> None:
    def change(sold: Shop) -> None:
        sold.sub("free", 0, ins("IN", XLR))
        sold.sub("old", 301, ins("IN", XLR))

    assert models(ASKED, change) == ["free"]
    assert models(replace(ASKED, owned=(Owned(sku="old", must_use=True),)), change) == ["free", "old"]
