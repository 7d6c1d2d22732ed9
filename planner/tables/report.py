"""The whole printed answer of `options`, section after section."""

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.house import House
from planner.options import Option, Result, Status
from planner.tables.detail import bill, findings, ledger, output_table
from planner.tables.heading import heading, status_lines
from planner.tables.layout import paragraph, section
from planner.tables.relaxations import relaxations
from planner.tables.shortlist import shortlist
from planner.tables.trade_off import trade_off_table

NOT_CHECKED = ("the bass in a room that is not an empty rectangular box: the spread (M9) is a prediction",)
NOT_CHECKED_WARNING = (
    "Full output, targets, cable, load and delays (R11 to R15) are kept by every design, as far as the brief keeps"
    " them. Noise, earth loops, power above handling and what the catalogue does not say are told among the findings:"
    " read them before you quote. Not computed at all:"
)


def options_report(result: Result, brief: Brief, catalogue: Catalogue, house: House, detailed: Option | None) -> str:
    """The answer as plain text, `detailed` being the option that is printed in full."""
    lines = [*heading(brief), *status_lines(result, brief)]
    if result.status is Status.INFEASIBLE:
        lines.extend(_conflict(result))
    if detailed is not None:
        lines.extend(shortlist(result))
        lines.extend(trade_off_table(result, brief, catalogue))
        lines.extend(ledger(detailed))
        lines.extend(output_table(detailed))
        lines.extend(bill(detailed, brief, catalogue, house))
        lines.extend(findings(detailed))
        lines.extend(_not_checked())
    return "\n".join(lines) + "\n"


def mending_report(result: Result) -> str:
    """What would mend a brief without a design, as plain text to stand under the answer."""
    return "\n".join(relaxations(result)) + "\n"


def _conflict(result: Result) -> list[str]:
    lines: list[str] = []
    for sentence in result.conflict:
        lines.extend(paragraph(sentence, indent="  ", first="- "))
    return section("These requirements cannot hold together", lines)


def _not_checked() -> list[str]:
    lines = paragraph(NOT_CHECKED_WARNING)
    for text in NOT_CHECKED:
        lines.extend(paragraph(text, indent="  ", first="- "))
    return section("What is kept, told and not checked", lines)
