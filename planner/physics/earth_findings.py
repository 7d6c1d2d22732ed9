"""R17 in words: each loop that may hum, by its members, with what breaks it; the others summed up.

Nothing here ever proposes to lift or disconnect a protective earth.
"""

from collections.abc import Iterator, Mapping, Sequence

from planner.brief.records import Limits
from planner.design import Finding
from planner.physics.earth import ASSUMED_CURRENT_A, REFERENCE_DBV, EarthLoop
from planner.physics.earth_graph import EarthEdge
from planner.physics.findings import concern, named, note, over_limit

_NEVER = "A protective earth is never lifted or disconnected."


def earth_findings(loops: Sequence[EarthLoop], limits: Limits) -> tuple[Finding, ...]:
    """What R17 has to say of one design: loops through the same devices are told together."""
    return (
        *_too_many(loops, limits.most_earth_loops),
        *_humming(loops),
        *_bundles([loop for loop in loops if loop.unbalanced and loop.bundled]),
        *_balanced([loop for loop in loops if not loop.unbalanced]),
    )


def _too_many(loops: Sequence[EarthLoop], most: int | None) -> Iterator[Finding]:
    if most is not None and len(loops) > most:
        yield over_limit(
            "R17",
            "earth loops",
            f"{_loops(len(loops))}, and the brief allows {most}. Remedy: class II gear, which has no mains earth, or"
            f" more loops allowed. {_NEVER}",
            held=True,
        )


def _humming(loops: Sequence[EarthLoop]) -> Iterator[Finding]:
    """One finding for all loops of the same members, with every unbalanced lead between any two of them."""
    leads = _leads_by_link(loops)
    alike: dict[tuple[frozenset[str], bool], list[EarthLoop]] = {}
    for loop in loops:
        if loop.unbalanced and not loop.bundled:
            alike.setdefault((frozenset(loop.members), loop.earthed), []).append(loop)
    for group in alike.values():
        members = named(group[0].members)
        links = dict.fromkeys(_link(edge) for loop in group for edge in loop.unbalanced)
        shields = "; ".join(_link_words(link, leads[link]) for link in links)
        earth, class_ii = "", ""
        if group[0].earthed:
            earth, class_ii = " and the safety earth", ", or class II gear, which has no mains earth"
        yield concern(
            "R17",
            members,
            f"{_loops(len(group))} through {members}{earth}, by unbalanced shields: {shields}. Remedy: at one of these"
            f" links, a line isolating transformer at the receiving end of each lead, or a balanced link with the right"
            f" lead{class_ii}. {_NEVER} {_hum(group)}",
        )


def _leads_by_link(loops: Sequence[EarthLoop]) -> Mapping[frozenset[str], list[str]]:
    """Every unbalanced lead that is part of a loop, by the two devices that it joins."""
    leads: dict[frozenset[str], dict[str, None]] = {}
    for loop in loops:
        for edge in loop.unbalanced:
            leads.setdefault(_link(edge), {})[edge.lead] = None
    return {link: list(names) for link, names in leads.items()}


def _link(edge: EarthEdge) -> frozenset[str]:
    return frozenset((edge.one, edge.other))


def _link_words(link: frozenset[str], leads: Sequence[str]) -> str:
    return leads[0] if len(leads) == 1 else f"{len(leads)} leads between {named(sorted(link))}"


def _hum(loops: Sequence[EarthLoop]) -> str:
    """The worst of several loops."""
    if any(loop.worst_shield_ohm is None for loop in loops):
        return "The catalogue does not give the resistance of each shield, so the hum is not estimated."
    worst = max(loops, key=lambda loop: loop.worst_shield_ohm or 0.0)
    if worst.hum_db is None or worst.hum_v is None or worst.worst_shield_ohm is None:
        return "No lead's shield lies in the way, so next to no hum is expected."
    return (
        f"Hum estimated in the worst lead: {worst.hum_v * 1e6:.3g} µV, {worst.hum_db:.0f} dB re {REFERENCE_DBV:g} dBV,"
        f" for {worst.worst_shield_ohm:.2g} ohm of shield and an assumed current of"
        f" {ASSUMED_CURRENT_A * 1e6:.0f} µA; only listening and measuring can tell."
    )


def _bundles(loops: Sequence[EarthLoop]) -> Iterator[Finding]:
    if loops:
        pairs = (" and ".join(loop.members) for loop in loops)
        yield note(
            "R17",
            "unbalanced leads side by side",
            f"{_loops(len(loops))} between leads of the same two devices, with no mains earth in it"
            f" ({named(pairs, most=4)}): run such leads side by side, and they do no harm.",
        )


def _balanced(loops: Sequence[EarthLoop]) -> Iterator[Finding]:
    if loops:
        members = (name for loop in loops for name in loop.members)
        yield note(
            "R17",
            "balanced shields",
            f"{_loops(len(loops))} through shields that carry no signal ({named(members)}): harmless in practice with"
            f" shields joined at both ends to the chassis. {_NEVER}",
        )


def _loops(count: int) -> str:
    return "One earth loop" if count == 1 else f"{count} earth loops"
