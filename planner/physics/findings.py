"""How what the physics finds is put: over a limit, of concern, or good to know."""

from collections.abc import Iterable

from planner.design import Finding, Severity


def over_limit(rule: str, subject: str, message: str, *, held: bool) -> Finding:
    """A limit is broken, or a target missed: the design is invalid where the brief holds it to that."""
    severity = Severity.INVALID if held else Severity.CONCERN
    return Finding(rule=rule, severity=severity, subject=subject, message=message)


def concern(rule: str, subject: str, message: str) -> Finding:
    """No rule forbids it, but the designer should see it before quoting."""
    return Finding(rule=rule, severity=Severity.CONCERN, subject=subject, message=message)


def note(rule: str, subject: str, message: str) -> Finding:
    """A figure, or what the catalogue does not say."""
    return Finding(rule=rule, severity=Severity.NOTE, subject=subject, message=message)


def named(things: Iterable[str], most: int = 6) -> str:
    """Names in a sentence, each once; a long list is cut and counted.

    >>> named(["Left", "Right", "Left"]), named("abcdefgh", most=3)
    ('Left and Right', 'a, b, c and 5 more')
    """
    names = list(dict.fromkeys(things))
    if len(names) > most:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
