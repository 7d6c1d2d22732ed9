"""The independent verifier: every rule of a valid design, checked on the plain design.

It shares no code with the search for designs. Rules are read as DEVELOPERS.md reads them.
"""

from collections.abc import Callable, Iterator

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.checks import amplifiers, dsp_units, feeds, isolators, limits, outputs, purchases, quoting, sharing
from planner.checks.case import Case
from planner.checks.existence import existence
from planner.checks.known import Known
from planner.checks.lead_builds import leads_fit
from planner.checks.ledger import ledger
from planner.checks.measures import drives, measures
from planner.checks.selection import selection
from planner.checks.usage import usage
from planner.checks.verdict import Verdict
from planner.design import Design, Finding, Measures
from planner.house import House

RULES: tuple[Callable[[Case], Iterator[Finding]], ...] = (
    existence,
    selection,
    feeds.driven_once,
    feeds.leads_somewhere,
    feeds.one_plug_a_jack,
    leads_fit,
    outputs.roles_allow,
    outputs.crossovers_fit,
    outputs.capacity,
    outputs.cards_fit,
    amplifiers.powered_rightly,
    amplifiers.amplifier_channels,
    amplifiers.internal_amplifiers,
    amplifiers.signal_kept,
    dsp_units.routes_are_inside,
    dsp_units.outputs_derive,
    dsp_units.signals_within_limits,
    dsp_units.fed_by_the_processor,
    dsp_units.divides_or_sets_bass,
    sharing.splits_are_sound,
    sharing.splitters_keep_the_signal,
    sharing.fewest_splitters,
    sharing.chains_are_sound,
    isolators.isolators_are_sound,
    limits.drives_allowed,
    limits.all_balanced,
    limits.fits_the_rack,
    purchases.offers_hold,
    quoting.labour_listed,
    quoting.right_currency,
)


class Verifier:
    """Checks designs against one brief, catalogue and house, which are indexed once."""

    def __init__(self, brief: Brief, catalogue: Catalogue, house: House) -> None:
        self._known = Known(brief, catalogue, house)

    def verify(self, design: Design) -> Verdict:
        """The verdict on one design; never raises, however spoiled the design is."""
        case = Case.of(design, self._known)
        quote = quoting.quote(case)
        measured = measures(case, quote.total_minor)
        found = [finding for rule in RULES for finding in rule(case)]
        found.extend(_of_the_whole(case, measured))
        return Verdict(
            findings=tuple(dict.fromkeys(found)),
            measures=measured,
            ledger=ledger(case),
            quote=quote,
            drives=drives(case),
        )


def _of_the_whole(case: Case, measured: Measures) -> Iterator[Finding]:
    """The rules that ask for more than the case: what is used, and what was measured."""
    used = usage(case)
    yield from purchases.enough_bought(case, used)
    yield from purchases.owned_first(case, used)
    yield from purchases.owned_put_to_use(case, used)
    yield from purchases.nothing_excluded(case, used)
    yield from limits.enough_control(case, measured)
    yield from limits.asked_of_the_whole(case, measured)
    yield from quoting.within_budget(case, measured.price_minor)


def verify(design: Design, brief: Brief, catalogue: Catalogue, house: House) -> Verdict:
    """The verdict on one design. For many designs of one brief, keep a `Verifier`."""
    return Verifier(brief, catalogue, house).verify(design)
