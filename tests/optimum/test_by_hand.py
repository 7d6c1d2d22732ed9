"""Prices that can be worked out on paper, asked of both oracles and of the planner."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from planner.brief.records import Drive, Owned
from planner.catalogue.records import Offer, PortGroup, PortRole
from planner.contacts import Connector, Contact, Gender
from planner.house import Task
from planner.plan import options
from tests.demand.shop import BLOCK, RCA, RCA_PLUG, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, ins, limits, outs, subs
from tests.demand.shop import HOUSE as NO_LABOUR
from tests.optimum.bench import bench, offer
from tests.oracle.brute import Table
from tests.oracle.instance import Instance
from tests.oracle.milp import Cheapest
from tests.plan.systems import PRICE_ONLY

Price = Callable[[Instance], int | None]


def by_brute_force(instance: Instance) -> int | None:
    return Table(instance).price_minor()


def by_programme(instance: Instance) -> int | None:
    return Cheapest(instance).price_minor()


def by_planner(instance: Instance) -> int | None:
    result = options(instance.brief, instance.catalogue, instance.house)
    return min((option.measures.price_minor for option in result.options), default=None)


every_way = pytest.mark.parametrize("cheapest", [by_brute_force, by_programme, by_planner])


@pytest.mark.parametrize("cheapest", [by_programme, by_planner])
@pytest.mark.parametrize(("speakers", "expected"), [(12, 1000_00 + 12 * 210_00 + 4 * 310_00), (13, None)])
def test_sixteen_outputs_with_four_dedicated_subwoofers_leave_twelve(
    cheapest: Price, speakers: int, expected: int | None
) -> None:
    """16 - 4 = 12 (arithmetic): a thirteenth loudspeaker has no output left."""
    dedicated = frozenset({Drive.DEDICATED})
    assert cheapest(bench(outputs=16, speakers=speakers, subs=4, drives=dedicated)) == expected


@every_way
@pytest.mark.parametrize(("processed", "expected"), [(4, 1000_00 + 2 * 210_00 + 2 * 310_00), (3, None)])
def test_each_dedicated_output_is_processed(cheapest: Price, processed: int, expected: int | None) -> None:
    """R5: 2 + 2 outputs in use need four that are processed, however many jacks there are (arithmetic)."""
    instance = bench(outputs=8, speakers=2, subs=2, drives=frozenset({Drive.DEDICATED}))
    assert cheapest(_with_processor(instance, processed_outputs=processed)) == expected


@every_way
@pytest.mark.parametrize(("rendered", "expected"), [(3, 1000_00 + 2 * 210_00 + 2 * 310_00), (2, None)])
def test_the_bass_is_rendered_once(cheapest: Price, rendered: int, expected: int | None) -> None:
    """R5: two main channels and the bass are three, with two subwoofers as with one (arithmetic)."""
    instance = bench(outputs=8, speakers=2, subs=2, drives=frozenset({Drive.DEDICATED}))
    assert cheapest(_with_processor(instance, rendered_channels=rendered)) == expected


@every_way
@pytest.mark.parametrize(
    ("channels", "expected"),
    [(("M+030", "M-030"), 1000_00 + 2 * 210_00), (("M-030", "M+030"), 1420_00), (("M+030", "M+000"), None)],
)
def test_a_fixed_output_carries_its_own_channel(
    cheapest: Price, channels: tuple[str, str], expected: int | None
) -> None:
    """R4: loudspeakers of M+030 and M-030 take the outputs of these channels, and no other's."""
    instance = bench(outputs=2, speakers=2, subs=0)
    fixed = replace(_group(instance, "proc"), role=PortRole.FIXED_MAIN, channels=channels)
    assert cheapest(_with_group(instance, fixed)) == expected


@every_way
def test_a_fixed_output_serves_one_loudspeaker_of_two_on_its_channel(cheapest: Price) -> None:
    """R2: one jack takes one plug; a splitter makes it two legs (arithmetic)."""
    instance = _on_one_channel(bench(outputs=2, speakers=2, subs=0))
    fixed = replace(_group(instance, "proc"), role=PortRole.FIXED_MAIN, channels=("M+030", "M-030"))
    assert cheapest(_with_group(instance, fixed)) == 1000_00 + 2 * 210_00 + 7_00
    assert cheapest(_with_drives(_with_group(instance, fixed), Drive.DEDICATED)) is None


@every_way
@pytest.mark.parametrize(("subs", "expected"), [(3, 1000_00 + 3 * 310_00), (4, None)])
def test_mirrored_jacks_share_one_output(cheapest: Price, subs: int, expected: int | None) -> None:
    """R4, R5: three mirrored jacks are one processed output, and carry the bass without a splitter."""
    instance = bench(outputs=3, speakers=0, subs=subs, largest_split=4)
    mirrored = replace(_group(instance, "proc"), role=PortRole.MIRRORED_SUB)
    instance = _with_group(_with_processor(instance, processed_outputs=1), mirrored)
    assert cheapest(replace(instance, catalogue=replace(instance.catalogue, splitters=()))) == expected


