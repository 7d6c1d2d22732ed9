"""Options are held against the verifier: a claim or a connection spoilt is our bug, never an answer."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from planner import proof
from planner.allocation.trade_off import Found, TradeOff
from planner.assembly.assemble import assemble
from planner.brief.records import Measure
from planner.catalogue.records import PortRole
from planner.demand.counts import Claim
from planner.design import Connection, Design, LeadBuild, LeadMethod
from planner.errors import PlannerBug
from planner.options import Result
from planner.plan import options
from tests.demand.shop import HOUSE, RCA, RCA_PLUG, RCA_SOCKET, XLR, XLR_SOCKET, Shop, brief, ins, limits, outs, subs

ALL_MEASURES = tuple(Measure)


def shop() -> Shop:
    """Two balanced outputs, unbalanced subwoofers, leads between, and a splitter."""
    found = Shop()
    found.processor("P", 1000, outs("A", XLR, 3, PortRole.ASSIGNABLE))
    found.sub("S", 300, ins("IN", RCA))
    found.lead("W", 10, XLR_SOCKET, RCA_PLUG, 10.0)
    found.lead("short", 1, XLR_SOCKET, RCA_PLUG, 2.0)
    found.splitter("Y", 5, XLR_SOCKET, RCA_SOCKET)
    found.lead("R", 4, RCA_PLUG, RCA_PLUG, 10.0)
    return found


def answer(measures: tuple[Measure, ...] = ALL_MEASURES) -> Result:
    asked = brief(subs("S", 4.0, 4.0), measures=measures, limits=limits(spare_ceiling=4))
    return options(asked, shop().catalogue(), HOUSE)


def spoilt(patch: pytest.MonkeyPatch, change: Callable[[Found], Found]) -> None:
    """Changes what the search found before it is proven."""
    original = proof.proven_options

    def changed(found: TradeOff, *rest: Any) -> object:
        return original(replace(found, found=tuple(map(change, found.found))), *rest)

    patch.setattr("planner.plan.proven_options", changed)


def with_claim(change: Callable[[Claim], Claim], proven: bool = True) -> Callable[[Found], Found]:
    def changed(found: Found) -> Found:
        claim = change(found.counts.claim)
        return replace(found, counts=replace(found.counts, claim=claim), proven=proven)

    return changed


BETTER: dict[str, Callable[[Claim], Claim]] = {
    "price": lambda c: replace(c, subtotal_minor=c.subtotal_minor - 1),
    "independent subwoofers": lambda c: replace(c, independent=c.independent + 1),
    "control groups": lambda c: replace(c, groups=c.groups + 1),
    "conversions": lambda c: replace(c, conversions=c.conversions - 1),
    "spare outputs": lambda c: replace(c, spare=c.spare + 1),
    "subwoofers lost": lambda c: replace(c, lost=c.lost - 1),
    "joints": lambda c: replace(c, joints=(c.joints or 0) - 1),
}
WORSE: dict[str, Callable[[Claim], Claim]] = {
    "price": lambda c: replace(c, subtotal_minor=c.subtotal_minor + 1),
    "independent subwoofers": lambda c: replace(c, independent=c.independent - 1),
    "control groups": lambda c: replace(c, groups=c.groups - 1),
    "conversions": lambda c: replace(c, conversions=c.conversions + 1),
    "spare outputs": lambda c: replace(c, spare=c.spare - 1),
    "subwoofers lost": lambda c: replace(c, lost=c.lost + 1),
    "joints": lambda c: replace(c, joints=(c.joints or 0) + 1),
}
MAY_READ_WORSE = ("spare outputs", "subwoofers lost", "joints")


def test_the_answer_unspoilt_is_proven() -> None:
    """By hand: 2 × 310 over the processor, or one output split: 5 and two R of 4 instead of two W of 10."""
    found = answer((Measure.PRICE, Measure.INDEPENDENT_SUBWOOFERS)).options
    assert [(o.measures.price_minor, o.measures.independent_subs) for o in found] == [(161300, 0), (162000, 2)]


@pytest.mark.parametrize("measure", BETTER)
def test_a_claim_better_than_the_design_is_a_bug(measure: str, monkeypatch: pytest.MonkeyPatch) -> None:
    spoilt(monkeypatch, with_claim(BETTER[measure]))
    with pytest.raises(PlannerBug, match=rf"measures a design otherwise than the search: {measure} \d+ claimed"):
        answer()


@pytest.mark.parametrize("measure", BETTER)
def test_time_that_ran_out_excuses_no_claim_better_than_the_design(
    measure: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    spoilt(monkeypatch, with_claim(BETTER[measure], proven=False))
    with pytest.raises(PlannerBug, match=f"{measure} "):
        answer()


@pytest.mark.parametrize("measure", WORSE)
def test_a_proven_claim_worse_than_the_design_is_a_bug(measure: str, monkeypatch: pytest.MonkeyPatch) -> None:
    spoilt(monkeypatch, with_claim(WORSE[measure]))
    with pytest.raises(PlannerBug, match=f"{measure} "):
        answer()


@pytest.mark.parametrize("measure", MAY_READ_WORSE)
def test_a_design_cut_short_by_time_may_be_better_than_claimed(measure: str, monkeypatch: pytest.MonkeyPatch) -> None:
    spoilt(monkeypatch, with_claim(WORSE[measure], proven=False))
    assert not any(option.proven for option in answer().options)


@pytest.mark.parametrize("measure", [m for m in WORSE if m not in MAY_READ_WORSE])
def test_what_is_counted_outright_is_never_other_than_claimed(measure: str, monkeypatch: pytest.MonkeyPatch) -> None:
    spoilt(monkeypatch, with_claim(WORSE[measure], proven=False))
    with pytest.raises(PlannerBug, match=f"{measure} "):
        answer()


def test_joints_that_are_not_weighed_are_not_claimed(monkeypatch: pytest.MonkeyPatch) -> None:
    spoilt(monkeypatch, with_claim(BETTER["joints"]))
    assert answer((Measure.PRICE,)).options


def first_connection(design: Design, change: Callable[[Connection], Connection | None]) -> Design:
    """The design with its first connection by a lead changed, or cut."""
    place = next(i for i, c in enumerate(design.connections) if c.lead.method is not LeadMethod.DIRECT)
    one = change(design.connections[place])
    rest = (design.connections[:place], design.connections[place + 1 :])
    return replace(design, connections=(*rest[0], *(() if one is None else (one,)), *rest[1]))


def shorter(lead: LeadBuild) -> LeadBuild:
    return replace(lead, parts=tuple(replace(part, sku="short") for part in lead.parts))


SPOILT: dict[str, tuple[Callable[[Connection], Connection | None], str]] = {
    "cut": (lambda c: None, "R1"),
    "on the wrong channel": (lambda c: replace(c, channel="M+030"), "R1|R4"),
    "by a lead too short": (lambda c: replace(c, lead=shorter(c.lead)), "R3"),
    "without a lead": (lambda c: replace(c, lead=LeadBuild(method=LeadMethod.DIRECT)), "R3"),
    "from a jack that is not there": (lambda c: replace(c, source=replace(c.source, index=9)), "R0"),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_connection_spoilt_is_refused(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    change, rule = SPOILT[name]
    monkeypatch.setattr("planner.finds.assemble", lambda *given: first_connection(assemble(*given), change))
    with pytest.raises(PlannerBug, match=rf"the verifier refuses a design that the search found: .*({rule}) "):
        answer()


def test_a_piece_not_paid_for_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    def unpaid(*given: Any) -> Design:
        design = assemble(*given)
        return replace(design, purchases=design.purchases[1:])

    monkeypatch.setattr("planner.finds.assemble", unpaid)
    with pytest.raises(PlannerBug, match="R18"):
        answer()
