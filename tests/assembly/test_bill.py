"""What is bought and done: pieces, halves of leads, offers, labour."""

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.assembly.bill import parts_used
from planner.brief.records import Drive, Owned
from planner.catalogue.records import CableKind, PortRole
from planner.design import Connection, Jack, LeadBuild, LeadMethod, LeadPart, Unit, UnitKind
from planner.house import Task
from planner.options import Option
from planner.plan import options
from tests.demand.shop import (
    BLOCK,
    HOUSE,
    POST,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
    brief,
    ins,
    limits,
    offer,
    outs,
    speakers,
    subs,
)
from tests.plan.systems import PRICE_ONLY, cheapest, euros, shop

MINUTES = {task: Decimal(number) for number, task in enumerate(Task, start=1)}


def bought(option: Option) -> list[tuple[str, str, int, int]]:
    """(sku, supplier, count, unit price in euros) of every purchase."""
    return [(p.sku, p.supplier, p.count, p.unit_price_minor // 100) for p in option.design.purchases]


def tail(end: str) -> Connection:
    build = LeadBuild(method=LeadMethod.CUT, parts=(LeadPart(sku="W", count=1),), length_m=1.0, cut_end=end)
    return Connection(channel="LFE1", source=Jack("P", "A", 1), sink=Jack("S", "IN", 1), lead=build)


@pytest.mark.parametrize(("ends", "leads"), [("a", 1), ("ab", 1), ("aa", 2), ("aab", 2), ("aabbb", 3)])
def test_two_unlike_tails_make_one_lead(ends: str, leads: int) -> None:
    assert parts_used([], [tail(end) for end in ends]) == {"W": leads}


def test_units_and_parts_of_leads_are_counted_together() -> None:
    made = LeadBuild(method=LeadMethod.MADE_UP, parts=(LeadPart(sku="N", count=1), LeadPart(sku="B", count=4)))
    link = replace(tail("a"), lead=made)
    assert parts_used([Unit(id="P", sku="P", kind=UnitKind.PROCESSOR)], [link, link]) == {"P": 1, "N": 2, "B": 8}


def test_a_lot_is_paid_whole_where_it_is_cheaper() -> None:
    """Two leads: 2 × 10 singly, or a lot of four at 4 each."""
    sold = shop(2)
    sold.offer(offer("W", 4, "Lots", least_order=4))
    found = cheapest(brief(subs("S", 3.0, 3.0), measures=PRICE_ONLY), sold)
    assert ("W", "Lots", 4, 4) in bought(found)
    assert euros(found) == 1000 + 600 + 16


def test_scarce_pieces_are_bought_out_and_the_rest_elsewhere() -> None:
    sold = shop(3)
    sold.offer(offer("W", 4, "Few", stock=2))
    found = cheapest(brief(subs("S", 3.0, 3.0, 3.0), measures=PRICE_ONLY), sold)
    assert [line for line in bought(found) if line[0] == "W"] == [("W", "Few", 2, 4), ("W", "Depot", 1, 10)]


def test_owned_pieces_are_listed_only_for_what_is_used() -> None:
    asked = replace(brief(subs("S", 3.0), measures=PRICE_ONLY), owned=(Owned(sku="W", count=5),))
    assert bought(cheapest(asked, shop(1))) == [("P", "Depot", 1, 1000), ("S", "Depot", 1, 300), ("W", "owned", 1, 0)]


def test_purchases_are_listed_by_sku() -> None:
    found = cheapest(brief(speakers("Mains", "L", "M+000", 3.0), subs("S", 3.0), measures=PRICE_ONLY), shop(2))
    assert [line[0] for line in bought(found)] == ["L", "P", "S", "W"]


def everything() -> Shop:
    """One of each kind of device; terminal blocks, so that leads are cut or made up."""
    sold = Shop()
    sold.processor("P", 1000, outs("A", XLR, 1, PortRole.ASSIGNABLE), card_slots=1)
    sold.card("C", 100, outs("X", XLR, 1, PortRole.ASSIGNABLE), fits=("P",))
    sold.dsp("D", 100, ins("IN", BLOCK, 1), outs("OUT", BLOCK, 2))
    sold.amplifier("A", 100, 2, XLR)
    sold.speaker("L", 200, ins("IN", POST))
    sold.sub("S", 300, ins("IN", XLR))
    sold.cable("twin", 1, CableKind.SPEAKER)
    sold.lead("W", 10, XLR_SOCKET, XLR_PINS, 20.0)
    return sold


def test_every_task_is_counted() -> None:
    """One loudspeaker by amplifier, two subwoofers by DSP unit.

    Leads run: to the amplifier, to the loudspeaker, to the DSP unit, to two subwoofers. Ends
    made up: two of the loudspeaker cable, one each of the three leads that are cut.
    """
    drives = frozenset({Drive.DEDICATED, Drive.DSP})
    asked = brief(
        speakers("Mains", "L", "M+000", 3.0), subs("S", 3.0, 3.0), measures=PRICE_ONLY,
        limits=limits(drives=drives, least_independent_subwoofers=2),
    )  # fmt: skip
    house = replace(HOUSE, labour_rate=Decimal(60), minutes=MINUTES)
    (found,) = options(asked, everything().catalogue(), house).options
    counted = {line.task: (line.count, line.unit_price_minor) for line in found.design.labour}
    expected = {
        Task.PROCESSOR: 1, Task.CARD: 1, Task.DSP: 1, Task.AMPLIFIER: 1, Task.LOUDSPEAKER: 1, Task.SUBWOOFER: 2,
        Task.LEAD: 5, Task.TERMINATION: 5,
    }  # fmt: skip
    assert counted == {task: (count, int(100 * MINUTES[task])) for task, count in expected.items()}
    assert found.quote.labour_minor == sum(count * price for count, price in counted.values())
    assert found.quote.gear_minor == found.measures.price_minor - found.quote.labour_minor


def test_a_task_that_is_not_called_for_is_not_listed() -> None:
    found = cheapest(brief(subs("S", 3.0), measures=PRICE_ONLY), shop(1))
    assert {line.task for line in found.design.labour} == {Task.PROCESSOR, Task.SUBWOOFER, Task.LEAD}


def test_splitters_take_no_labour_of_their_own() -> None:
    sold = shop(1)
    sold.splitter("Y", 20, XLR_SOCKET, XLR_PINS, balanced=True)
    found = cheapest(brief(subs("S", 3.0, 3.0), measures=PRICE_ONLY), sold)
    assert {line.task: line.count for line in found.design.labour} == {
        Task.PROCESSOR: 1, Task.SUBWOOFER: 2, Task.LEAD: 2,
    }  # fmt: skip