@every_way
@pytest.mark.parametrize("subs", [2, 3, 4])
def test_n_legs_from_two_way_splitters_take_one_fewer(cheapest: Price, subs: int) -> None:
    """N legs take N - 1 two-way splitters (common practice, no published source)."""
    instance = bench(outputs=1, speakers=0, subs=subs)
    assert cheapest(instance) == 1000_00 + subs * (300_00 + 10_00) + (subs - 1) * 7_00


@every_way
@pytest.mark.parametrize(("subs", "leads"), [(1, 1), (2, 1), (3, 2)])
def test_a_lead_cut_in_half_serves_two_terminal_blocks(cheapest: Price, subs: int, leads: int) -> None:
    """A lead with the same plug at both ends yields two like tails: ceil(N / 2) leads (arithmetic)."""
    instance = bench(outputs=3, speakers=0, subs=subs, drives=frozenset({Drive.DEDICATED}))
    block = replace(_group(instance, "proc"), connector=Connector.TERMINAL)
    assert cheapest(_with_group(instance, block)) == 1000_00 + subs * 300_00 + leads * 10_00


@every_way
def test_half_a_lead_must_be_long_enough(cheapest: Price) -> None:
    """The subwoofer is 1.0 m away, + 10 % + 0.5 m = 1.6 m: half of 3.1 m is too short, of 3.2 m not."""
    instance = bench(outputs=1, speakers=0, subs=1)
    instance = _with_group(instance, replace(_group(instance, "proc"), connector=Connector.TERMINAL))
    assert cheapest(_with_lead_length(instance, 3.1)) is None
    assert cheapest(_with_lead_length(instance, 3.2)) == 1310_00


@every_way
@pytest.mark.parametrize("turned", [False, True])
def test_the_shortest_lead_of_a_kind_is_cut_whichever_end_is_listed_first(cheapest: Price, turned: bool) -> None:
    """10 m for 50.00 is cut, not 20 m for 10.00: a lead is the same lead turned round."""
    instance = bench(outputs=1, speakers=0, subs=1)
    instance = _with_group(instance, replace(_group(instance, "proc"), connector=Connector.TERMINAL))
    (lead,) = instance.catalogue.leads
    long = replace(lead, end_b=Contact(Connector.XLR, Gender.MALE))
    ends = (long.end_b, long.end_a) if turned else (long.end_a, long.end_b)
    short = replace(long, sku="short", length_m=10.0, end_a=ends[0], end_b=ends[1])
    offers = {**instance.catalogue.offers, "short": (offer("short", "50"),)}
    catalogue = replace(instance.catalogue, leads=(long, short), offers=offers)
    assert cheapest(replace(instance, catalogue=catalogue)) == 1300_00 + 50_00


@every_way
@pytest.mark.parametrize(
    ("distances", "price_of_short", "leads"),
    [
        ((4.5,), 8, 20),  # male half to the subwoofer, and the female one to the unit: one lead, not two
        ((4.5, 4.5), 8, 40),
        ((1.0,), 8, 8),
        ((4.5, 1.0), 8, 28),  # two male halves: the spare female half of the long lead is no use to the second
        ((4.5, 1.0), 50, 70),  # nor is a second long lead cut for a short tail, however cheap
    ],
)
def test_a_half_that_is_left_over_serves_a_shorter_tail(
    cheapest: Price, distances: tuple[float, ...], price_of_short: int, leads: int
) -> None:
    """10 m leads at 20.00 and 2 m ones: a DSP unit with terminal blocks, 1 m from the processor (arithmetic)."""
    sold = Shop()
    sold.processor("P", 1000, outs("A", XLR, 1, PortRole.ASSIGNABLE))
    sold.dsp("D", 100, ins("IN", BLOCK, 1), outs("OUT", BLOCK, 2))
    sold.sub("S", 300, ins("IN", XLR))
    sold.lead("long", 20, XLR_SOCKET, XLR_PINS, 10.0)
    sold.lead("short", price_of_short, XLR_PINS, XLR_SOCKET, 2.0)
    asked = brief(subs("S", *distances), measures=PRICE_ONLY, limits=limits(drives=frozenset({Drive.DSP})))
    instance = Instance(name="halves", brief=asked, catalogue=sold.catalogue(), house=NO_LABOUR)
    assert cheapest(instance) == 1000_00 + 100_00 + len(distances) * 300_00 + leads * 100


