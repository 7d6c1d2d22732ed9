"""Findings line by line: rule, how grave, where, how much, what it is held to, by how much; and the sentence."""

from planner.design import Design, Finding
from planner.tables.layout import Column, grid
from planner.wiring.finding_places import marks_of

FIGURE_HEADINGS = ("Is", "Limit", "By")


def finding_table(findings: tuple[Finding, ...], design: Design) -> list[str]:
    """All findings on one design, each with its sentence under its line."""
    columns = (
        Column("Rule"),
        Column("How grave"),
        Column("Where", flexible=True),
        *(Column(heading, right=True) for heading in FIGURE_HEADINGS),
    )
    rows = [(each.rule, each.severity.value, each.subject, *figure_cells(each)) for each in findings]
    return grid(columns, rows, [finding_words(each, design) for each in findings])


def figure_cells(finding: Finding) -> tuple[str, str, str]:
    """How much, what it is held to, and by how much it is on the wrong side; "-" for what there is not."""
    figure = finding.excess or next(iter(finding.figures), None)
    if figure is None:
        return "-", "-", "-"
    if figure.limit is None or figure.beyond is None:
        return figure.words(figure.value), "-", "-"
    return figure.words(figure.value), figure.words(figure.limit), figure.words(figure.beyond)


def finding_words(finding: Finding, design: Design) -> str:
    """The sentence, and the marks of the leads that it is of."""
    marks = marks_of(finding.places, design)
    return f"{finding.message} Leads: {', '.join(marks)}." if marks else finding.message
