"""Each limit of R11 to R15 by hand: cheap gear that breaks it, dear gear that keeps it, and what is said of both.

With the limit kept the dear gear is chosen; without it the cheap one is, and told as a concern;
with the dear gear gone the conflict names the limit. The arithmetic stands beside each case.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pytest

from planner.brief.records import Brief, Drive, Measure, PhysicalLimit
from planner.catalogue.records import (
    Amplifier,
    BulkCable,
    CableKind,
    Catalogue,
    Loudspeaker,
    Mains,
    OutputStage,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Subwoofer,
)
from planner.design import Severity
from planner.options import Result, Status
from planner.plan import options
from tests.demand.shop import (
    FULL,
    HOUSE,
    POST,
    RCA,
    RCA_PLUG,
    RCA_SOCKET,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
    brief,
    ins,
    limits,
    outs,
    speakers,
    subs,
)

_PRICE_ONLY = (Measure.PRICE,)
Build = Callable[[bool], tuple[Brief, Catalogue]]


def line(port: PortGroup, max_dbu: float, volts: float | None = None, ohm: float = 20_000.0, **facts: Any) -> PortGroup:
    """A line port with figures: its ceiling, its sensitivity, its impedance."""
    return replace(port, max_level_dbu=max_dbu, sensitivity_v=volts, impedance_ohm=ohm, **facts)


def source(name: str, connector: Any, count: int, max_dbu: float, **facts: Any) -> PortGroup:
    stage = OutputStage.SYMMETRICAL if connector is XLR else OutputStage.UNBALANCED
    port = outs(name, connector, count, PortRole.ASSIGNABLE)
    return line(port, max_dbu, ohm=1.0, output_stage=stage, **facts)


def shop_of_leads() -> Shop:
    shop = Shop()
    shop.lead("RR", 5, RCA_PLUG, RCA_PLUG, 30.0, balanced=False)
    shop.lead("XX", 5, XLR_SOCKET, XLR_PINS, 30.0)
    shop.splitter("Y", 1, RCA_PLUG, RCA_SOCKET)
    return shop


def too_little_drive(dear: bool) -> tuple[Brief, Catalogue]:
    """A subwoofer wants 2.0 V, +8.2 dBu; the cheap processor gives +2 dBu: 6.2 dB short."""
    shop = shop_of_leads()
    shop.processor("CHEAP", 100, source("OUT", RCA, 1, 2.0))
    if dear:
        shop.processor("DEAR", 200, source("OUT", RCA, 1, 12.0))
    shop.sub("S", 10, line(ins("IN", RCA), 20.0, 2.0))
    return brief(subs("S", 2.0)), shop.catalogue()


def dsp_without_gain(dear: bool) -> tuple[Brief, Catalogue]:
    """+2 dBu into a DSP unit, +8.2 dBu wanted behind it: 0 dB of gain is 6.2 dB too little, 12 dB enough."""
    shop = shop_of_leads()
    shop.processor("P", 100, source("OUT", RCA, 1, 2.0))
    for sku, price, gain_db in (("CHEAP", 100, 0.0), *((("DEAR", 200, 12.0),) if dear else ())):
        shop.dsp(
            sku, price, line(ins("IN", RCA), 12.0), source("OUT", RCA, 2, 12.0, role=PortRole.PLAIN),
            max_gain_db=gain_db,
        )  # fmt: skip
    shop.sub("S", 10, line(ins("IN", RCA), 20.0, 2.0))
    return brief(subs("S", 2.0, 4.0), limits=limits(least_independent_subwoofers=2)), shop.catalogue()


def clipping_input(dear: bool) -> tuple[Brief, Catalogue]:
    """The cheap DSP unit's output passes +1.3 dBu (0.9 V), and 1.23 V (+4.0 dBu) are wanted: 2.7 dB short."""
    shop = shop_of_leads()
    shop.processor("P", 100, source("OUT", RCA, 1, 12.0))
    for sku, price, most_dbu in (("CHEAP", 100, 1.3), *((("DEAR", 200, 12.0),) if dear else ())):
        shop.dsp(sku, price, line(ins("IN", RCA), most_dbu), source("OUT", RCA, 2, most_dbu, role=PortRole.PLAIN))
    shop.sub("S", 10, line(ins("IN", RCA), 20.0, 1.23))
    return brief(subs("S", 2.0, 4.0), limits=limits(least_independent_subwoofers=2)), shop.catalogue()


def weak_amplifier(dear: bool) -> tuple[Brief, Catalogue]:
    """85 dB for 1 W at 1 m and 2.5 m away, -8.0 dB: 10 W make 87 dB and 200 W make 100 dB; 95 dB are asked."""
    shop = _passive_shop(dear, [("CHEAP", 100, 10.0, 4.0), ("DEAR", 300, 200.0, 4.0)], handling_w=300.0)
    asked = brief(speakers("Mains", "L", "M+030 M-030", 3.0, 3.0))
    mains = replace(asked.loudspeakers[0], target_spl_db=95.0)
    return replace(asked, loudspeakers=(mains,)), shop.catalogue()


