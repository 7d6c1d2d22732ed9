"""The make-up sheet: what the solderer cuts, solders and labels, alike leads together."""

from collections.abc import Iterator
from itertools import groupby

from planner.contacts import BARE_TAIL
from planner.design import LeadMethod
from planner.documents.cautions import PREVAIL, Caution, cautions
from planner.documents.contact_words import contact_words
from planner.documents.job import Job
from planner.documents.letterhead import letterhead
from planner.documents.typeset import Data, typeset
from planner.wiring.cores import Core
from planner.wiring.cut_list import CutLead, Tail, cut_list
from planner.wiring.ends import LeadEnd
from planner.wiring.make_up import MakeUp, make_ups
from planner.words import capital

_MADE_HERE = (LeadMethod.MADE_UP, LeadMethod.CUT)


def make_up_sheet(job: Job) -> bytes:
    """The PDF."""
    return typeset("make_up", make_up_data(job), job.brief.project.dated)


def make_up_data(job: Job) -> Data:
    """All that the template prints."""
    leads = make_ups(job.option.design, job.catalogue, job.house)
    made = [lead for lead in leads if lead.method in _MADE_HERE]
    cuts = cut_list(job.option.design, job.catalogue)
    return {
        **letterhead(job, "Lead make-up"),
        "kinds": list(_kinds(made)),
        "ready": [_ready(lead) for lead in leads if lead.method not in _MADE_HERE],
        "cut_leads": [_cut(lead) for lead in cuts.leads],
        "cables": [
            {
                "name": cable.name,
                "sold": f"{cable.sold_m:.2f}",
                "left": f"{cable.left_m:.2f}",
                "pieces": [{"mark": piece.mark, "wanted": f"{piece.wanted_m:.2f}"} for piece in cable.pieces],
            }
            for cable in cuts.cables
        ],
        "minutes": f"{sum(work.minutes for lead in made for work in lead.work if work.task.value == 'make_up_end'):f}",
        "cautions": cautions(Caution.SOLDERING, Caution.MAINS),
        "prevail": PREVAIL,
    }


def _kinds(leads: list[MakeUp]) -> Iterator[Data]:
    """Leads that are wired alike, under one table of cores and pins; in the order of their first marks."""
    order = {key: at for at, key in enumerate(dict.fromkeys(map(_wiring, leads)))}
    for _, alike in groupby(sorted(leads, key=lambda lead: (order[_wiring(lead)], lead.mark)), key=_wiring):
        of_kind = list(alike)
        first = of_kind[0]
        yield {
            "title": f"{capital(_met(first.source))} to {_met(first.sink)}",
            "cable": first.cable_name,
            "cut": first.method is LeadMethod.CUT,
            "source": _end_words(first.source),
            "sink": _end_words(first.sink),
            "cores": [
                {"core": core.value, "source": pins_of_core(first.source, core), "sink": pins_of_core(first.sink, core)}
                for core in first.cores
            ],
            "shield": first.shield.value,
            "notes": [*_bridges(first), *first.remarks],
            "leads": [
                {
                    "mark": lead.mark,
                    "source": str(lead.connection.source),
                    "sink": str(lead.connection.sink),
                    "carries": lead.label.carries,
                    "length": f"{lead.length_m:.2f}",
                }
                for lead in of_kind
            ],
        }


def _wiring(lead: MakeUp) -> object:
    ends = tuple((end.plug, end.fitted, end.to_make, end.pins, end.open_cores) for end in (lead.source, lead.sink))
    return lead.cable, lead.method, ends, lead.remarks


def _met(end: LeadEnd) -> str:
    """What is at an end; of a bare tail, what clamps it."""
    return f"bare tail in {contact_words(end.shows)}" if end.plug == BARE_TAIL else contact_words(end.plug)


def _end_words(end: LeadEnd) -> Data:
    """What is at an end, whether it is made here, and the connector that is fitted for it."""
    made = "to make" if end.to_make else "as it comes"
    return {"words": _met(end), "made": made, "part": end.fitted or ""}


def pins_of_core(end: LeadEnd, core: Core) -> str:
    """The pins that a core goes to, or what becomes of it."""
    pins = [pin.pin for pin in end.pins if core in pin.cores]
    return ", ".join(pins) or "cut back and insulate"


def _bridges(lead: MakeUp) -> Iterator[str]:
    for words, end in (("source", lead.source), ("sink", lead.sink)):
        for pin in end.pins:
            if pin.joined_to is not None:
                yield f"At the {words}, join {pin.pin} to {pin.joined_to} in the connector."
            elif not pin.cores:
                yield f"At the {words}, {pin.pin} stays open."


def _ready(lead: MakeUp) -> Data:
    return {
        "mark": lead.mark,
        "made_of": " + ".join(part.name for part in lead.parts),
        "source": str(lead.connection.source),
        "sink": str(lead.connection.sink),
        "length": f"{lead.sold_m:.2f}",
        "notes": lead.remarks,
    }


def _cut(lead: CutLead) -> Data:
    return {
        "name": lead.name,
        "number": lead.number,
        "length": f"{lead.length_m:.2f}",
        "tails": [_tail(tail) for tail in (lead.end_a, lead.end_b)],
    }


def _tail(tail: Tail) -> Data:
    return {
        "plug": contact_words(tail.plug),
        "mark": tail.mark or "spare",
        "half": f"{tail.half_m:.2f}",
        "wanted": f"{tail.wanted_m:.2f}" if tail.mark else "–",
    }
