"""The test sheet: every lead with a meter, polarity, hum, and one subwoofer at a time, before anything is set."""

import math
from collections.abc import Iterator

from planner.design import Severity, Unit, UnitKind
from planner.documents.cautions import PREVAIL, Caution, cautions
from planner.documents.contact_words import contact_words
from planner.documents.continuity import continuity
from planner.documents.job import Job
from planner.documents.letterhead import letterhead
from planner.documents.typeset import Data, typeset
from planner.formulas.speaker_cable import conductor_ohm_per_m
from planner.output_map import output_map
from planner.tables.detail import channel_words
from planner.wiring.make_up import MakeUp, make_ups

CONTACTS_OHM = 0.5
"""What plugs, probes and their contacts may add to a reading (common practice, no published source)."""

THIN_CORE_OHM_PER_M = 0.0842
"""A core of 0.22 mm2, AWG 24, at 20 °C: the thinnest in common use, taken where the catalogue gives no area."""


def lead_test_sheet(job: Job) -> bytes:
    """The PDF."""
    return typeset("lead_test", lead_test_data(job), job.brief.project.dated)


def lead_test_data(job: Job) -> Data:
    """All that the template prints."""
    area_by_sku = {cable.sku: cable.area_mm2 for cable in job.catalogue.bulk_cables}
    leads = make_ups(job.option.design, job.catalogue, job.house)
    return {
        **letterhead(job, "Tests"),
        "leads": [_lead(lead, area_by_sku.get(lead.cable)) for lead in leads],
        "polarity": [{"unit": unit.id, "words": words} for unit, words in _sounding(job)],
        "loops": [
            {"subject": finding.subject, "message": finding.message}
            for finding in job.option.findings
            if finding.rule == "R17" and finding.severity is not Severity.NOTE
        ],
        "gear": [unit.id for unit in job.option.design.units if unit.kind in (UnitKind.DSP, UnitKind.AMPLIFIER)],
        "subwoofers": list(_subwoofers(job)),
        "cautions": cautions(Caution.TEST_VOLTAGE, Caution.MAINS, Caution.HEARING, Caution.LIFTING, Caution.OVERHEAD),
        "prevail": PREVAIL,
    }


def most_ohm(lead: MakeUp, area_mm2: float | None) -> float:
    """What a conductor of a lead may read, rounded up to a tenth of an ohm; `area_mm2` where it is known."""
    core = conductor_ohm_per_m(area_mm2) if area_mm2 else THIN_CORE_OHM_PER_M
    return math.ceil((core * lead.sold_m + CONTACTS_OHM) * 10) / 10


def _lead(lead: MakeUp, area_mm2: float | None) -> Data:
    expected = continuity(lead)
    return {
        "mark": lead.mark,
        "source": str(lead.connection.source),
        "sink": str(lead.connection.sink),
        "ends": f"{contact_words(lead.source.plug)} to {contact_words(lead.sink.plug)}",
        "closed": [f"{a} → {b}" for a, b in expected.closed],
        "open": str(expected.readings - len(expected.closed)),
        "bridged": ", ".join(expected.bridged),
        "most_ohm": f"{most_ohm(lead, area_mm2):.1f}",
    }


def _sounding(job: Job) -> Iterator[tuple[Unit, str]]:
    """Loudspeakers and subwoofers with what feeds them."""
    units = {unit.id: unit for unit in job.option.design.units}
    channel_by_unit: dict[str, str] = {}
    for line in output_map(job.option.design):
        channel_by_unit.setdefault(line.drives.unit, channel_words(line).partition(", way")[0])
    for unit_id, words in channel_by_unit.items():
        yield units[unit_id], words


def _subwoofers(job: Job) -> Iterator[Data]:
    """Every subwoofer by the output that sets it, and those that sound with it because they share it."""
    subwoofers = {unit.id for unit in job.option.design.units if unit.kind is UnitKind.SUBWOOFER}
    lines = [line for line in job.examination.delays if line.unit in subwoofers]
    for line in lines:
        together = dict.fromkeys(each.unit for each in lines if each.control == line.control and each.unit != line.unit)
        yield {"unit": line.unit, "output": line.control, "with": ", ".join(together)}
