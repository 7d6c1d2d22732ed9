"""What is impossible by counting alone, told with the count."""

from dataclasses import replace

import pytest

from planner.brief.records import Brief, LoudspeakerSet, SubwooferSet
from planner.catalogue.records import PortRole
from planner.demand.counting import shortage
from planner.options import Status
from planner.plan import options
from tests.demand.shop import HOUSE, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, ins, limits, outs, speakers, subs


def shop(**terms: object) -> Shop:
    found = Shop()
    found.processor("P", 1000, outs("A", XLR, 8, PortRole.ASSIGNABLE), **terms)
    found.speaker("L", 200, ins("IN", XLR))
    found.sub("S", 300, ins("IN", XLR), stock=2)
    found.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    return found


MAINS = speakers("Mains", "L", "M+030 M-030 M+000", 3.0, 3.0, 3.0)
PAIR = subs("S", 4.0, 4.0)


def asked(*sets: LoudspeakerSet | SubwooferSet, **terms: object) -> Brief:
    return brief(*(sets or (MAINS, PAIR)), limits=limits(**terms))


CASES = {
    "more independent subwoofers than there are": (
        asked(least_independent_subwoofers=3), shop(),
        ("at least 3 subwoofers are independently controlled", "the brief has at most 2 subwoofers"),
    ),
    "more control groups than there are subwoofers": (
        asked(least_control_groups=3), shop(),
        ("at least 3 control groups of subwoofers", "the brief has at most 2 subwoofers"),
    ),
    "a subwoofer that cannot fail": (
        asked(most_subwoofers_lost=0), shop(),
        ("no single failure silences a subwoofer", "a subwoofer that fails silences itself"),
    ),
    "a model that nobody sells": (
        replace(asked(), excluded=("S",)), shop(),
        (
            "the set 'Subs' needs 2 of one model",
            "nothing that the brief allows for it can be had, has a usable input and reaches its level",
        ),
    ),
    "no processor": (
        replace(asked(), excluded=("P",)), shop(),
        ("one processor renders everything", "no processor that the brief allows can be had"),
    ),
    "more channels than any processor renders": (
        asked(), shop(rendered_channels=3),
        (
            "the brief has 4 channels, the bass signal counted once",
            "the processor that renders most, P, renders 3 with all its cards",
        ),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_a_shortage_is_told_with_its_count(name: str) -> None:
    found, sold, sentences = CASES[name]
    assert shortage(found, sold.catalogue(), HOUSE) == sentences


@pytest.mark.parametrize("name", CASES)
def test_a_shortage_is_the_conflict_of_the_answer(name: str) -> None:
    found, sold, sentences = CASES[name]
    result = options(found, sold.catalogue(), HOUSE)
    assert (result.status, result.conflict) == (Status.INFEASIBLE, sentences)


def test_where_the_counts_suffice_there_is_no_shortage() -> None:
    assert shortage(asked(least_independent_subwoofers=2), shop(rendered_channels=4).catalogue(), HOUSE) == ()


def test_cards_count_for_the_channels_that_they_add() -> None:
    sold = shop(rendered_channels=3, card_slots=1)
    sold.card("C", 10, outs("X", XLR, 1, PortRole.ASSIGNABLE), fits=("P",), adds_rendered_channels=1)
    assert shortage(asked(), sold.catalogue(), HOUSE) == ()


def test_a_subwoofer_set_that_may_stay_empty_asks_for_no_channel() -> None:
    may_be = subs("S", 4.0, 4.0, least=0)
    assert shortage(asked(MAINS, may_be), shop(rendered_channels=3).catalogue(), HOUSE) == ()
    assert shortage(asked(MAINS, may_be, most_subwoofers_lost=0), shop().catalogue(), HOUSE) == ()
