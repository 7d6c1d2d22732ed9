"""Regret and flips, against enumeration: every design of a small shop written out, at many points of the bands."""

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.catalogue.records import Catalogue, PortRole
from planner.errors import WrongUsage
from planner.explain.bands import Band, BandKind, Moved, Scenario, moved, named_bands, usual_bands
from planner.explain.clock import Clock
from planner.explain.robust import Robust, robust, winner
from planner.house import House, Rate
from planner.options import Option
from planner.plan import options
from tests.demand.shop import DAY, HOUSE, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, ins, outs, speakers, subs
from tests.oracle.brute import Table
from tests.oracle.instance import Instance

RATED: House = replace(HOUSE, rates={"USD": Rate(per_house_unit=Decimal("1.10"), dated=DAY)})
WANTED = brief(speakers("Mains", "L", "M+030 M-030", 3.0, 3.0), subs("S", 4.0, 4.0))
USD = Band(kind=BandKind.RATE, name="USD", low_percent=Decimal(-10), high_percent=Decimal(10))
DEPOT = Band(kind=BandKind.SUPPLIER, name="Depot", low_percent=Decimal(0), high_percent=Decimal(8))


def in_dollars(found: Catalogue, sku: str, price: str) -> Catalogue:
    entry = replace(found.offers[sku][0], currency="USD", supplier="Overseas", price=Decimal(price))
    return replace(found, offers={**found.offers, sku: (entry,)})


def sold() -> Catalogue:
    """A processor of four outputs for 1,000 dollars (909.09 euros) and one for 920 euros; the same but for the price.

    One of three outputs at 880 needs a splitter of 25.
    """
    found = Shop()
    found.processor("dollar", 0, outs("A", XLR, 4, PortRole.ASSIGNABLE))
    found.processor("euro", 920, outs("A", XLR, 4, PortRole.ASSIGNABLE))
    found.processor("three", 880, outs("A", XLR, 3, PortRole.ASSIGNABLE))
    found.speaker("L", 200, ins("IN", XLR))
    found.sub("S", 300, ins("IN", XLR))
    found.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    found.splitter("Y", 25, XLR_SOCKET, XLR_PINS, balanced=True)
    return in_dollars(found.catalogue(), "dollar", "1000")


def found(bands: tuple[Band, ...]) -> tuple[tuple[Option, ...], Robust]:
    result = options(WANTED, sold(), RATED)
    option = next(o for o in result.options if o.measures.independent_subs == 2)  # the processors alone compete
    return result.options, robust(option, result.options, bands, WANTED, sold(), RATED, Clock.of(600.0))


def least_by_enumeration(scenario: Scenario) -> int:
    """The least price with two subwoofers on their own: every design written out at the prices moved."""
    catalogue, house = moved(scenario, sold(), RATED)
    both = replace(WANTED, limits=replace(WANTED.limits, least_independent_subwoofers=2))
    price = Table(Instance(name="moved", brief=both, catalogue=catalogue, house=house)).price_minor()
    assert price is not None
    return price


POINTS = [(Moved(USD, Decimal(usd)), Moved(DEPOT, Decimal(rise))) for usd in (-10, -4, 0, 6, 10) for rise in (0, 3, 8)]


def test_the_greatest_regret_is_that_of_enumeration_and_lies_at_a_corner() -> None:
    """The dollar processor costs 2140 − 10 × … more wherever the dollar is dear; written out at inner points too."""
    among, answer = found((USD, DEPOT))
    span = next(s for s in answer.spans if s.option_id == answer.option_id)
    option = next(o for o in among if o.id == answer.option_id)
    regrets = {}
    for scenario in POINTS:
        usd, rise = (1 + m.percent / 100 for m in scenario)
        # by hand: the processor in dollars, all else of the depot
        rest = 2 * (200 + 10) + 2 * (300 + 10)
        price = round(100000 / (Decimal("1.10") * usd)) + sum(
            n * round(100 * p * rise) for n, p in ((2, 200), (4, 10), (2, 300))
        )
        assert rest == 1040
        regrets[scenario] = price - least_by_enumeration(scenario)
    assert option.measures.price_minor == 90909 + 104000
    assert span.regret_minor == max(regrets.values())
    assert span.worst in [scenario for scenario, regret in regrets.items() if regret == span.regret_minor]


def test_the_answer_flips_where_the_dollar_makes_both_processors_cost_the_same() -> None:
    """1000 / (1.10 × f) = 920 at f = 0.98814: 1.186 % fewer dollars for a euro."""
    _, answer = found((USD,))
    low, high = answer.flips
    assert low.percent is not None
    assert float(low.percent) == pytest.approx((1000 / 1.10 / 920 - 1) * 100, abs=1e-5)
    assert low.gear is not None
    assert [line.sku for line in low.gear.added] == ["euro"]
    assert high.percent is None
    for percent, cheaper in ((low.percent - Decimal("0.01"), True), (low.percent + Decimal("0.01"), False)):
        scenario = (Moved(USD, percent),)
        dollar = round(100000 / (Decimal("1.10") * (1 + percent / 100))) + 104000
        assert (least_by_enumeration(scenario) < dollar) is cheaper


def test_the_least_regret_is_the_first_and_no_other_option_has_less() -> None:
    _, answer = found((USD, DEPOT))
    best = winner(answer)
    assert best is not None
    assert best.regret_minor == min(span.regret_minor for span in answer.spans)


def test_the_usual_bands_are_the_rate_and_the_supplier_of_most_money() -> None:
    result = options(WANTED, sold(), RATED)
    assert [(b.kind, b.name) for b in usual_bands(result.options, sold(), WANTED, RATED)] == [
        (BandKind.RATE, "USD"), (BandKind.SUPPLIER, "Depot"),
    ]  # fmt: skip


def test_a_band_of_neither_currency_nor_supplier_is_refused() -> None:
    with pytest.raises(WrongUsage, match=r"no band for 'CHF'.*Depot, Overseas, USD"):
        named_bands((("CHF", Decimal(-5), Decimal(5)),), sold(), RATED)
    with pytest.raises(WrongUsage, match="at most 4 bands"):
        named_bands((("USD", Decimal(-5), Decimal(5)),) * 5, sold(), RATED)


def test_time_that_runs_out_is_told() -> None:
    result = options(WANTED, sold(), RATED)
    answer = robust(result.options[0], result.options, (USD,), WANTED, sold(), RATED, Clock.of(-1.0))
    assert not answer.settled or answer.spans
