"""From counts to options: each is assembled, verified afresh, held against its claim, and examined."""

from collections.abc import Callable
from dataclasses import replace
from math import floor

from planner.allocation.trade_off import Found, TradeOff
from planner.bass.option_measure import BassMeasure, bass_measures
from planner.brief.records import Measure
from planner.checks import Verdict, Verifier
from planner.demand.build import Demand
from planner.demand.counts import Claim
from planner.design import Design, Severity
from planner.errors import PlannerBug
from planner.finds import Finds
from planner.house import House
from planner.options import Option
from planner.physics import Examination

_MARGIN_SLIVER_DB = 1e-6
"""Two ways of reckoning a level margin agree to far less than this."""


def proven_options(found: TradeOff, finds: Finds, house: House) -> tuple[Option, ...]:
    """Every design of a trade-off set as a verified option, cheapest first.

    Raises PlannerBug where the verifier finds a rule broken, or a measure other than claimed.
    """
    verifier = Verifier(finds.brief, finds.catalogue, house)
    checked = []
    for entry in found.found:
        design, verdict, examined = proven_design(entry, finds, verifier)
        checked.append((entry, design, verdict, examined))
    checked.sort(key=lambda c: (c[2].measures.price_minor, _order(c[2])))
    measures = bass_measures([design for _, design, _, _ in checked], finds.brief, finds.catalogue)
    return tuple(
        _option(str(number), entry, design, verdict, examined, bass)
        for number, ((entry, design, verdict, examined), bass) in enumerate(zip(checked, measures, strict=True), 1)
    )


def proven_design(
    entry: Found, finds: Finds, verifier: Verifier, hold: Callable[[Examination], None] = lambda examined: None
) -> tuple[Design, Verdict, Examination]:
    """One design of a search, verified and examined afresh. Raises PlannerBug as `proven_options`.

    `hold` sees the examination first, and may refuse the design by raising.
    """
    design, examined = finds.of(entry.counts)
    hold(examined)
    verdict = verifier.verify(design)
    _confirm(entry, verdict, examined, finds.demand)
    return design, verdict, examined


def _order(verdict: Verdict) -> tuple[int, ...]:
    """Better measures first, where prices are equal."""
    m = verdict.measures
    return (-m.independent_subs, m.subs_lost_worst, m.conversions, -m.spare_outputs, m.joints)


def _option(
    number: str, entry: Found, design: Design, verdict: Verdict, examined: Examination, bass: BassMeasure
) -> Option:
    """The option, with what physics and bass say of it after what the verifier says."""
    return Option(
        id=number,
        design=design,
        measures=replace(
            verdict.measures,
            earth_loops=len(examined.earth_loops),
            least_margin_db=examined.least_margin_db,
            bass_spread_db=bass.spread_db,
        ),
        quote=verdict.quote,
        ledger=verdict.ledger,
        findings=(*verdict.findings, *examined.findings, *bass.findings),
        proven=entry.proven,
        drives=verdict.drives,
    )


def _confirm(entry: Found, verdict: Verdict, examined: Examination, demand: Demand) -> None:
    """Stops where the verifier or the examination does not say the same as the search."""
    findings = (*verdict.findings, *examined.findings)
    broken = [f"{f.rule} {f.subject}: {f.message}" for f in findings if f.severity is Severity.INVALID]
    if broken:
        raise PlannerBug("the verifier refuses a design that the search found: " + "; ".join(broken))
    wrong = _differences(entry.counts.claim, verdict, examined, demand, entry.proven)
    if wrong:
        raise PlannerBug("the verifier measures a design otherwise than the search: " + "; ".join(wrong))


def _differences(claim: Claim, verdict: Verdict, examined: Examination, demand: Demand, proven: bool) -> list[str]:
    """Measures that differ. A design cut short by time may be better than claimed, not worse."""
    measures, weighed = verdict.measures, demand.brief.measures
    pairs = [
        ("price", demand.prices.total_minor(claim.subtotal_minor), measures.price_minor, False),
        ("independent subwoofers", claim.independent, measures.independent_subs, False),
        ("control groups", claim.groups, measures.control_groups, False),
        ("conversions", claim.conversions, measures.conversions, False),
        ("spare outputs", claim.spare, measures.spare_outputs, not proven),
        ("subwoofers lost", -claim.lost, -measures.subs_lost_worst, not proven),
    ]
    if Measure.JOINTS in weighed and claim.joints is not None:
        pairs.append(("joints", -claim.joints, -measures.joints, not proven))
    if claim.loops is not None:
        pairs.append(("earth loops", -claim.loops, -len(examined.earth_loops), True))
    if claim.margin is not None and examined.least_margin_db is not None:
        pairs.append(("level margin", claim.margin, floor(examined.least_margin_db + _MARGIN_SLIVER_DB), True))
    return [
        f"{name} {abs(claimed)} claimed, {abs(measured)} measured"
        for name, claimed, measured, may_be_better in pairs
        if claimed != measured and not (may_be_better and measured > claimed)
    ]
