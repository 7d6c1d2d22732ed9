"""Why: price steps, comparisons, the gear, what moving prices do, stages to come; or why there is no design."""

from collections.abc import Callable
from typing import TYPE_CHECKING

import streamlit as st

from planner.words import counted
from ui.answers import Answered, Broken, Question, Refused
from ui.explaining import EXPLANATIONS
from ui.markup import literal
from ui.session import Screen, Session, go_to
from ui.widgets.faults import brief_faults, our_bug
from ui.widgets.option_choice import chosen_option
from ui.widgets.progress import explaining_line

if TYPE_CHECKING:
    from planner.explain.explanation import Explanation, Wishes
    from ui.explaining import Told


def render(session: Session, asked: Question | Refused) -> None:
    """Draws the explanation of the option chosen, or the way to one."""
    shown = session.shown
    if shown is None:
        st.markdown("There is no answer to explain yet.")
        st.button("See the options", key="why_to_options", type="primary", on_click=go_to, args=(Screen.OPTIONS,))
        return
    if session.is_old(asked):
        st.info("This is about the answer from before your last change.", icon=":material/history:")
    result = shown.result
    option_id = chosen_option(session, result, "Option to explain", key="why_option").id if result.options else ""
    wished = _wishes(session, shown, option_id)
    if isinstance(wished, Refused):
        if wished.faults:
            brief_faults(wished.faults)
        return
    told, work = EXPLANATIONS.told(shown, wished), session.explaining
    if work is not None and work.running and work.about(shown, wished):
        if work.soon_over():
            st.rerun()
        explaining_line(session)
    elif told is not None:
        _told(session, told, shown, wished)
    else:
        st.markdown(
            "The planner proves each price anew, for the brief with a little more and a little less of everything."
        )
        _ask("Explain", session, shown, wished)


def _wishes(session: Session, shown: Answered, option_id: str) -> "Wishes | Refused":
    """What is to be known beside the option itself."""
    from planner.explain.explanation import Wishes  # late, as all of the explanations
    from ui.widgets.wishes import wishes

    if not shown.result.options:
        return Wishes()
    staged = bool(shown.question.brief.later)
    return wishes(option_id, shown.question.gear, session.other_projects(), session.brief_of, staged=staged)


def _ask(words: str, session: Session, shown: Answered, wished: "Wishes") -> None:
    st.button(
        words,
        key="explain",
        type="primary",
        icon=":material/help:",
        on_click=session.explain,
        args=(shown, wished),
    )


def _told(session: Session, told: "Told", shown: Answered, wished: "Wishes") -> None:
    match told:
        case Refused(faults):
            brief_faults(faults)
        case Broken(report):
            our_bug(report)
        case _:
            if told.unsettled:
                st.warning("Not all was settled: the time ran out, or it was stopped.", icon=":material/timer:")
                with st.expander(f"What is not settled: {counted(len(told.unsettled), 'question')}"):
                    st.markdown("\n".join(f"- {literal(text)}" for text in told.unsettled))
                _ask("Explain again", session, shown, wished)
            _explanation(told, shown)


def _explanation(found: "Explanation", shown: Answered) -> None:
    # Late: the first screen need not wait for the solver to load.
    from planner.explain.explanation import WhyNone, WhyOption
    from ui.widgets.explained import compared, conflicts, devices, later, movement, steps, together

    currency, catalogue = found.result.currency, shown.question.gear.catalogue
    match found.why:
        case WhyNone() as why:
            conflicts(why, currency)
        case WhyOption() as why:
            parts: dict[str, Callable[[], None]] = {
                "Price steps": lambda: steps(why.steps, currency, catalogue),
                "Compared": lambda: compared(why.comparisons, currency, catalogue),
                "This gear": lambda: devices(why, currency, catalogue),
                "If prices move": lambda: movement(why.robust, currency, catalogue),
            }
            if (plan := why.stages) is not None:
                parts["Now and later"] = lambda: later(plan, currency, catalogue)
            if (order := why.order) is not None:
                parts["Rooms together"] = lambda: together(order, currency, catalogue)
            for draw, tab in zip(parts.values(), st.tabs([*parts], key="why_tabs"), strict=True):
                with tab:
                    draw()
