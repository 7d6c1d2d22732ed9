"""The demo briefs of the physics: what a limit forbids, how the finding names it, and what keeping it costs.

Each brief is answered as it stands, and with the limit that it shows taken out. Shortfalls are
worked out by hand from the figures of the catalogue; prices from those of the price list and the
house: cost / (1 - 30 % margin), rounded line by line, labour at 65.00 an hour, and 20 % of tax.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache, partial

import pytest

from planner.brief.records import Limits, PhysicalLimit
from planner.design import Finding, Severity
from planner.options import Option, Result, Status
from planner.plan import options
from tests.plan.demo import LONG_ENOUGH_S, demo_brief, demo_catalogue, demo_house, demo_result, weighed

CENT = Decimal("0.01")


@dataclass(frozen=True, kw_only=True, slots=True)
class Shown:
    """What one brief shows: a limit, and the gear that keeping it buys for other gear.

    `words` stand in the finding where the limit is given up; `bought` and `instead_of` are
    costs from the price list, `minutes` more labour.
    """

    brief: str
    rule: str
    give_up: Callable[[Limits], Limits]
    words: tuple[str, ...]
    bought: Collection[str]
    instead_of: Collection[str]
    minutes: int = 0

    def __str__(self) -> str:
        return self.brief

    def price(self) -> Decimal:
        """What keeping the limit costs, with tax, to the cent."""
        gear = sum(map(_selling, self.bought)) - sum(map(_selling, self.instead_of))
        return ((gear + Decimal(65) * self.minutes / 60) * Decimal("1.2")).quantize(CENT)


def _selling(cost: str) -> Decimal:
    return (Decimal(cost) / Decimal("0.7")).quantize(CENT)


def _without(limits: Limits, *, limit: PhysicalLimit) -> Limits:
    return replace(limits, physical=limits.physical - {limit})


def _any_loops(limits: Limits) -> Limits:
    return replace(limits, most_earth_loops=None)


# Full output from 2.5 V, which is 10.2 dBu (0 dBu is sqrt(0.6) V). An output that passes 8.2 dBu, of 470 ohm,
# loses 0.27 dB into the 15 kohm of the subwoofer: 7.93 dBu arrive, 2.2 dB short.
_STUDIO = ("Full output takes 2.50 V (+10.2 dBu", "by 2.2 dB.")

CLIPPING = Shown(
    brief="limit-clipping-in-the-dsp-unit",
    rule="R11",
    give_up=partial(_without, limit=PhysicalLimit.LEVEL),
    words=(*_STUDIO, "dsp-1x2-rca / OUT clips before full output", "Remedy: an output in place of dsp-1x2-rca / OUT"),
    bought=("318.00", "7.50", "14.10", "18.20"),  # another DSP unit, and the leads to it and from it
    instead_of=("98.00", "5.10", "14.00", "18.40"),
)
DRIVE = Shown(
    brief="limit-drive-for-a-studio-subwoofer",
    rule="R11",
    give_up=partial(_without, limit=PhysicalLimit.LEVEL),
    words=("Too little drive", *_STUDIO, "receiver-2-one-sub / PRE SUB clips first", "Remedy: "),
    bought=("318.00", "7.50", "10.80"),  # a DSP unit that brings the level up, and one lead more
    instead_of=("10.70",),
    minutes=45 + 12,
)
# At 20 °C sound travels 343.2 m/s (ISO 9613-1). The subwoofer is 7.916 m away, the pair 2.885 m: 14.7 ms, and 1.5 ms
# in the DSP unit. The receiver delays by 15 ms.
LATENCY = Shown(
    brief="limit-latency-in-a-long-room",
    rule="R15",
    give_up=partial(_without, limit=PhysicalLimit.DELAY),
    words=("Delay out of range by 1.2 ms", "to be delayed by 16.2 ms", "at most 15 ms", "a device with a longer delay"),
    bought=("615.00",),
    instead_of=("345.00",),
)
LOAD = Shown(
    brief="limit-load-of-four-ohm",
    rule="R14",
    give_up=partial(_without, limit=PhysicalLimit.LOAD),
    words=("A load of 4 ohm (M+030, M-030 and M+000)", "no less than 6 ohm", "Remedy: an amplifier for that load"),
    bought=("880.00",),
    instead_of=("615.00",),
)
LOOPS = Shown(
    brief="limit-loops-of-earthed-loudspeakers",
    rule="R17",
    give_up=_any_loops,
    words=("earth loop through Processor", "safety earth", "by unbalanced shields", "Remedy: ", "class II gear"),
    # loudspeakers without an earth; of the two subwoofers one is isolated, which takes a lead of 1 m and its run
    bought=("189.00",) * 5 + ("46.00", "5.10"),
    instead_of=("172.00",) * 5,
    minutes=12,
)
ISOLATED = Shown(
    brief="limit-loops-broken-by-isolators",
    rule="R17",
    give_up=_any_loops,
    words=(
        "earth loop through Processor",
        "safety earth",
        "by unbalanced shields",
        "Remedy: ",
        "line isolating transformer",
    ),
    bought=("46.00", "5.10") * 5,  # an isolator, and a lead of 1 m behind it
    instead_of=(),
    minutes=12 * 5,
)
SHOWN = (CLIPPING, DRIVE, LATENCY, LOAD, LOOPS, ISOLATED)


@cache
def _given_up(shown: Shown) -> Result:
    """The answer without the limit."""
    brief = demo_brief(shown.brief)
    free = replace(brief, limits=shown.give_up(brief.limits))
    return options(free, demo_catalogue(), demo_house(), time_limit_s=LONG_ENOUGH_S)


def _named(option: Option, rule: str) -> list[Finding]:
    """The findings of a rule that are more than a note."""
    return [each for each in option.findings if each.rule == rule and each.severity is not Severity.NOTE]


@pytest.mark.parametrize("shown", SHOWN, ids=str)
def test_without_the_limit_the_cheapest_breaks_it_and_is_told_so(shown: Shown) -> None:
    result = _given_up(shown)
    assert result.status is Status.PROVEN
    found = _named(result.options[0], shown.rule)
    assert found
    assert all(finding.severity is Severity.CONCERN for finding in found)
    assert all(words in found[0].message for words in shown.words), found[0].message


@pytest.mark.parametrize("shown", SHOWN, ids=str)
def test_with_the_limit_options_are_proven_that_keep_it(shown: Shown) -> None:
    result = demo_result(shown.brief)
    assert result.status is Status.PROVEN
    assert result.options
    assert [option.id for option in result.options if _named(option, shown.rule)] == []


@pytest.mark.parametrize("shown", SHOWN, ids=str)
def test_what_the_limit_costs_is_the_gear_that_it_takes(shown: Shown) -> None:
    """Tax is rounded on the total, so a cent may come or go."""
    kept, broken = (each.options[0].measures.price_minor for each in (demo_result(shown.brief), _given_up(shown)))
    assert Decimal(kept - broken) / 100 == pytest.approx(shown.price(), abs=CENT)
    assert kept > broken


@pytest.mark.parametrize("shown", SHOWN, ids=str)
def test_what_keeps_the_limit_anyhow_is_offered_either_way(shown: Shown) -> None:
    """A limit takes designs away and adds none: what is in the set without it, and keeps it, stays."""
    brief = demo_brief(shown.brief)
    kept = {weighed(option.measures, brief) for option in demo_result(shown.brief).options}
    free = {
        weighed(option.measures, brief)
        for option in _given_up(shown).options
        if not any(finding.severity is Severity.CONCERN for finding in _named(option, shown.rule))
    }
    assert free
    assert free <= kept


def test_it_is_the_latency_that_does_not_fit() -> None:
    """With DSP units that take no time, the receiver of the shorter delay does, limit or no limit."""
    catalogue = demo_catalogue()
    quick = replace(catalogue, dsp_units=tuple(replace(unit, latency_ms=0.0) for unit in catalogue.dsp_units))
    result = options(demo_brief(LATENCY.brief), quick, demo_house(), time_limit_s=LONG_ENOUGH_S)
    assert result.options[0].measures.price_minor == _given_up(LATENCY).options[0].measures.price_minor
    assert _named(result.options[0], "R15") == []


def test_earth_loops_are_weighed_step_by_step_where_none_is_forbidden() -> None:
    """Leads and earths less devices, the earth among them, and one: 7 + 7 - 9 + 1, 7 + 2 - 9 + 1, and none.

    An isolator costs more than it takes to have one loudspeaker without an earth, and less than to have five.
    """
    result = _given_up(LOOPS)
    assert {option.measures.earth_loops for option in result.options} == {6, 5, 1, 0}
    assert [option.measures.earth_loops for option in result.options[:3]] == [6, 5, 1]
