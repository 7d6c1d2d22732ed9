"""R17 in words: each loop that may hum, by its members, with what breaks it; the others summed up.

Nothing here ever proposes to lift or disconnect a protective earth.
"""

from collections.abc import Iterator, Mapping, Sequence

from planner.brief.records import Limits
from planner.design import Figure, FigureUnit, Finding, Place, PlaceKind, Severity
from planner.physics.earth import ASSUMED_CURRENT_A, REFERENCE_DBV, EarthLoop
from planner.physics.earth_graph import EarthEdge
from planner.physics.findings import devices, named

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
        yield Finding(
            rule="R17",
            severity=Severity.INVALID,
            subject="earth loops",
            heading="Too many earth loops",
            detail=f"{_loops(len(loops))}, and the brief allows {most}.",
            figures=(Figure(of="earth loops", value=len(loops), unit=FigureUnit.LOOPS, limit=most),),
            places=devices(name for loop in loops for name in loop.members),
            remedies=("class II gear, which has no mains earth", "more loops allowed"),
            caution=_NEVER,
        )


def _humming(loops: Sequence[EarthLoop]) -> Iterator[Finding]:
    """One finding for all loops of the same members, with every unbalanced lead between any two of them."""
    leads = _leads_by_link(loops)
    alike: dict[tuple[frozenset[str], bool], list[EarthLoop]] = {}
    for loop in loops:
        if loop.unbalanced and not loop.bundled:
            alike.setdefault((frozenset(loop.members), loop.earthed), []).append(loop)
    for group in alike.values():
        members = group[0].members
        links = dict.fromkeys(_link(edge) for loop in group for edge in loop.unbalanced)
        shields = "; ".join(_link_words(link, [edge.lead for edge in leads[link]]) for link in links)
        earthed = group[0].earthed
        through = f"{named(members)}{' and the safety earth' if earthed else ''}"
        yield Finding(
            rule="R17",
            severity=Severity.CONCERN,
            subject=named(members),
            heading=f"{_loops(len(group))} through {through}, by unbalanced shields",
            detail=f"The shields: {shields}. {_hum(group)}",
            figures=(Figure(of="earth loops", value=len(group), unit=FigureUnit.LOOPS), *_hum_figures(group)),
            places=(*devices(members), *(_lead(edge) for link in links for edge in leads[link])),
            remedies=(
                "at one of these links, a line isolating transformer at the receiving end of each lead, which the"
                " search buys where the brief limits earth loops",
                "a balanced link with the right lead",
                *(("class II gear, which has no mains earth",) if earthed else ()),
            ),
            caution=_NEVER,
        )


def _lead(edge: EarthEdge) -> Place:
    return Place(kind=PlaceKind.LEAD, name=edge.lead, jacks=edge.ends)


def _hum_figures(loops: Sequence[EarthLoop]) -> Iterator[Figure]:
    """The hum of the worst loop, where it can be estimated."""
    worst = _worst(loops)
    if worst is not None and worst.hum_v is not None and worst.hum_db is not None:
        yield Figure(of="hum estimated in the worst lead", value=worst.hum_v, unit=FigureUnit.V)
        yield Figure(of=f"hum re {REFERENCE_DBV:g} dBV", value=worst.hum_db, unit=FigureUnit.DB)
        yield Figure(of="current assumed in the shield", value=ASSUMED_CURRENT_A, unit=FigureUnit.A)


def _leads_by_link(loops: Sequence[EarthLoop]) -> Mapping[frozenset[str], list[EarthEdge]]:
    """Every unbalanced lead that is part of a loop, by the two devices that it joins."""
    leads: dict[frozenset[str], dict[EarthEdge, None]] = {}
    for loop in loops:
        for edge in loop.unbalanced:
            leads.setdefault(_link(edge), {})[edge] = None
    return {link: list(edges) for link, edges in leads.items()}


def _link(edge: EarthEdge) -> frozenset[str]:
    return frozenset((edge.one, edge.other))


def _link_words(link: frozenset[str], leads: Sequence[str]) -> str:
    return leads[0] if len(leads) == 1 else f"{len(leads)} leads between {named(sorted(link))}"


def _worst(loops: Sequence[EarthLoop]) -> EarthLoop | None:
    """The loop with the greatest resistance; None where that of one is not known."""
    if any(loop.worst_shield_ohm is None for loop in loops):
        return None
    return max(loops, key=lambda loop: loop.worst_shield_ohm or 0.0)


def _hum(loops: Sequence[EarthLoop]) -> str:
    """The worst of several loops."""
    worst = _worst(loops)
    if worst is None:
        return "The catalogue does not give the resistance of each shield, so the hum is not estimated."
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
        yield Finding(
            rule="R17",
            severity=Severity.NOTE,
            subject="unbalanced leads side by side",
            heading=f"{_loops(len(loops))} between leads of the same two devices, with no mains earth in it",
            detail=f"({named(pairs, most=4)}) Run such leads side by side, and they do no harm.",
            figures=(Figure(of="earth loops", value=len(loops), unit=FigureUnit.LOOPS),),
            places=devices(name for loop in loops for name in loop.members),
        )


def _balanced(loops: Sequence[EarthLoop]) -> Iterator[Finding]:
    if loops:
        members = [name for loop in loops for name in loop.members]
        yield Finding(
            rule="R17",
            severity=Severity.NOTE,
            subject="balanced shields",
            heading=f"{_loops(len(loops))} through shields that carry no signal ({named(members)})",
            detail="Harmless in practice with shields joined at both ends to the chassis.",
            figures=(Figure(of="earth loops", value=len(loops), unit=FigureUnit.LOOPS),),
            places=devices(members),
            caution=_NEVER,
        )


def _loops(count: int) -> str:
    return "One earth loop" if count == 1 else f"{count} earth loops"
