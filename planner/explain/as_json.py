"""An explanation as JSON: the tree that `explanation.schema.json` describes.

Every sentence stands beside the numbers that it was made from.
"""

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.comparison.as_json import change_tree, comparison_tree, line_tree
from planner.comparison.gear import gear, names
from planner.comparison.words import Names
from planner.explain.bands import Band
from planner.explain.explanation import Explanation, WhyNone, WhyOption
from planner.explain.least import Answer
from planner.explain.left_out import LeftOut, LeftOutList
from planner.explain.mends import Mend
from planner.explain.price_steps import PriceSteps, Staircase, Step
from planner.explain.robust import Flip, Robust, Span, winner
from planner.explain.robust_words import advice, flip_sentence, span_sentence
from planner.explain.rooms import SharedOrder
from planner.explain.sentences import (
    beyond_sentence,
    device_sentences,
    headlines,
    left_out_sentence,
    mend_sentence,
    step_sentence,
)
from planner.explain.stages import NowAndLater, Plan
from planner.explain.together_words import order_sentences, stages_sentences
from planner.explain.why_gear import Alternative, WhyDevice
from planner.money import minor_digits
from planner.result_json import Json


def explanation_tree(found: Explanation, brief: Brief, catalogue: Catalogue) -> Json:
    """The whole explanation as plain dicts and lists."""
    currency, name_by_sku = found.result.currency, names(catalogue)
    option = found.why if isinstance(found.why, WhyOption) else None
    none = found.why if isinstance(found.why, WhyNone) else None
    project = brief.project
    return {
        "status": found.result.status.value,
        "currency": currency,
        "minor_digits": minor_digits(currency),
        "seconds": round(found.seconds, 3),
        "project": {
            "name": project.name,
            "client": project.client,
            "reference": project.reference,
            "dated": project.dated.isoformat(),
        },
        "option": option and option.option.id,
        "price_steps": option and _steps(option.steps, currency, name_by_sku),
        "comparisons": [comparison_tree(c, currency, name_by_sku) for c in option.comparisons] if option else [],
        "devices": [_device(d, currency, name_by_sku) for d in option.devices] if option else [],
        "left_out": option and _left_out(option.left_out, currency, name_by_sku),
        "robust": option and _robust(option.robust, currency, name_by_sku),
        "stages": option and option.stages and _stages(option.stages, currency, name_by_sku),
        "order": option and option.order and _order(option.order, currency, name_by_sku),
        "conflicts": [[r.sentence for r in conflict] for conflict in none.conflicts.sets] if none else [],
        "conflicts_complete": none and none.conflicts.complete,
        "mends": [_mend(m, currency) for m in none.mends] if none else [],
        "unsettled": list(found.unsettled),
    }


def _steps(steps: PriceSteps, currency: str, name_by_sku: Names) -> Json:
    return {
        "today": _answer(steps.today),
        "sentences": list(headlines(steps, currency)),
        "staircases": [
            {
                "axis": stairs.axis.value,
                "drives": stairs.drives.value,
                "steps": [_step(step, stairs, currency, name_by_sku) for step in stairs.steps],
            }
            for stairs in steps.staircases
        ],
        "table": [
            {
                "channels_change": square.channels_change,
                "subwoofers_change": square.subwoofers_change,
                **_answer(square.answer),
            }
            for square in steps.table
        ],
    }


def _answer(answer: Answer) -> Json:
    return {
        "settled": answer.settled.value,
        "price_minor": answer.price_minor,
        "at_most_minor": answer.at_most_minor,
    }


def _step(step: Step, stairs: Staircase, currency: str, name_by_sku: Names) -> Json:
    return {
        "count": step.count,
        "change": step.change,
        "note": step.note,
        **_answer(step.answer),
        "over_today_minor": step.over_today_minor,
        "over_last_minor": step.over_last_minor,
        "over_budget": step.over_budget,
        "processor_changes": step.gear is not None and step.gear.processor,
        "gear": step.gear and change_tree(step.gear),
        "sentence": step_sentence(step, stairs, currency, name_by_sku),
    }


def _device(device: WhyDevice, currency: str, name_by_sku: Names) -> Json:
    return {
        "sku": device.sku,
        "kind": device.kind.value,
        "count": device.count,
        "bound": device.bound and device.bound.value,
        "alternatives": [_alternative(found) for found in device.alternatives],
        "sentences": list(device_sentences(device, currency, name_by_sku)),
    }


def _alternative(found: Alternative) -> Json:
    return {
        **_answer(found.answer),
        "over_minor": found.over_minor,
        "gear": found.gear and change_tree(found.gear),
    }


