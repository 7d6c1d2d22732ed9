"""The answer as JSON: the tree that `result.schema.json` describes, and an atomic write.

The schema in this folder is the documentation of every key. Only `seconds` differs between
two runs of the same input. The figures of an option are worked out here once more, from its
design: they are what its findings were made of.
"""

import json
import os
from collections import Counter
from collections.abc import Mapping
from functools import partial
from pathlib import Path

from planner.brief.records import Brief, Drive
from planner.catalogue.records import Catalogue
from planner.design import Connection, Design, Unit, UnitKind
from planner.figures_json import figures_tree
from planner.figures_json.findings import finding_tree
from planner.figures_json.ports import port_words
from planner.figures_json.rounding import hundredths
from planner.money import minor_digits
from planner.options import Option, Question, Result
from planner.output_map import OutputLine, output_map
from planner.physics import examine
from planner.wiring.finding_places import lead_mark
from planner.wiring.labels import lead_marks
from planner.words import lead_words

Json = dict[str, object]


def result_tree(result: Result, brief: Brief, catalogue: Catalogue) -> Json:
    """The whole result as plain dicts and lists, ready for `as_text`."""
    name_by_sku = {item.sku: item.name for item in catalogue.items()}
    answer_by_question = {answer.question: answer for answer in result.shortlist}
    answers = [(question, answer_by_question.get(question)) for question in Question]
    return {
        "status": result.status.value,
        "currency": result.currency,
        "minor_digits": minor_digits(result.currency),
        "seconds": round(result.seconds, 3),
        "project": {
            "name": brief.project.name,
            "client": brief.project.client,
            "reference": brief.project.reference,
            "dated": brief.project.dated.isoformat(),
        },
        "measures": [measure.value for measure in brief.measures],
        "options": [
            {
                **_option(option, name_by_sku),
                "figures": figures_tree(examine(option.design, brief, catalogue)),
            }
            for option in result.options
        ],
        "shortlist": {question.value: answer and answer.option_id for question, answer in answers},
        "shortlist_reasons": {question.value: answer.reason if answer else "" for question, answer in answers},
        "conflict": list(result.conflict),
        "unproven": list(result.unproven),
        "relaxations": [
            {"change": each.change, "price_minor": each.price_minor, "gives_up": each.gives_up}
            for each in result.relaxations
        ],
    }


def as_text(tree: Json) -> str:
    """The tree as JSON text: what holds nothing but plain values stands on one line.

    Raises ValueError on a number that JSON has no form for.
    """
    return _laid_out(tree, "") + "\n"


_on_one_line = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


def _laid_out(value: object, indent: str) -> str:
    inner = f"{indent} "
    match value:
        case dict() if any(isinstance(one, (dict, list)) for one in value.values()):
            lines = [f"{inner}{_on_one_line(key)}: {_laid_out(one, inner)}" for key, one in value.items()]
            return "{\n" + ",\n".join(lines) + f"\n{indent}}}"
        case list() if any(isinstance(one, (dict, list)) for one in value):
            lines = [inner + _laid_out(one, inner) for one in value]
            return "[\n" + ",\n".join(lines) + f"\n{indent}]"
        case _:
            return _on_one_line(value)


def write_atomically(path: Path, content: str | bytes) -> None:
    """Writes text (in UTF-8) or bytes so that a reader sees the old file or the whole new one, never a part.

    A path that is not a plain file (a device, a pipe) is written to directly. Raises OSError.
    """
    target = path.resolve()
    written = content.encode("utf-8") if isinstance(content, str) else content
    if target.exists() and not target.is_file():
        target.write_bytes(written)
        return
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        part.write_bytes(written)
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)


