"""The leads of one option: all of them by mark, one of them pin by pin, and what is cut from what."""

from collections.abc import Iterator

import streamlit as st

from planner.catalogue.records import Catalogue
from planner.documents.contact_words import contact_words
from planner.house import House
from planner.options import Option
from planner.wiring.cut_list import CableCuts, CutList, Tail, cut_list
from planner.wiring.ends import LeadEnd
from planner.wiring.make_up import MakeUp, make_ups
from planner.wiring.spare_halves import Savings, savings
from planner.words import TASK_WORDS, lead_words, listed
from ui.markup import literal
from ui.widgets.table import table


def lead_view(option: Option, catalogue: Catalogue, house: House) -> None:
    """Every lead with its mark, then one of them in full."""
    leads = make_ups(option.design, catalogue, house)
    headings = ("Mark", "From", "To", "Carries", "Lead", "Wanted, m", "Sold, m")
    table(headings, [_row(lead) for lead in leads], "Leads", figures=headings[-2:])
    if leads:
        st.markdown("##### One lead", anchors=False)
        _one(leads[_chosen(leads, option.id)])
    _cuts(cut_list(option.design, catalogue))


def _row(lead: MakeUp) -> tuple[str, ...]:
    label = lead.label
    return (
        lead.mark, label.source, label.sink, label.carries, lead_words(lead.connection.lead), f"{lead.length_m:.2f}",
        f"{lead.sold_m:.2f}",
    )  # fmt: skip


def _chosen(leads: tuple[MakeUp, ...], option_id: str) -> int:
    return st.selectbox(
        "Lead",
        range(len(leads)),
        format_func=lambda one: f"{leads[one].mark}: {leads[one].label.source} to {leads[one].label.sink}",
        key=f"lead.{option_id}",
    )


def _one(lead: MakeUp) -> None:
    tasks = ", ".join(f"{counted_task(work.count, TASK_WORDS[work.task])} {work.minutes:f} min" for work in lead.work)
    st.markdown(literal(f"{lead.cable_name}. Shield: {lead.shield.value}. Work: {tasks}."))
    for side, end in zip(st.columns(2), (lead.source, lead.sink), strict=True):
        with side:
            st.markdown(f"**{literal(str(end.jack))}**: {literal(_met(end))}")
            table(("Pin", "Joined to"), list(_pins(end)), f"Pins at {end.jack}")
    for remark in lead.remarks:
        st.markdown(f"- {literal(remark)}")


def counted_task(count: int, words: str) -> str:
    """A task with how often, where it is more than once.

    >>> counted_task(1, "run lead"), counted_task(2, "make up end")
    ('run lead', '2 × make up end')
    """
    return words if count == 1 else f"{count} × {words}"


def _met(end: LeadEnd) -> str:
    made = "made on the job" if end.to_make else "as it comes"
    return f"{contact_words(end.plug)}, {made}"


def _pins(end: LeadEnd) -> Iterator[tuple[str, str]]:
    for pin in end.pins:
        joined = " and ".join(pin.cores) or (f"{pin.joined_to}, in the connector" if pin.joined_to else "nothing")
        yield pin.pin, joined
    for core in end.open_cores:
        yield "none", f"{core}, cut back and insulated"


def _cuts(cuts: CutList) -> None:
    if cuts.leads:
        st.markdown("##### Leads cut in half", anchors=False)
        halves = [(each.name, str(each.number), *_tail(each.end_a), *_tail(each.end_b)) for each in cuts.leads]
        table(("Lead", "No.", "One tail", "Becomes", "Other tail", "Becomes too"), halves, "Leads cut in half")
        _saved(savings(cuts))
    if cuts.cables:
        st.markdown("##### Cable cut to length", anchors=False)
        headings = ("Cable", "Steps", "Sold, m", "Left over, m", "Pieces")
        table(headings, list(map(_cable, cuts.cables)), "Cable cut to length", figures=headings[1:4])


def _saved(found: Savings) -> None:
    """What spare halves could do instead; the bill is as it stands."""
    if found.whole:
        leads = listed(tuple(f"{lead.sku} no. {lead.number}" for lead in found.whole))
        moves = "; ".join(f"{move.mark} from {move.sku} no. {move.number}, {move.half_m:g} m" for move in found.moves)
        st.markdown(literal(f"Spare halves would do in place of {leads}, which the bill counts all the same: {moves}."))


def _cable(cable: CableCuts) -> tuple[str, ...]:
    pieces = ", ".join(f"{piece.mark} {piece.wanted_m:.2f} m" for piece in cable.pieces)
    return cable.name, str(cable.steps), f"{cable.sold_m:.2f}", f"{cable.left_m:.2f}", pieces


def _tail(tail: Tail) -> tuple[str, str]:
    plug = f"{contact_words(tail.plug)}, {tail.half_m:g} m"
    return plug, "spare" if tail.mark is None else f"{tail.mark}, {tail.wanted_m:.2f} m"
