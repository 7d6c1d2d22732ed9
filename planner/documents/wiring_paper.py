"""The wiring paper: signal flow on a sheet of A3, the room, output map, lead schedule, labels to print."""

from xml.etree import ElementTree

from planner.design import LeadMethod
from planner.documents.cautions import PREVAIL, Caution, cautions
from planner.documents.job import Job
from planner.documents.letterhead import letterhead
from planner.documents.pictures import flow_picture, plan_picture, section_picture
from planner.documents.typeset import Data, typeset
from planner.output_map import output_map
from planner.tables.detail import channel_words
from planner.wiring.labels import lead_labels, lead_marks
from planner.words import lead_words

FLOW_MM = (388, 240)
"""What a sheet of A3 on its side has for the diagram, across and down, millimetres; about the same upright."""


def wiring_paper(job: Job) -> bytes:
    """The PDF."""
    pictures = {
        "flow": flow_picture(job.option, job.brief, job.catalogue),
        "plan": plan_picture(job.option, job.brief),
        "section": section_picture(job.option, job.brief),
    }
    data = {**wiring_data(job), "upright": _is_larger_upright(pictures["flow"])}
    return typeset("wiring", data, job.brief.project.dated, pictures)


def _is_larger_upright(svg: str) -> bool:
    """Whether a picture is larger on an upright sheet than on one that lies on its side."""
    size = ElementTree.fromstring(svg).attrib
    width, height = float(size["width"]), float(size["height"])
    lying, upright = ((across / width, down / height) for across, down in (FLOW_MM, FLOW_MM[::-1]))
    return min(upright) > min(lying)


def wiring_data(job: Job) -> Data:
    """All that the template prints."""
    design = job.option.design
    name_by_sku = {item.sku: item.name for item in job.catalogue.items()}
    marks = lead_marks(design)
    mark_by_source = {connection.source: mark for connection, mark in marks.items()}
    return {
        **letterhead(job, "Wiring"),
        "units": [{"id": unit.id, "name": name_by_sku[unit.sku], "host": unit.host or ""} for unit in design.units],
        "outputs": [
            {
                "output": str(line.output),
                "channel": channel_words(line),
                "through": ", ".join(map(str, line.through)),
                "drives": str(line.drives),
                "marks": ", ".join(
                    mark_by_source[jack] for jack in (line.output, *line.through) if jack in mark_by_source
                ),
            }
            for line in output_map(design)
        ],
        "leads": [
            {
                "mark": mark,
                "source": str(connection.source),
                "sink": str(connection.sink),
                "made_of": lead_words(connection.lead),
                "length": f"{connection.lead.length_m:.2f}",
            }
            for connection, mark in marks.items()
        ],
        "plugged": [
            f"{connection.sink.unit} onto {connection.source}"
            for connection in design.connections
            if connection.lead.method is LeadMethod.DIRECT
        ],
        "labels": [
            {"mark": label.mark, "source": label.source, "sink": label.sink, "carries": label.carries}
            for label in lead_labels(design)
        ],
        "cautions": cautions(Caution.MAINS, Caution.LIFTING, Caution.OVERHEAD),
        "prevail": PREVAIL,
    }