def low_load(dear: bool) -> tuple[Brief, Catalogue]:
    """4 ohm on an amplifier that may drive 6 ohm at least."""
    shop = _passive_shop(dear, [("CHEAP", 100, 50.0, 6.0), ("DEAR", 300, 50.0, 4.0)], ohm=4.0)
    return brief(speakers("Mains", "L", "M+030 M-030", 3.0, 3.0)), shop.catalogue()


def thin_cable(dear: bool) -> tuple[Brief, Catalogue]:
    """18 m of 1.5 mm2, 13.3 mohm/m (IEC 60228): 0.48 ohm in all, 0.97 dB into 4 ohm; 6 mm2 loses 0.25 dB."""
    shop = _passive_shop(
        True, [("A", 100, 50.0, 4.0)], ohm=4.0, cables=(("CHEAP", 1, 1.5), ("DEAR", 9, 6.0))[: 1 + dear]
    )
    return brief(speakers("Mains", "L", "M+030 M-030", 18.0, 18.0)), shop.catalogue()


def _passive_shop(
    dear: bool,
    amplifiers: list[tuple[str, float, float, float]],
    ohm: float = 8.0,
    handling_w: float = 100.0,
    cables: tuple[tuple[str, float, float], ...] = (("C", 1, 6.0),),
) -> Shop:
    """Amplifiers by price, power and least load; loudspeaker cables by price and area."""
    shop = shop_of_leads()
    shop.processor("P", 100, source("OUT", RCA, 4, 12.0))
    for sku, price, watts, least_ohm in amplifiers if dear else amplifiers[:1]:
        found = Amplifier(
            sku=sku, name=sku, channels=2, power_8ohm_w=watts, least_load_ohm=least_ohm, sensitivity_v=1.0
        )
        shop.sell(found, price, line(ins("IN", RCA, 2), 20.0), outs("OUT", POST, 2))
    loudspeaker = Loudspeaker(
        sku="L", name="L", powering=Powering.PASSIVE, sensitivity_db=85.0, impedance_ohm=ohm, handling_w=handling_w
    )
    shop.sell(loudspeaker, 50, ins("J", POST))
    for sku, price, area_mm2 in cables:
        shop.sell(BulkCable(sku=sku, name=sku, kind=CableKind.SPEAKER, step_m=1.0, area_mm2=area_mm2), price)
    return shop


def short_delay(dear: bool) -> tuple[Brief, Catalogue]:
    """The seat is 16.4 m from one loudspeaker and 2.8 m from the other: 40 ms apart, and 10 ms to set."""
    shop = shop_of_leads()
    for sku, price, most_ms in (("CHEAP", 100, 10.0), *((("DEAR", 200, 60.0),) if dear else ())):
        shop.processor(sku, price, source("OUT", RCA, 2, 12.0), controls=replace(FULL, max_delay_ms=most_ms))
    shop.sell(Loudspeaker(sku="L", name="L", powering=Powering.ACTIVE), 50, line(ins("IN", RCA), 20.0, 1.0))
    return brief(speakers("Mains", "L", "M+030 M-030", 3.0, 19.0)), shop.catalogue()


def few_subwoofers(dear: bool) -> tuple[Brief, Catalogue]:
    """One gives 110 dB at 1 m and stands 2.8 m away: 101 dB; two in phase 107 dB, and 105 dB are asked."""
    shop = shop_of_leads()
    shop.processor("P", 100, source("OUT", RCA, 2, 12.0))
    model = Subwoofer(sku="S", name="S", powering=Powering.ACTIVE, low_corner_hz=20.0, max_spl_db=110.0)
    shop.sell(model, 50, line(ins("IN", RCA), 20.0, 1.0))
    places = (3.0, 3.0) if dear else (3.0,)
    return brief(subs("S", *places, least=1, target_spl_db=105.0)), shop.catalogue()


def long_chain(dear: bool) -> tuple[Brief, Catalogue]:
    """A link output with electronics that pass +2 dBu behind a subwoofer that wants +4.0 dBu: 2 dB short.

    The dear processor has an output for each.
    """
    shop = shop_of_leads()
    shop.processor("CHEAP", 100, source("OUT", RCA, 1, 12.0))
    if dear:
        shop.processor("DEAR", 200, source("OUT", RCA, 2, 12.0))
    link = line(outs("LINK", RCA, 1, PortRole.LINK), 2.0, ohm=1.0, output_stage=OutputStage.UNBALANCED)
    shop.sub("S", 10, line(ins("IN", RCA), 20.0, 1.23), link)
    drives = frozenset({Drive.DEDICATED, Drive.DAISY_CHAINED})
    return brief(subs("S", 2.0, 4.0), limits=limits(drives=drives)), shop.catalogue()


@dataclass(frozen=True, slots=True)
class Case:
    """How to build it, the limit, the rule of its finding, and words that the finding has."""

    build: Build
    limit: PhysicalLimit
    rule: str
    words: str


