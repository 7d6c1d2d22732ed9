"""Now and later, and several rooms in one order: counted by hand, and against the joined programmes in HiGHS."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from planner.allocation.bounds import limits_of
from planner.brief.records import LaterStage
from planner.catalogue.records import PortRole, Processor
from planner.contacts import Direction
from planner.errors import WrongUsage
from planner.explain.clock import Clock
from planner.explain.least import LeastPrices, Settled
from planner.explain.rooms import SharedOrder, shared_order
from planner.explain.stages import NowAndLater, Plan, bought_pieces, now_and_later, with_owned
from planner.explain.variants import at_layout, unpriced, up_to
from tests.explain.joint_programme import least_for_order, least_for_stages, placed
from tests.optimum.bench import CONTROLS, HOUSE, bench, offer, rca
from tests.oracle.instance import Instance

LATER = LaterStage(name="surround", layout="5.1", subwoofers=2, years=2.0)


def two_sizes(small: str = "1000", big: str = "1500", lead: tuple[str, int] | None = None) -> Instance:
    """Stereo and a subwoofer now, 5.1 with two in two years; processors of three outputs and of eight."""
    found = bench(outputs=3, speakers=2, subs=1)
    catalogue = found.catalogue
    large = Processor(sku="big", name="big", rendered_channels=16, processed_outputs=8, controls=CONTROLS)
    offers = {**catalogue.offers, "proc": (offer("proc", small),), "big": (offer("big", big),)}
    if lead is not None:  # a break for quantity
        offers["lead"] = (*offers["lead"], offer("lead", lead[0], supplier="by the box", least_order=lead[1]))
    catalogue = replace(
        catalogue,
        processors=(large, *catalogue.processors),
        ports={**catalogue.ports, "big": (rca("big", Direction.OUT, PortRole.ASSIGNABLE, 8),)},
        offers=offers,
    )
    return replace(found, catalogue=catalogue, brief=replace(found.brief, later=(LATER,)))


def planned(instance: Instance, percent: str = "3") -> NowAndLater:
    found = now_and_later(instance.brief, instance.catalogue, instance.house, Clock.of(600.0), Decimal(percent))
    assert found is not None
    return found


def prices(plan: Plan | None) -> list[int]:
    assert plan is not None
    return [stage.price_minor for stage in plan.stages]


def test_the_larger_processor_isbought_pieces_at_once_where_a_later_one_would_cost_more() -> None:
    """Now 1000 or 1500 + 2 × 210 + 310; later three loudspeakers, a subwoofer, four leads, and the larger processor."""
    found = planned(two_sizes())
    assert prices(found.ahead) == [223000, 94000]
    assert prices(found.by_turns) == [173000, 244000]
    assert found.more_today_minor == 50000
    assert found.all_now.price_minor == 223000 + 94000
    assert found.by_turns is not None
    assert [(t.line.sku, t.line.count, t.paid_minor) for t in found.by_turns.twice] == [("proc", 1, 100000)]
    assert found.ahead is not None
    assert found.ahead.twice == ()


def test_the_factor_is_that_of_compound_interest() -> None:
    """1 / 1.03² = 0.942596 (interest tables), to four places."""
    found = planned(two_sizes())
    assert found.ahead is not None
    assert found.ahead.stages[1].factor == Fraction(9426, 10000)
    assert found.saved_minor == 173000 + round(Fraction(9426, 10000) * 244000) - 223000 - round(
        Fraction(9426, 10000) * 94000
    )


def test_where_money_later_is_worth_little_it_isbought_pieces_twice() -> None:
    """At 100 % a year two years later counts a quarter: 1000 + 1500 / 4 against 1500."""
    found = planned(two_sizes(), "100")
    assert prices(found.ahead) == prices(found.by_turns)
    assert found.saved_minor == 0


def later_instance(instance: Instance) -> Instance:
    brief = replace(unpriced(at_layout(instance.brief, "5.1").brief), later=())
    return replace(instance, brief=placed(up_to(brief, 1), 2))


CASES = {
    "a larger processor": (two_sizes(), "3"),
    "the larger one hardly dearer": (two_sizes("1000", "1010"), "12"),
    "much dearer": (two_sizes("400", "2500"), "40"),
    "leads by the box": (two_sizes("1000", "1500", ("6", 6)), "3"),
}


@pytest.mark.parametrize("name", CASES)
def test_all_stages_together_cost_what_the_joined_programmes_find(name: str) -> None:
    instance, percent = CASES[name]
    found = planned(instance, percent)
    assert found.ahead is not None
    now = replace(instance, brief=replace(placed(instance.brief, 1), later=()))
    factors = [stage.factor for stage in found.ahead.stages]
    expected = least_for_stages([now, later_instance(instance)], factors)
    subtotals = [stage.priced.quote.subtotal_minor for stage in found.ahead.stages]
    assert sum(f * s for f, s in zip(factors, subtotals, strict=True)) == expected


def test_each_stage_is_a_valid_design_of_what_is_then_owned() -> None:
    """The later stage of either plan is no cheaper than the least price of its own brief with what is owned."""
    instance = two_sizes()
    found = planned(instance)
    assert found.ahead is not None
    later = with_owned(later_instance(instance).brief, bought_pieces(found.ahead.stages[:1]))
    alone = LeastPrices(later, instance.catalogue, instance.house, Clock.of(600.0)).least(limits_of(later))
    assert alone.price_minor == found.ahead.stages[1].price_minor


def test_a_brief_without_later_stages_has_no_such_plan() -> None:
    instance = bench(outputs=3, speakers=2, subs=1)
    assert now_and_later(instance.brief, instance.catalogue, HOUSE, Clock.of(600.0)) is None


def ordered(*instances: Instance) -> SharedOrder:
    first = instances[0]
    return shared_order([i.brief for i in instances], first.catalogue, first.house, Clock.of(600.0))


def with_terms(instance: Instance, sku: str, *offers: tuple[str, int, int | None]) -> Instance:
    """The instance with these offers of one article: price, least order, stock."""
    of_sku = tuple(
        offer(sku, price, supplier=f"supplier {n}", least_order=least, stock=stock)
        for n, (price, least, stock) in enumerate(offers)
    )
    return replace(instance, catalogue=replace(instance.catalogue, offers={**instance.catalogue.offers, sku: of_sku}))


def room(speakers: int, subs: int) -> Instance:
    return bench(outputs=6, speakers=speakers, subs=subs)


def test_a_break_for_quantity_is_reached_together() -> None:
    """Three leads and four: seven in all, of which ten cost 5 each and fewer 10 each; alone neither pays."""
    terms = (("10", 1, None), ("5", 10, None))
    one, other = with_terms(room(2, 1), "lead", *terms), with_terms(room(3, 1), "lead", *terms)
    found = ordered(one, other)
    assert found.settled is Settled.FOUND
    assert [(line.supplier, line.count) for line in found.lines if line.sku == "lead"] == [("supplier 1", 10)]
    assert found.apart_minor == found.total_minor + 7 * 1000 - 10 * 500


def test_scarce_stock_is_shared() -> None:
    """Three cheap splitters' worth of stock goes once, not once a room."""
    terms = (("1", 1, 4), ("10", 1, None))
    one, other = with_terms(room(2, 1), "lead", *terms), with_terms(room(3, 1), "lead", *terms)
    found = ordered(one, other)
    assert sorted((line.supplier, line.count) for line in found.lines if line.sku == "lead") == [
        ("supplier 0", 4), ("supplier 1", 3),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "terms", [(("10", 1, None), ("5", 10, None)), (("1", 1, 4), ("10", 1, None)), (("9", 5, None),)]
)
def test_several_rooms_cost_what_the_joined_programmes_find(terms: tuple[tuple[str, int, int | None], ...]) -> None:
    rooms = [with_terms(room(2, 1), "lead", *terms), with_terms(room(1, 2), "lead", *terms)]
    placed_rooms = [replace(i, brief=placed(i.brief, sum(s.least for s in i.brief.subwoofers))) for i in rooms]
    found = ordered(*rooms)
    assert found.goods_minor + found.labour_minor == least_for_order(placed_rooms)


def test_rooms_in_two_currencies_are_refused() -> None:
    one = room(1, 1)
    other = replace(one.brief, project=replace(one.brief.project, currency="USD"))
    with pytest.raises(WrongUsage, match="one currency"):
        shared_order([one.brief, other], one.catalogue, one.house, Clock.of(1.0))