def _left_out(found: LeftOutList, currency: str, name_by_sku: Names) -> Json:
    return {
        "devices": [_entering(entry, currency, name_by_sku) for entry in found.devices],
        "others": found.others,
        "beyond_minor": found.beyond_minor,
        "settled": found.settled,
        "sentence": beyond_sentence(found, currency),
    }


def _entering(entry: LeftOut, currency: str, name_by_sku: Names) -> Json:
    return {
        "sku": entry.sku,
        "question": entry.question.value,
        "count": entry.count,
        "over_minor": entry.over_minor,
        "unit_price_minor": entry.price_minor,
        "cut_minor": entry.cut_minor,
        "sentence": left_out_sentence(entry, currency, name_by_sku),
    }


def _mend(mend: Mend, currency: str) -> Json:
    return {
        "changes": list(mend.changes),
        "instead_of": list(mend.instead_of),
        "whole": mend.whole,
        "gives_up": mend.sacrifice.words,
        **_answer(mend.answer),
        "sentence": mend_sentence(mend, currency),
    }


def _robust(found: Robust, currency: str, name_by_sku: Names) -> Json:
    return {
        "option": found.option_id,
        "now_minor": found.now_minor,
        "settled": found.settled,
        "bands": [
            {**_band(band), "low_percent": float(band.low_percent), "high_percent": float(band.high_percent)}
            for band in found.bands
        ],
        "spans": [_span(span, currency) for span in found.spans],
        "flips": [_flip(flip, name_by_sku) for flip in found.flips],
        "reserve_minor": next(
            (span.high_minor - found.now_minor for span in found.spans if span.option_id == found.option_id), None
        ),
        "least_regret": (best := winner(found)) and best.option_id,
        "least_regret_minor": best and best.regret_minor,
        "sentences": list(advice(found, currency)),
    }


def _band(band: Band) -> Json:
    return {"kind": band.kind.value, "name": band.name}


def _span(span: Span, currency: str) -> Json:
    return {
        "option": span.option_id,
        "low_minor": span.low_minor,
        "high_minor": span.high_minor,
        "regret_minor": span.regret_minor,
        "worst": [{**_band(m.band), "percent": float(m.percent)} for m in span.worst],
        "sentence": span_sentence(span, currency),
    }


def _flip(flip: Flip, name_by_sku: Names) -> Json:
    return {
        **_band(flip.band),
        "end_percent": float(flip.end_percent),
        "percent": None if flip.percent is None else float(flip.percent),
        "option": flip.option_id,
        "gear": flip.gear and change_tree(flip.gear),
        "settled": flip.settled,
        "sentence": flip_sentence(flip, name_by_sku),
    }


def _stages(found: NowAndLater, currency: str, name_by_sku: Names) -> Json:
    return {
        "discount_percent": float(found.discount_percent),
        "ahead": found.ahead and _plan(found.ahead),
        "by_turns": found.by_turns and _plan(found.by_turns),
        "all_now": _answer(found.all_now),
        "more_today_minor": found.more_today_minor,
        "saved_minor": found.saved_minor,
        "settled": found.settled,
        "sentences": list(stages_sentences(found, currency, name_by_sku)),
    }


def _plan(plan: Plan) -> Json:
    return {
        "stages": [
            {
                "name": stage.name,
                "years": stage.years,
                "factor": float(stage.factor),
                "price_minor": stage.price_minor,
                "gear": [line_tree(line) for line in gear(stage.priced.design)],
            }
            for stage in plan.stages
        ],
        "present_minor": plan.present_minor,
        "bought_twice": [{**line_tree(twice.line), "paid_minor": twice.paid_minor} for twice in plan.twice],
    }


def _order(found: SharedOrder, currency: str, name_by_sku: Names) -> Json:
    return {
        "settled": found.settled.value,
        "rooms": [
            {
                "name": room.name,
                "labour_minor": room.labour_minor,
                "alone": _answer(room.alone),
                "gear": [line_tree(line) for line in gear(room.priced.design)],
            }
            for room in found.rooms
        ],
        "lines": [
            {
                "sku": line.sku,
                "name": name_by_sku[line.sku],
                "supplier": line.supplier,
                "count": line.count,
                "unit_price_minor": line.unit_minor,
            }
            for line in found.lines
        ],
        "goods_minor": found.goods_minor,
        "labour_minor": found.labour_minor,
        "tax_minor": found.tax_minor,
        "total_minor": found.total_minor,
        "apart_minor": found.apart_minor,
        "apart_more_minor": None if found.apart_minor is None else found.apart_minor - found.total_minor,
        "sentences": list(order_sentences(found, currency, name_by_sku)),
    }
