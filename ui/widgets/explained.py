"""The parts of an explanation, drawn: the same sentences as the command prints, and charts and tables beside them."""

from collections.abc import Iterable, Sequence

import streamlit as st

from planner.catalogue.records import Catalogue
from planner.comparison.compared import Comparison
from planner.comparison.gear import names
from planner.comparison.moves import path_words
from planner.comparison.words import CAUSE_WORDS, change_words, comparison_sentence, difference_words
from planner.explain.explanation import WhyNone, WhyOption
from planner.explain.price_steps import Drives, PriceSteps, Staircase
from planner.explain.robust import Robust
from planner.explain.robust_words import advice, band_words, flip_sentence, span_sentence
from planner.explain.rooms import SharedOrder
from planner.explain.sentences import (
    AXIS_TITLES,
    beyond_sentence,
    device_sentences,
    headlines,
    left_out_sentence,
    mend_sentence,
    step_sentence,
)
from planner.explain.stages import NowAndLater
from planner.explain.together_words import order_rows, order_sentences, stages_sentences
from planner.tables.amounts import figure
from planner.tables.cells import NOT_KNOWN
from ui.ink import ink
from ui.markup import capital, literal
from ui.staircase import staircase
from ui.widgets.table import table

_DRIVES = {"By any drive": Drives.ANY, "Each on an output of its own": Drives.DEDICATED}


def steps(found: PriceSteps, currency: str, catalogue: Catalogue) -> None:
    """What one more of each thing costs, and a staircase of each."""
    _told(headlines(found, currency))
    axes = list(dict.fromkeys(stairs.axis for stairs in found.staircases))
    left, right = st.columns(2)
    with left:
        axis = st.selectbox("Steps of", axes, format_func=lambda one: AXIS_TITLES[one], key="why_axis")
    with right:
        words = st.selectbox("Subwoofers", [*_DRIVES], key="why_drives")
    stairs = next(s for s in found.staircases if s.axis is axis and s.drives is _DRIVES[words])
    st.altair_chart(
        staircase(stairs, currency, ink()),
        width="stretch",
        key="why_chart",
        alt=f"Least price at each count of {AXIS_TITLES[axis].lower()}; the same in words below.",
    )
    st.caption("Every bar is the least price of a brief of its own, with its limits and without its budget.")
    _told(_step_sentences(stairs, currency, catalogue))


def _step_sentences(stairs: Staircase, currency: str, catalogue: Catalogue) -> list[str]:
    name_by_sku = names(catalogue)
    return [step_sentence(step, stairs, currency, name_by_sku) for step in stairs.steps]


def compared(found: Sequence[Comparison], currency: str, catalogue: Catalogue) -> None:
    """Each comparison: the client's sentence, the causes of the price, and what the designer changes."""
    name_by_sku = names(catalogue)
    if not found:
        st.markdown("There is no other option to compare with.")
    for one in found:
        st.markdown(f"##### Option {one.before.id} against option {one.after.id}")
        st.markdown(literal(comparison_sentence(one, currency)))
        sums = [f"Gear, {currency}", f"Labour, {currency}", f"Tax, {currency}", f"Sum, {currency}"]
        rows = [
            (
                CAUSE_WORDS[p.cause],
                *(figure(m, currency) for m in (p.gear_minor, p.labour_minor, p.tax_minor, p.total_minor)),
            )
            for p in one.parts
        ]
        table(["What the difference is made of", *sums], rows, "Causes of the price difference", figures=sums)
        with st.expander("For the designer"):
            _told([f"Gear: {change_words(one.gear, name_by_sku)}."])
            _told(f"Leads: {lead.more:+d} {name_by_sku[lead.sku]}." for lead in one.leads)
            _told(f"{capital(difference_words(d))}." for d in one.differences)
            moved = [(f"{m.member[0]} {m.member[1] + 1}", path_words(m.before), path_words(m.after)) for m in one.moves]
            table(["Moved", "From", "To"], moved, "What is reached another way")


def devices(why: WhyOption, currency: str, catalogue: Catalogue) -> None:
    """What each device of the option saves, and which others came near."""
    name_by_sku = names(catalogue)
    st.markdown("**The least extra price without each device**, with nothing that the option offers given up")
    _told(text for device in why.devices for text in device_sentences(device, currency, name_by_sku))
    st.markdown("**Devices that no option uses**, the nearest first")
    _told(left_out_sentence(one, currency, name_by_sku) for one in why.left_out.devices)
    st.markdown(literal(beyond_sentence(why.left_out, currency)))


def movement(found: Robust, currency: str, catalogue: Catalogue) -> None:
    """What moving rates and prices do."""
    name_by_sku = names(catalogue)
    st.caption(literal("Bands: " + "; ".join(band_words(band) for band in found.bands)))
    _told(advice(found, currency))
    st.markdown("**The options**")
    _told(span_sentence(span, currency) for span in found.spans)
    st.markdown("**Where the answer turns**")
    _told(flip_sentence(flip, name_by_sku) for flip in found.flips)


def later(found: NowAndLater, currency: str, catalogue: Catalogue) -> None:
    """The plan for all stages."""
    _told(stages_sentences(found, currency, names(catalogue)))


def together(found: SharedOrder, currency: str, catalogue: Catalogue) -> None:
    """The order of several rooms, line by line."""
    name_by_sku = names(catalogue)
    _told(order_sentences(found, currency, name_by_sku))
    if found.lines:
        table(
            ["Count", "Item", "Supplier", f"Each, {currency}", f"Sum, {currency}"],
            [
                (count or NOT_KNOWN, item, supplier, each or NOT_KNOWN, whole)
                for count, item, supplier, each, whole in order_rows(found, currency, name_by_sku)
            ],
            "The order of all rooms",
            figures=["Count", f"Each, {currency}", f"Sum, {currency}"],
        )


def conflicts(why: WhyNone, currency: str) -> None:
    """Every conflict, and what mends the brief."""
    for number, conflict in enumerate(why.conflicts.sets, 1):
        st.markdown(f"##### Conflict {number}: these cannot hold together")
        _told(requirement.sentence for requirement in conflict)
    st.markdown("##### What would mend it, what gives up least first")
    _told(mend_sentence(mend, currency) for mend in why.mends)


def _told(sentences: Iterable[str]) -> None:
    """Sentences as a list."""
    st.markdown("\n".join(f"- {literal(capital(text))}" for text in sentences))