def _option(option: Option, name_by_sku: Mapping[str, str]) -> Json:
    measures, quote, design = option.measures, option.quote, option.design
    marks = lead_marks(design)
    return {
        "id": option.id,
        "proven": option.proven,
        "price_minor": measures.price_minor,
        "independent_subs": measures.independent_subs,
        "control_groups": measures.control_groups,
        "spare_outputs": measures.spare_outputs,
        "joints": measures.joints,
        "subs_lost_worst": measures.subs_lost_worst,
        "conversions": measures.conversions,
        "earth_loops": measures.earth_loops,
        "least_margin_db": hundredths(measures.least_margin_db),
        "bass_spread_db": measures.bass_spread_db,
        "drives": {drive.value: option.drives.get(drive, 0) for drive in Drive},
        "quote": {
            "gear_minor": quote.gear_minor,
            "labour_minor": quote.labour_minor,
            "subtotal_minor": quote.subtotal_minor,
            "tax_minor": quote.tax_minor,
            "total_minor": quote.total_minor,
        },
        "devices": _devices(design, name_by_sku),
        "units": [_unit(unit) for unit in design.units],
        "connections": [_connection(connection, marks.get(connection)) for connection in design.connections],
        "routes": [
            {"device": route.source.unit, "from_port": port_words(route.source), "to_port": port_words(route.sink)}
            for route in design.routes
        ],
        "output_map": [_output_line(line) for line in output_map(design)],
        "ledger": [
            {"device": line.device, "group": line.group, "have": line.have, "used": line.used, "spare": line.spare}
            for line in option.ledger
        ],
        "purchases": [
            {
                "sku": line.sku,
                "name": name_by_sku[line.sku],
                "supplier": line.supplier,
                "count": line.count,
                "unit_price_minor": line.unit_price_minor,
            }
            for line in design.purchases
        ],
        "labour": [
            {"task": line.task.value, "count": line.count, "unit_price_minor": line.unit_price_minor}
            for line in design.labour
        ],
        "findings": [finding_tree(finding, partial(lead_mark, design=design)) for finding in option.findings],
    }


def _devices(design: Design, name_by_sku: Mapping[str, str]) -> list[Json]:
    """The units by sku and price. A sku bought at two prices, or partly owned, has two lines.

    Units take the cheapest of their sku's purchases first, so owned ones come first; what
    is bought beyond the units of the design shows in `purchases` only.
    """
    kinds = list(UnitKind)
    kind_by_sku = {unit.sku: unit.kind for unit in design.units}
    left_by_sku = Counter(unit.sku for unit in design.units)
    bought = (line for line in design.purchases if line.sku in kind_by_sku)
    lines: list[Json] = []
    for line in sorted(bought, key=lambda line: (kinds.index(kind_by_sku[line.sku]), line.sku, line.unit_price_minor)):
        count = min(line.count, left_by_sku[line.sku])
        if not count:
            continue
        left_by_sku[line.sku] -= count
        lines.append(
            {
                "sku": line.sku,
                "name": name_by_sku[line.sku],
                "kind": kind_by_sku[line.sku].value,
                "count": count,
                "unit_price_minor": line.unit_price_minor,
            }
        )
    return lines


def _unit(unit: Unit) -> Json:
    return {
        "id": unit.id,
        "sku": unit.sku,
        "kind": unit.kind.value,
        "set": unit.member[0] if unit.member else None,
        "index": unit.member[1] if unit.member else None,
        "host": unit.host,
    }


def _connection(connection: Connection, mark: str | None) -> Json:
    return {
        "mark": mark,
        "channel": connection.channel,
        "way": connection.way,
        "from_device": connection.source.unit,
        "from_port": port_words(connection.source),
        "to_device": connection.sink.unit,
        "to_port": port_words(connection.sink),
        "lead": lead_words(connection.lead),
        "method": connection.lead.method.value,
        "parts": [{"sku": part.sku, "count": part.count} for part in connection.lead.parts],
        "length_m": connection.lead.length_m,
    }


def _output_line(line: OutputLine) -> Json:
    return {
        "from_device": line.output.unit,
        "from_port": port_words(line.output),
        "channel": line.channel,
        "way": line.way,
        "through": [{"device": jack.unit, "port": port_words(jack)} for jack in line.through],
        "to_device": line.drives.unit,
        "to_port": port_words(line.drives),
    }
