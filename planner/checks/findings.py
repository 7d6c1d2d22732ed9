"""How a broken rule is put into words."""

from planner.design import Finding, Severity


def broken(rule: str, subject: str, message: str) -> Finding:
    """A finding that makes the design invalid: the rule's id, what it concerns, the sentence."""
    return Finding(rule=rule, severity=Severity.INVALID, subject=subject, detail=message)


def counted(count: int, noun: str) -> str:
    """A count with its noun, "1 lead" or "3 leads"."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
