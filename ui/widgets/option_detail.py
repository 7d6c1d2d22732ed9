"""The parts of one option, each as a table of text as the command prints it."""

from collections.abc import Mapping

import streamlit as st

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Severity
from planner.house import House
from planner.options import Option
from planner.output_map import output_map
from planner.tables.amounts import figure
from planner.tables.detail import bill_rows, bill_sums, channel_words
from planner.tables.findings import FIGURE_HEADINGS, figure_cells, finding_words
from planner.tables.report import NOT_CHECKED, NOT_CHECKED_WARNING
from planner.words import lead_words
from ui.markup import literal
from ui.widgets.table import table

_SEVERITY_WORDS: Mapping[Severity, str] = {
    Severity.INVALID: "breaks a rule",
    Severity.CONCERN: "to be seen",
    Severity.NOTE: "good to know",
}


def bill(option: Option, brief: Brief, catalogue: Catalogue, house: House) -> None:
    """What is bought and done, and the sums down to the total with tax."""
    currency = option.quote.currency
    headings = ("Count", "Item", "Supplier", f"Each, {currency}", f"Sum, {currency}")
    table(headings, bill_rows(option, catalogue), "Bill of materials", figures=(headings[0], *headings[3:]))
    sums = [(words, figure(minor, currency)) for words, minor in bill_sums(option, brief, house)]
    _, right = st.columns([3, 2])
    with right:
        table(("Sums", currency), sums, "Sums of the bill", figures=(currency,))


def outputs(option: Option) -> None:
    """Each processor output: the leads it feeds, what they pass through, and what it drives."""
    lead_by_source = {connection.source: connection.lead for connection in option.design.connections}
    rows = [
        (
            str(line.output),
            channel_words(line),
            ", then ".join(lead_words(lead_by_source[jack]) for jack in (line.output, *line.through)),
            ", then ".join(map(str, line.through)) or "directly",
            str(line.drives),
        )
        for line in output_map(option.design)
    ]
    table(("Output", "Channel", "Leads", "Through", "Drives"), rows, "Output map")


def ledger(option: Option) -> None:
    """Have, used and spare of every port group."""
    rows = [(line.device, line.group, str(line.have), str(line.used), str(line.spare)) for line in option.ledger]
    headings = ("Device", "Port group", "Have", "Used", "Spare")
    table(headings, rows, "Channel ledger", figures=headings[2:])


def findings(option: Option) -> None:
    """What the checks have to say."""
    if not option.findings:
        st.markdown("The rules that are checked have nothing to say of this option.")
        return
    rows = [
        (
            each.rule,
            _SEVERITY_WORDS[each.severity],
            each.subject,
            *figure_cells(each),
            finding_words(each, option.design),
        )
        for each in option.findings
    ]
    table(("Rule", "How grave", "Where", *FIGURE_HEADINGS, "Finding"), rows, "Findings")


def not_checked() -> None:
    """What nobody has checked yet, so that a valid option is not taken for more than it is."""
    with st.container(border=True):
        st.markdown("**What is kept, told and not checked**")
        st.markdown(NOT_CHECKED_WARNING)
        st.markdown("\n".join(f"- {literal(text)}" for text in NOT_CHECKED))
