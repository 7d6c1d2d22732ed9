"""The same as the papers, for programs: the option, its leads, what is cut, starting values.

`papers.schema.json` documents every key.
"""

from collections.abc import Mapping
from dataclasses import replace

from planner.bass.starting_values import StartingValue
from planner.comparison.as_json import comparison_tree, part_tree
from planner.comparison.compared import compared
from planner.comparison.gear import names
from planner.comparison.price_split import price_parts
from planner.documents.continuity import continuity
from planner.documents.job import Job
from planner.documents.lead_test_sheet import most_ohm
from planner.physics.delay import DelayLine
from planner.result_json import Json, as_text, result_tree
from planner.wiring.cut_list import CableCuts, CutLead, Tail, cut_list
from planner.wiring.ends import LeadEnd
from planner.wiring.make_up import MakeUp, make_ups


def papers_json(job: Job) -> bytes:
    """The JSON text, in UTF-8."""
    return as_text(papers_tree(job)).encode()


def papers_tree(job: Job) -> Json:
    """All of it as plain dicts and lists."""
    alone = result_tree(replace(job.result, options=(job.option,)), job.brief, job.catalogue)
    options = alone["options"]
    assert isinstance(options, list)
    cuts = cut_list(job.option.design, job.catalogue)
    area_by_sku = {cable.sku: cable.area_mm2 for cable in job.catalogue.bulk_cables}
    name_by_sku = names(job.catalogue)
    leads = make_ups(job.option.design, job.catalogue, job.house)
    return {
        "status": alone["status"],
        "currency": alone["currency"],
        "minor_digits": alone["minor_digits"],
        "project": alone["project"],
        "house": job.house.name,
        "tax_percent": f"{job.tax_percent:f}",
        "valid_days": job.house.stationery.valid_days,
        "side_by_side": [option.id for option in job.compared],
        "option": options[0],
        "price_parts": [part_tree(part) for part in price_parts(job.option.design, job.catalogue, job.prices)],
        "comparisons": [
            comparison_tree(compared(job.option, other, job.catalogue, job.prices), job.currency, name_by_sku)
            for other in job.compared
            if other.id != job.option.id
        ],
        "one_more": list(job.why.one_more),
        "why": [{"title": told.title, "sentences": list(told.sentences)} for told in job.why.sections],
        "leads": [_lead(lead, area_by_sku) for lead in leads],
        "cut_leads": [_cut_lead(lead) for lead in cuts.leads],
        "cut_cables": [_cut_cable(cable) for cable in cuts.cables],
        "delays": [_delay(line) for line in job.examination.delays],
        "starting_values": [_starting_value(value) for value in job.starting_values],
    }


def _lead(lead: MakeUp, area_by_sku: Mapping[str, float | None]) -> Json:
    expected = continuity(lead)
    return {
        "mark": lead.mark,
        "label": {"source": lead.label.source, "sink": lead.label.sink, "carries": lead.label.carries},
        "method": lead.method.value,
        "cable": lead.cable,
        "cable_name": lead.cable_name,
        "cores": [core.value for core in lead.cores],
        "shield": lead.shield.value,
        "length_m": lead.length_m,
        "sold_m": lead.sold_m,
        "source": _end(lead.source),
        "sink": _end(lead.sink),
        "parts": [{"sku": part.sku, "name": part.name, "count": part.count} for part in lead.parts],
        "minutes": f"{lead.minutes:f}",
        "remarks": list(lead.remarks),
        "closed": [{"source": a, "sink": b} for a, b in expected.closed],
        "readings": expected.readings,
        "most_ohm": most_ohm(lead, area_by_sku.get(lead.cable)),
    }


def _end(end: LeadEnd) -> Json:
    return {
        "device": end.jack.unit,
        "port": f"{end.jack.group} {end.jack.index}",
        "plug": str(end.plug),
        "fitted": end.fitted,
        "to_make": end.to_make,
        "order_known": end.order_known,
        "pins": [
            {
                "pin": pin.pin,
                "role": pin.role.value,
                "cores": [core.value for core in pin.cores],
                "joined_to": pin.joined_to,
            }
            for pin in end.pins
        ],
        "cut_back": [core.value for core in end.open_cores],
    }


def _cut_lead(lead: CutLead) -> Json:
    return {
        "sku": lead.sku,
        "number": lead.number,
        "length_m": lead.length_m,
        "end_a": _tail(lead.end_a),
        "end_b": _tail(lead.end_b),
    }


def _tail(tail: Tail) -> Json:
    return {"mark": tail.mark, "plug": str(tail.plug), "half_m": tail.half_m, "wanted_m": tail.wanted_m}


def _cut_cable(cable: CableCuts) -> Json:
    return {
        "sku": cable.sku,
        "step_m": cable.step_m,
        "steps": cable.steps,
        "left_m": cable.left_m,
        "pieces": [
            {"mark": piece.mark, "wanted_m": piece.wanted_m, "steps": piece.steps, "sold_m": piece.sold_m}
            for piece in cable.pieces
        ],
    }


def _delay(line: DelayLine) -> Json:
    return {
        "loudspeaker": line.unit,
        "port": f"{line.jack.group} {line.jack.index}",
        "control": line.control,
        "distance_m": round(line.distance_m, 3),
        "delay_ms": round(line.set_ms, 3) + 0.0,
        "before": line.before or None,
        "before_ms": round(line.before_ms, 3) + 0.0,
    }


def _starting_value(value: StartingValue) -> Json:
    return {
        "output": value.output,
        "device": value.device,
        "subwoofers": list(value.subwoofers),
        "gain_db": value.gain_db,
        "delay_ms": value.delay_ms,
        "inverted": value.inverted,
        "filters": [{"centre_hz": one.centre_hz, "gain_db": one.gain_db, "q": one.q} for one in value.filters],
        "crossover_hz": value.crossover_hz,
        "predicted": value.predicted,
        "remark": value.remark,
    }
