"""What is wrong, shown all at once: beside the form, of a file, or of the planner itself."""

import re
from collections.abc import Sequence

import streamlit as st

from planner.errors import Fault
from planner.words import counted
from ui.markup import literal
from ui.widgets.labels import place_words

_MOST_SHOWN = 200
_LINE_OF_TOML = re.compile(r"(Write|Add) \S+ = .*")


def brief_faults(faults: Sequence[Fault]) -> None:
    """The faults of the brief in the inputs, each by the name of its input."""
    st.error(f"**{counted(len(faults), 'thing')} to mend.** Nothing you typed is lost.", icon=":material/edit_note:")
    lines = [
        f"- **{literal(place_words(fault.where))}**: found {literal(fault.value)};"
        f" expected {literal(fault.expected)}. {literal(_in_a_form(fault.remedy))}"
        for fault in faults[:_MOST_SHOWN]
    ]
    st.markdown("\n".join(lines))
    _more(faults)


def file_faults(faults: Sequence[Fault], *, key: str) -> None:
    """The faults of files as a table, and all of them as text to take away."""
    st.error(f"**{counted(len(faults), 'fault')} found.** Mend the file and open it again.", icon=":material/error:")
    rows = [
        {
            "Where": literal(fault.where),
            "Found": literal(fault.value),
            "Expected": literal(fault.expected),
            "What to do": literal(fault.remedy),
        }
        for fault in faults[:_MOST_SHOWN]
    ]
    st.table(rows, border="horizontal", alt="Faults")
    _more(faults)
    st.download_button(
        "Save the list of faults",
        "\n".join(str(fault) for fault in faults) + "\n",
        file_name="faults.txt",
        mime="text/plain",
        on_click="ignore",
        key=f"{key}_faults_file",
    )


def our_bug(report: str) -> None:
    """The planner is at fault, not the user; nothing of this answer is to be trusted."""
    st.error(
        "**This is a fault of the planner's own, not of your files.** No result is shown, since none could be trusted."
        " Your brief is kept. Please pass on these lines, with the brief and the catalogue:",
        icon=":material/bug_report:",
    )
    st.code(report, language=None, wrap_lines=True)


def _in_a_form(remedy: str) -> str:
    """A remedy that only says what line to write in the file says nothing to someone at an input."""
    return "" if _LINE_OF_TOML.fullmatch(remedy) else remedy


def _more(faults: Sequence[Fault]) -> None:
    if len(faults) > _MOST_SHOWN:
        st.markdown(f"The first {_MOST_SHOWN} are shown.")
