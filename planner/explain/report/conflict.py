"""E4 as printed: every set of requirements that cannot hold together, and what mends the brief."""

from planner.explain.explanation import WhyNone
from planner.explain.sentences import mend_sentence
from planner.tables.layout import paragraph, section


def conflict_sections(why: WhyNone, currency: str) -> list[str]:
    """The conflicts, each by itself, and the changes by price."""
    lines: list[str] = []
    for number, conflict in enumerate(why.conflicts.sets, 1):
        lines += section(f"Conflict {number}: these cannot hold together", [
            line for requirement in conflict for line in paragraph(requirement.sentence, "  ", "- ")
        ])  # fmt: skip
    if not why.conflicts.sets:
        lines += section("Conflicts", paragraph("None was found in time, or the catalogue has no processor to offer."))
    mended = [line for mend in why.mends for line in paragraph(mend_sentence(mend, currency), "  ", "- ")]
    none = paragraph("No single change, and no pair of changes, is known to mend the brief.")
    return [*lines, *section("What would mend it, what gives up least first", mended or none)]
