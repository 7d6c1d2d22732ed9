"""The price as the client sees it: groups, articles or sums alone, tax, total. Selling prices only."""

from collections.abc import Mapping
from itertools import groupby

from planner.documents.bill_groups import BillLine, bill_lines
from planner.documents.job import Job
from planner.documents.typeset import Data
from planner.house import Task
from planner.tables.amounts import figure

OWNED = "owned"

_WORK: Mapping[Task, str] = {
    Task.PROCESSOR: "Install the processor",
    Task.CARD: "Fit an expansion card",
    Task.DSP: "Install a DSP unit",
    Task.AMPLIFIER: "Install an amplifier",
    Task.LOUDSPEAKER: "Install a loudspeaker",
    Task.SUBWOOFER: "Place and connect a subwoofer",
    Task.LEAD: "Lay and connect a lead",
    Task.TERMINATION: "Make up the end of a lead",
}


def price(job: Job) -> Data:
    """Groups with their sums, each with its articles where the house itemises, and the sums below them."""
    quote, currency = job.option.quote, job.currency
    lines = bill_lines(job.option.design, job.catalogue)
    groups = [_group(group.value, list(of_group), job) for group, of_group in groupby(lines, lambda line: line.group)]
    return {
        "itemised": job.house.stationery.itemised,
        "groups": [*groups, *_work(job)],
        "subtotal": figure(quote.subtotal_minor, currency),
        "tax_words": f"{job.house.tax_name} {job.tax_percent.normalize():f} %",
        "tax": figure(quote.tax_minor, currency),
        "total": figure(quote.total_minor, currency),
    }


def _group(words: str, lines: list[BillLine], job: Job) -> Data:
    total = sum(line.purchase.count * line.purchase.unit_price_minor for line in lines)
    return {
        "words": words,
        "sum": figure(total, job.currency),
        "rows": [_row(line, job.currency) for line in lines],
    }


def _row(line: BillLine, currency: str) -> Data:
    count, each = line.purchase.count, line.purchase.unit_price_minor
    if line.purchase.supplier == OWNED:
        return {"count": str(count), "what": f"{line.item.name}, yours already", "each": "–", "sum": "–"}
    return {
        "count": str(count),
        "what": line.item.name,
        "each": figure(each, currency),
        "sum": figure(count * each, currency),
    }


def _work(job: Job) -> list[Data]:
    """Labour as a group of its own; none where none is charged."""
    labour = [line for line in job.option.design.labour if line.unit_price_minor]
    if not labour:
        return []
    return [
        {
            "words": "Work on site and in the workshop",
            "sum": figure(job.option.quote.labour_minor, job.currency),
            "rows": [
                {
                    "count": str(line.count),
                    "what": _WORK[line.task],
                    "each": figure(line.unit_price_minor, job.currency),
                    "sum": figure(line.count * line.unit_price_minor, job.currency),
                }
                for line in labour
            ],
        }
    ]
