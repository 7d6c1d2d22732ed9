"""R3: a lead is cut for a tail that needs its length; a shorter tail takes only a half that is left over.

Of each kind (the same two ends in any order, the same balance) the shortest lead whose half
reaches is cut for a tail. With so many leads cut for tails of their own as those need, some have
a half that nobody needs. A longer lead than the shortest is in order for no more tails than that.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from planner.catalogue.records import Lead
from planner.checks.case import Case
from planner.checks.findings import broken
from planner.checks.lengths import exact, suffices
from planner.checks.view import Link
from planner.design import Finding, LeadMethod

Tail = tuple[Link, int]
"""A link made of half a lead, and the length it wants in centimetres."""


def cut_for_no_tail_of_its_own(case: Case, wanted: Sequence[Tail]) -> Iterator[Finding]:
    """R3 for all tails of each lead together; those of leads that are not known are told elsewhere."""
    tails: dict[str, list[Tail]] = defaultdict(list)
    for link, least_cm in wanted:
        build = link.connection.lead
        if build.method is LeadMethod.CUT and len(build.parts) == 1 and build.cut_end in ("a", "b"):
            tails[build.parts[0].sku].append((link, least_cm))
    for sku, of_sku in tails.items():
        lead = case.known.items.get(sku)
        if isinstance(lead, Lead):
            yield from _beyond_what_is_left(lead, of_sku, case.known.obtainable_leads)


def _beyond_what_is_left(lead: Lead, tails: Sequence[Tail], leads: Sequence[Lead]) -> Iterator[Finding]:
    short = [(link, cm) for link, cm in tails if _a_shorter_reaches(lead, cm, leads)]
    own = [link.connection.lead.cut_end for link, cm in tails if (link, cm) not in short]
    cut = max(own.count("a"), own.count("b"))
    for end in ("a", "b"):
        taking = [(link, cm) for link, cm in short if link.connection.lead.cut_end == end]
        left = cut - own.count(end)
        if len(taking) <= left:
            continue
        for link, cm in taking:
            yield broken(
                "R3",
                str(link),
                f"{lead.sku} is cut, though half of a shorter lead of its kind would reach {cm / 100:.2f} m: "
                f"{len(taking)} such tails of end {end.upper()}, and {left} left over from longer ones.",
            )


def _a_shorter_reaches(lead: Lead, least_cm: int, leads: Sequence[Lead]) -> bool:
    shorter = [each for each in leads if _of_a_kind(each, lead) and each.length_m < lead.length_m]
    return any(suffices(exact(each.length_m) / 2, least_cm) for each in shorter)


def _of_a_kind(one: Lead, other: Lead) -> bool:
    return one.balanced is other.balanced and {one.end_a, one.end_b} == {other.end_a, other.end_b}