@every_way
@pytest.mark.parametrize(("like", "leads"), [(False, 20 + 50), (True, 20 + 21)])
def test_two_leads_alike_leave_a_half_of_either_end(cheapest: Price, like: bool, leads: int) -> None:
    """An XLR and an RCA tail for 4.5 m, and the same for 1 m, from terminal blocks (arithmetic).

    One long lead gives both long tails, and leaves nothing over: a short one for 50.00 gives the rest. A long
    tail each of two leads, 20.00 and 21.00, leaves a half of either end.
    """
    sold = Shop()
    sold.processor("P", 1000, outs("A", BLOCK, 4, PortRole.ASSIGNABLE))
    sold.sub("S", 300, ins("IN", XLR))
    sold.sub("T", 300, ins("IN", RCA))
    sold.lead("long", 20, XLR_PINS, RCA_PLUG, 10.0)
    sold.lead("short", 50, XLR_PINS, RCA_PLUG, 2.0)
    if like:
        sold.lead("like", 21, RCA_PLUG, XLR_PINS, 10.0)
    asked = brief(
        subs("S", 4.5, 1.0, name="S"), subs("T", 4.5, 1.0, name="T"), measures=PRICE_ONLY,
        limits=limits(drives=frozenset({Drive.DEDICATED})),
    )  # fmt: skip
    instance = Instance(name="alike", brief=asked, catalogue=sold.catalogue(), house=NO_LABOUR)
    assert cheapest(instance) == 1000_00 + 4 * 300_00 + leads * 100


@every_way
def test_a_least_order_is_paid_in_full_unless_another_supplier_is_cheaper(cheapest: Price) -> None:
    """Two leads: five at 4.00 from one are 20.00; two at 9.50 from the other are 19.00 (arithmetic)."""
    instance = bench(outputs=2, speakers=0, subs=2, drives=frozenset({Drive.DEDICATED}))
    five = offer("lead", "4", least_order=5)
    assert cheapest(_with_offers(instance, five)) == 1600_00 + 20_00
    assert cheapest(_with_offers(instance, five, offer("lead", "9.5", supplier="two"))) == 1600_00 + 19_00


@every_way
def test_stock_runs_out_at_the_cheaper_supplier(cheapest: Price) -> None:
    """Three leads: two at 4.00 and one at 9.50 (arithmetic)."""
    instance = bench(outputs=3, speakers=0, subs=3, drives=frozenset({Drive.DEDICATED}))
    few = offer("lead", "4", stock=2)
    assert cheapest(_with_offers(instance, few)) is None
    assert cheapest(_with_offers(instance, few, offer("lead", "9.5", supplier="two"))) == 1900_00 + 17_50


@every_way
def test_owned_gear_costs_nothing_up_to_its_count(cheapest: Price) -> None:
    """One of two subwoofers is there already (arithmetic)."""
    instance = bench(outputs=2, speakers=0, subs=2, drives=frozenset({Drive.DEDICATED}))
    brief = replace(instance.brief, owned=(Owned(sku="sub", count=1, must_use=True),))
    assert cheapest(replace(instance, brief=brief)) == 1000_00 + 300_00 + 2 * 10_00


@every_way
def test_margin_labour_and_tax_are_each_rounded_once(cheapest: Price) -> None:
    """At 40 % margin 600 is sold at 1000; prices here follow from price = cost / (1 - margin).

    Processor 1000 / 0.6 = 1666.67, subwoofer 500.00, lead 16.67; 10 minutes at 61.00 an hour are
    10.17 for the lead run. Subtotal 2193.51; 7.7 % of it is 168.90027, so 168.90 (arithmetic).
    """
    instance = bench(outputs=1, speakers=0, subs=1)
    house = replace(
        instance.house, markup_percent=None, margin_percent=Decimal(40), labour_rate=Decimal(61),
        minutes={Task.LEAD: Decimal(10)}, tax_percent=Decimal("7.7"),
    )  # fmt: skip
    assert cheapest(replace(instance, house=house)) == 2193_51 + 168_90


def _with_processor(instance: Instance, **figures: int) -> Instance:
    (processor,) = instance.catalogue.processors
    catalogue = replace(instance.catalogue, processors=(replace(processor, **figures),))  # type: ignore[arg-type]
    return replace(instance, catalogue=catalogue)


def _on_one_channel(instance: Instance) -> Instance:
    (speakers,) = instance.brief.loudspeakers
    placements = tuple(replace(placement, channel="M+030") for placement in speakers.placements)
    return replace(instance, brief=replace(instance.brief, loudspeakers=(replace(speakers, placements=placements),)))


def _with_drives(instance: Instance, *drives: Drive) -> Instance:
    limits = replace(instance.brief.limits, drives=frozenset(drives))
    return replace(instance, brief=replace(instance.brief, limits=limits))


def _group(instance: Instance, sku: str) -> PortGroup:
    (group,) = instance.catalogue.ports[sku]
    return group


def _with_group(instance: Instance, group: PortGroup) -> Instance:
    catalogue = replace(instance.catalogue, ports={**instance.catalogue.ports, group.device: (group,)})
    return replace(instance, catalogue=catalogue)


def _with_lead_length(instance: Instance, length_m: float) -> Instance:
    (lead,) = instance.catalogue.leads
    return replace(instance, catalogue=replace(instance.catalogue, leads=(replace(lead, length_m=length_m),)))


def _with_offers(instance: Instance, *lead_offers: Offer) -> Instance:
    offers = {**instance.catalogue.offers, "lead": lead_offers}
    return replace(instance, catalogue=replace(instance.catalogue, offers=offers))
