"""The sheets without prices: channel ledger, output map, lead schedule, make-up, findings."""

from planner.documents.contact_words import contact_words
from planner.documents.job import Job
from planner.documents.make_up_sheet import pins_of_core
from planner.documents.workbook.sheet import FIRST_ROW, Column, Sheet, cell
from planner.output_map import output_map
from planner.tables.detail import channel_words
from planner.wiring.labels import lead_marks
from planner.wiring.make_up import make_ups
from planner.words import lead_words

LEDGER_COLUMNS = (
    Column("Device", 24),
    Column("Port group", 34),
    Column("Have", 10, right=True),
    Column("Used", 10, right=True),
    Column("Spare", 10, right=True),
)
OUTPUT_COLUMNS = (
    Column("Output", 34),
    Column("Channel", 26),
    Column("Through", 40),
    Column("Drives", 30),
    Column("Leads", 16),
)
LEAD_COLUMNS = (
    Column("Mark", 9),
    Column("From", 34),
    Column("To", 34),
    Column("Carries", 22),
    Column("Made of", 48),
    Column("Length wanted, m", 12, right=True),
)
MAKE_UP_COLUMNS = (
    Column("Mark", 9),
    Column("Cable", 50),
    Column("Plug at the source", 24),
    Column("Pin", 22),
    Column("Core", 12),
    Column("Pin", 22),
    Column("Plug at the sink", 24),
    Column("Remarks", 60),
    Column("Length sold, m", 10, right=True),
)
FINDING_COLUMNS = (Column("Rule", 8), Column("Grade", 11), Column("Of what", 30), Column("Finding", 110))


def ledger_sheet(sheet: Sheet, job: Job) -> None:
    """Have, used and spare of every port group; what is spare follows the two."""
    for row, line in enumerate(job.option.ledger, start=FIRST_ROW):
        sheet.text(row, 0, line.device)
        sheet.text(row, 1, line.group)
        sheet.number(row, 2, line.have, sheet.looks.count)
        sheet.number(row, 3, line.used, sheet.looks.count)
        sheet.formula(row, 4, f"MAX(0,{cell(row, 2)}-{cell(row, 3)})", line.spare, sheet.looks.count)


def output_sheet(sheet: Sheet, job: Job) -> None:
    """Which processor output drives what, through which jacks, over which leads."""
    mark_by_source = {connection.source: mark for connection, mark in lead_marks(job.option.design).items()}
    sheet.rows(
        [
            (
                str(line.output),
                channel_words(line),
                ", then ".join(map(str, line.through)) or "directly",
                str(line.drives),
                ", ".join(mark_by_source[jack] for jack in (line.output, *line.through) if jack in mark_by_source),
            )
            for line in output_map(job.option.design)
        ]
    )


def lead_sheet(sheet: Sheet, job: Job) -> None:
    """Every lead by its mark, from jack to jack."""
    for row, (connection, mark) in enumerate(lead_marks(job.option.design).items(), start=FIRST_ROW):
        cells = (mark, str(connection.source), str(connection.sink), connection.channel, lead_words(connection.lead))
        for column, text in enumerate(cells):
            sheet.text(row, column, text)
        sheet.number(row, len(cells), connection.lead.length_m, sheet.looks.metres)


def make_up_rows(sheet: Sheet, job: Job) -> None:
    """Every core of every lead: the pin that it goes to at either end."""
    row = FIRST_ROW
    for lead in make_ups(job.option.design, job.catalogue, job.house):
        for core in lead.cores:
            first = core is lead.cores[0]
            cells = (
                lead.mark,
                lead.cable_name,
                contact_words(lead.source.plug),
                pins_of_core(lead.source, core),
                core.value,
                pins_of_core(lead.sink, core),
                contact_words(lead.sink.plug),
                " ".join(lead.remarks) if first else "",
            )
            for column, text in enumerate(cells):
                sheet.text(row, column, text)
            sheet.number(row, len(cells), lead.sold_m, sheet.looks.metres)
            row += 1


def findings_sheet(sheet: Sheet, job: Job) -> None:
    """What the checks have to say, gravest first."""
    sheet.rows(
        [(finding.rule, finding.severity.value, finding.subject, finding.message) for finding in job.option.findings]
    )