CASES = {
    "too little drive": Case(too_little_drive, PhysicalLimit.LEVEL, "R11", "Too little drive by 6.2 dB"),
    "a DSP unit without gain": Case(dsp_without_gain, PhysicalLimit.LEVEL, "R11", "Too little drive by 6.2 dB"),
    "clipping": Case(clipping_input, PhysicalLimit.LEVEL, "R11", "clips before full output by 2.7 dB"),
    "a chain of links": Case(long_chain, PhysicalLimit.LEVEL, "R11", "clips before full output by 2.0 dB"),
    "a weak amplifier": Case(weak_amplifier, PhysicalLimit.TARGET, "R13", "95 dB are asked"),
    "few subwoofers": Case(few_subwoofers, PhysicalLimit.TARGET, "R13", "Subwoofers miss their target by"),
    "a thin cable": Case(thin_cable, PhysicalLimit.CABLE, "R13", "loses 0.9"),
    "a low load": Case(low_load, PhysicalLimit.LOAD, "R14", "no less than 6 ohm"),
    "a short delay": Case(short_delay, PhysicalLimit.DELAY, "R15", "Delay out of range by"),
}
everything = pytest.mark.parametrize("case", CASES.values(), ids=list(CASES))


def asked(case: Case, *, dear: bool, kept: bool) -> Result:
    found, catalogue = case.build(dear)
    physical = frozenset(PhysicalLimit) if kept else frozenset(PhysicalLimit) - {case.limit}
    found = replace(found, measures=_PRICE_ONLY, limits=replace(found.limits, physical=physical))
    return options(found, catalogue, HOUSE)


@everything
def test_what_breaks_the_limit_is_not_proposed(case: Case) -> None:
    with_it, without = asked(case, dear=True, kept=True), asked(case, dear=True, kept=False)
    assert with_it.status is without.status is Status.PROVEN
    assert with_it.options[0].measures.price_minor > without.options[0].measures.price_minor
    findings = with_it.options[0].findings
    assert not [f.message for f in findings if f.rule == case.rule and case.words in f.message]


@everything
def test_without_the_limit_it_is_a_concern_that_says_by_how_much(case: Case) -> None:
    (option,) = asked(case, dear=True, kept=False).options
    concerns = [f for f in option.findings if f.severity is Severity.CONCERN and f.rule == case.rule]
    assert any(case.words in finding.message for finding in concerns), [f.message for f in concerns]
    assert not [f for f in option.findings if f.severity is Severity.INVALID]


@everything
def test_where_nothing_keeps_it_the_conflict_names_it(case: Case) -> None:
    found = asked(case, dear=False, kept=True)
    assert found.status is Status.INFEASIBLE
    assert any(f"({case.rule})" in sentence for sentence in found.conflict), found.conflict
    assert asked(case, dear=False, kept=False).status is Status.PROVEN


def test_fewer_earth_loops_for_more_money() -> None:
    """Two class I subwoofers on a class I processor close two loops by the mains; of class II, none."""
    shop = shop_of_leads()
    earthed = Processor(
        sku="P", name="P", rendered_channels=4, processed_outputs=4, controls=FULL, mains=Mains(rated_w=50.0)
    )
    shop.sell(earthed, 100, source("OUT", RCA, 2, 12.0))
    for sku, price, class_ii in (("CHEAP", 50, False), ("DEAR", 90, True)):
        model = Subwoofer(
            sku=sku,
            name=sku,
            powering=Powering.ACTIVE,
            low_corner_hz=20.0,
            mains=Mains(rated_w=300.0, class_ii=class_ii),
        )
        shop.sell(model, price, line(ins("IN", RCA), 20.0, 1.0))
    open_brief = brief(replace(subs("S", 3.0, 3.0), candidates=()), measures=(Measure.PRICE, Measure.EARTH_LOOPS))
    found = options(open_brief, shop.catalogue(), HOUSE)
    assert [option.measures.earth_loops for option in found.options] == [2, 0]
    bounded = replace(open_brief, measures=_PRICE_ONLY, limits=limits(most_earth_loops=1))
    (option,) = options(bounded, shop.catalogue(), HOUSE).options
    assert option.measures.earth_loops == 0


def test_more_level_margin_for_more_money() -> None:
    """1.0 V is +2.2 dBu: +6 dBu leave 3.8 dB, +12 dBu leave 9.8 dB."""
    shop = shop_of_leads()
    shop.processor("CHEAP", 100, source("OUT", RCA, 1, 6.0))
    shop.processor("DEAR", 200, source("OUT", RCA, 1, 12.0))
    shop.sub("S", 10, line(ins("IN", RCA), 20.0, 1.0))
    asked_for = brief(subs("S", 3.0), measures=(Measure.PRICE, Measure.LEAST_MARGIN))
    margins = [option.measures.least_margin_db for option in options(asked_for, shop.catalogue(), HOUSE).options]
    assert margins == pytest.approx([3.8, 9.8], abs=0.05)
    bounded = replace(asked_for, measures=_PRICE_ONLY, limits=limits(least_margin_db=5.0))
    (option,) = options(bounded, shop.catalogue(), HOUSE).options
    assert option.measures.least_margin_db == pytest.approx(9.8, abs=0.05)
