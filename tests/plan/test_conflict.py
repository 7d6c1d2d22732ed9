"""No valid design: the conflict names what cannot hold together, each part needed for it."""

from dataclasses import replace
from decimal import Decimal

import pytest

from planner.allocation.solve import Outcome, Verdict
from planner.brief.records import Brief, Drive, Measure, Owned
from planner.catalogue.records import Catalogue, PortRole
from planner.conflict import conflict
from planner.options import Status
from planner.plan import options
from planner.requirements import requirements
from tests.demand.shop import (
    BARE_CONTROLS,
    HOUSE,
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

PRICE_ONLY = (Measure.PRICE,)
TWO_SUBS = "the set 'Subs' has at least 2 subwoofers"
IS_S = "the set 'Subs' is S"
IS_L = "the set 'Mains' is L"
PAIR = "the set 'Mains' has 2 loudspeakers (M+030 · left, M-030 · right)"


def shop(outputs: int = 4, **terms: object) -> Shop:
    """A processor of 1000, balanced loudspeakers and unbalanced subwoofers, leads for both."""
    found = Shop()
    found.processor("P", 1000, outs("A", XLR, outputs, PortRole.ASSIGNABLE), rack_units=2, **terms)
    found.speaker("L", 200, ins("IN", XLR))
    found.sub("S", 300, ins("IN", RCA))
    found.sub("T", 400, ins("IN", XLR))
    found.lead("W-XLR", 10, XLR_SOCKET, XLR_PINS, 10.0)
    found.lead("W-RCA", 10, XLR_SOCKET, RCA_PLUG, 10.0)
    return found


def asked(**terms: object) -> Brief:
    """Two loudspeakers and two subwoofers, with these limits."""
    sets = (speakers("Mains", "L", "M+030 M-030", 3.0, 3.0), subs("S", 4.0, 4.0))
    return brief(*sets, measures=PRICE_ONLY, limits=limits(**terms))


def without_leads(found: Brief, *skus: str) -> Brief:
    return replace(found, excluded=skus)


def y_splitter(found: Shop) -> Shop:
    found.splitter("Y", 9, RCA_PLUG, RCA_SOCKET)
    return found


CASES = {
    "balanced only, and unbalanced subwoofers": (
        asked(balanced_only=True), shop(), {"every line connection is balanced", IS_S, TWO_SUBS},
    ),
    # 1000 + 2 × 210 + 2 × 310 = 2040; without the two subwoofers 1420, with two T 2240
    "a budget short of one euro": (
        asked(budget=Decimal(2039)), shop(), {"the price with tax is at most EUR 2,039", PAIR, TWO_SUBS},
    ),
    "a rack of one unit": (
        replace(asked(), rack=replace(asked().rack, units=1)), shop(), {"everything fits 1 rack units"},
    ),
    "dsp alone, where there is no DSP unit": (
        asked(drives=frozenset({Drive.DSP})), shop(), {"the only drives allowed are: dsp", TWO_SUBS},
    ),
    "independent control by a processor that cannot invert": (
        asked(least_independent_subwoofers=1), shop(controls=BARE_CONTROLS),
        {"at least 1 subwoofer is independently controlled"},
    ),
    "filters that the processor has not": (
        asked(least_independent_subwoofers=2, filters_per_subwoofer=11), shop(),
        {"at least 2 subwoofers are independently controlled", "a control point has 11 filters"},
    ),
    "one output spare, where all are used": (
        asked(spare_outputs=1), shop(), {"1 output stays spare", PAIR, TWO_SUBS},
    ),
    "the only lead excluded": (
        without_leads(asked(), "W-RCA"), shop(), {"W-RCA is excluded", IS_S, TWO_SUBS},
    ),
    "two processors that must both be used": (
        replace(asked(), owned=(Owned(sku="P", count=2, must_use=True),)), shop(), {"all 2 of the owned P are used"},
    ),
    "three loudspeakers that must be used, and places for two": (
        replace(asked(), owned=(Owned(sku="L", count=3, must_use=True),)), shop(),
        {"all 3 of the owned L are used", PAIR},
    ),
    "a budget that does not suffice, beside gear that must be used": (
        replace(asked(budget=Decimal(999)), owned=(Owned(sku="L", count=2, must_use=True),)), shop(),
        {"the price with tax is at most EUR 999"},
    ),
    "one output too few": (asked(), shop(outputs=3), {PAIR, TWO_SUBS}),
    "two control groups out of one output": (
        asked(least_control_groups=2), y_splitter(shop(outputs=3)),
        {"the subwoofers form at least 2 control groups", PAIR},
    ),
}  # fmt: skip


def answer(found: Brief, catalogue: Catalogue) -> tuple[Status, tuple[str, ...]]:
    result = options(found, catalogue, HOUSE)
    return result.status, result.conflict


@pytest.mark.parametrize("name", CASES)
def test_the_conflict_is_the_one_counted_by_hand(name: str) -> None:
    found, sold, expected = CASES[name]
    status, conflict = answer(found, sold.catalogue())
    assert status is Status.INFEASIBLE
    assert set(conflict) == expected


@pytest.mark.parametrize("name", CASES)
def test_giving_up_any_one_part_of_the_conflict_makes_a_design_possible(name: str) -> None:
    found, sold, _ = CASES[name]
    _, conflict = answer(found, sold.catalogue())
    for requirement in requirements(found):
        if requirement.sentence in conflict:
            others = [r for r in requirements(found) if r.sentence not in conflict]
            relaxed = requirement.without(found)
            for other in others:  # the rest of the brief is not part of the conflict: it may go or stay
                relaxed = other.without(relaxed)
            assert answer(relaxed, sold.catalogue())[0] is Status.PROVEN, requirement.sentence


def test_the_parts_of_the_conflict_cannot_hold_together_whatever_else_is_given_up() -> None:
    for found, sold, _ in CASES.values():
        _, conflict = answer(found, sold.catalogue())
        alone = found
        for requirement in requirements(found):
            if requirement.sentence not in conflict:
                alone = requirement.without(alone)
        assert answer(alone, sold.catalogue())[0] is Status.INFEASIBLE


def test_a_processor_alone_can_be_too_dear() -> None:
    sold = Shop()
    sold.processor("P", 10, outs("A", XLR, 1, PortRole.ASSIGNABLE))
    empty = brief(measures=PRICE_ONLY, limits=limits(budget=Decimal(9)))
    assert answer(empty, sold.catalogue()) == (Status.INFEASIBLE, ("the price with tax is at most EUR 9",))


def test_when_time_runs_out_the_conflict_says_that_it_may_hold_more_than_it_needs() -> None:
    """No solve settles anything, so nothing can be given up."""
    found, sold, _ = CASES["one output too few"]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("planner.conflict.Parts.exists", lambda self, bounds, seconds: Outcome(Verdict.UNKNOWN))
        told: list[str] = []
        reasons = conflict(found, sold.catalogue(), HOUSE, 1.0, told.append)
    assert reasons == (
        *(requirement.sentence for requirement in requirements(found)),
        "(time ran out: not all of these may be needed for the conflict)",
    )
    assert told[-1].endswith(f"{len(requirements(found))} of {len(requirements(found))} requirements")
