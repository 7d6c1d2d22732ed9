"""The mains sheet, for the electrician: where a supply is wanted, how much it gives, and what heat comes of it.

It gives figures and no advice: circuits, protection and earthing are for licensed people, by the local code.
"""

from collections.abc import Iterator

from planner.catalogue.records import Item
from planner.design import Unit
from planner.documents.cautions import PREVAIL, Caution, cautions
from planner.documents.job import Job
from planner.documents.letterhead import letterhead
from planner.documents.pictures import plan_picture
from planner.documents.typeset import Data, typeset
from planner.physics.mains import has_mains, has_protective_earth, mains_of
from planner.placement import member_positions
from planner.tables.cells import decimals
from planner.tables.mains import MAINS_HEADINGS, mains_rows, mains_sentences

_UNSTATED = "not stated"  # a dash could be read as none


def mains_sheet(job: Job) -> bytes:
    """The PDF."""
    pictures = {"plan": plan_picture(job.option, job.brief)}
    return typeset("mains", mains_data(job), job.brief.project.dated, pictures)


def mains_data(job: Job) -> Data:
    """All that the template prints."""
    totals = job.examination.mains
    return {
        **letterhead(job, "Mains"),
        "supplies": list(_supplies(job)),
        "headings": list(MAINS_HEADINGS),
        "totals": mains_rows(totals),
        "sentences": mains_sentences(totals),
        "cautions": cautions(Caution.MAINS, Caution.LIFTING, Caution.OVERHEAD),
        "prevail": PREVAIL,
    }


def _supplies(job: Job) -> Iterator[Data]:
    """What has a mains cord, or must have one: what stands in the rack first."""
    item_by_sku = {item.sku: item for item in job.catalogue.items()}
    unstated = set(job.examination.mains.unstated)
    for unit in sorted(job.option.design.units, key=lambda unit: unit.member is not None):
        item = item_by_sku[unit.sku]
        if unit.id in unstated or has_mains(unit, item):
            yield _supply(unit, item, job)


def _supply(unit: Unit, item: Item, job: Job) -> Data:
    mains = mains_of(item)
    known = mains is not None and has_mains(unit, item)
    return {
        "place": _place(unit, job),
        "in_rack": unit.member is None,
        "device": unit.id,
        "name": item.name,
        "idle": decimals(mains.idle_w, 0) if mains is not None and known else _UNSTATED,
        "rated": decimals(mains.rated_w, 0) if mains is not None and known else _UNSTATED,
        "earth": _earth(unit, item) if known else _UNSTATED,
    }


def _earth(unit: Unit, item: Item) -> str:
    return "protective earth" if has_protective_earth(unit, item) else "none, class II"


def _place(unit: Unit, job: Job) -> str:
    """Metres from the front wall, from the left wall, and from the floor, as on the plan."""
    position = job.brief.rack.position if unit.member is None else member_positions(job.brief)[unit.member]
    return f"{position.x_m:.2f}, {position.y_m:.2f}, {position.z_m:.2f}"
