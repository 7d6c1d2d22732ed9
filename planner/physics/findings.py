"""How what the physics finds is put: over a limit, of concern, or good to know; and where."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from planner.design import Connection, Finding, Jack, Place, PlaceKind, Severity


def over_limit(found: Finding, *, held: bool) -> Finding:
    """A limit is broken, or a target missed: the design is invalid where the brief holds it to that."""
    return replace(found, severity=Severity.INVALID if held else Severity.CONCERN)


def note(rule: str, subject: str, detail: str, places: Iterable[Place] = ()) -> Finding:
    """What the catalogue does not say, or what is good to know and has no figure."""
    return Finding(rule=rule, severity=Severity.NOTE, subject=subject, detail=detail, places=tuple(places))


def told_together(found: Iterable[tuple[str, Finding]]) -> Iterator[Finding]:
    """One finding for all of which the same is to be said, with the subjects and the places of each."""
    subjects: dict[Finding, list[str]] = {}
    places: dict[Finding, dict[Place, None]] = {}
    for subject, finding in found:
        same = replace(finding, places=())
        subjects.setdefault(same, []).append(subject)
        places.setdefault(same, {}).update(dict.fromkeys(finding.places))
    for same, names in subjects.items():
        yield replace(same, subject=named(names), places=tuple(places[same]))


def devices(names: Iterable[str]) -> tuple[Place, ...]:
    """Devices by their ids in the design."""
    return tuple(Place(kind=PlaceKind.DEVICE, name=name) for name in dict.fromkeys(names))


def jack_place(jack: Jack) -> Place:
    """One jack."""
    return Place(kind=PlaceKind.JACK, name=str(jack), jacks=(jack,))


def lead_place(connection: Connection) -> Place:
    """One lead, by the jacks that it joins."""
    ends = (connection.source, connection.sink)
    return Place(kind=PlaceKind.LEAD, name=" to ".join(map(str, ends)), jacks=ends)


def named(things: Iterable[str], most: int = 6) -> str:
    """Names in a sentence, each once; a long list is cut and counted.

    >>> named(["Left", "Right", "Left"]), named("abcdefgh", most=3)
    ('Left and Right', 'a, b, c and 5 more')
    """
    names = list(dict.fromkeys(things))
    if len(names) > most:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
