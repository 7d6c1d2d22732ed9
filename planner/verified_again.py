"""An answer that was kept, verified as if it were new: no option is shown that the verifier has not just passed."""

from dataclasses import replace

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.checks import Verifier
from planner.design import Severity
from planner.house import House
from planner.options import Option, Result


def verified_again(result: Result, brief: Brief, catalogue: Catalogue, house: House) -> bool:
    """Whether the verifier finds every option of an answer valid, at the price and the measures that it tells."""
    verifier = Verifier(brief, catalogue, house)
    return all(_holds(option, verifier) for option in result.options)


def _holds(option: Option, verifier: Verifier) -> bool:
    verdict = verifier.verify(option.design)
    # loops, margin and bass are not the verifier's to measure
    told = replace(
        option.measures,
        earth_loops=verdict.measures.earth_loops,
        least_margin_db=verdict.measures.least_margin_db,
        bass_spread_db=verdict.measures.bass_spread_db,
    )
    broken = any(finding.severity is Severity.INVALID for finding in verdict.findings)
    return not broken and told == verdict.measures and option.quote == verdict.quote
