"""A finding as JSON and in the printed table: every part, and the marks of the leads that it is of."""

from dataclasses import replace
from functools import partial

from jsonschema import Draft202012Validator

from planner.design import Figure, FigureUnit, Finding, Jack, Place, PlaceKind, Severity
from planner.figures_json.findings import finding_tree
from planner.tables.findings import figure_cells, finding_table
from planner.wiring.finding_places import lead_mark
from planner.wiring.labels import lead_marks
from tests.cli.example import DESIGN
from tests.cli.test_result_json import SCHEMA

SCHEMA_OF_ONE = SCHEMA["properties"]["options"]["items"]["properties"]["findings"]["items"]

LEAD, MARK = next(iter(lead_marks(DESIGN).items()))
TOO_MANY = Finding(
    rule="R17",
    severity=Severity.CONCERN,
    subject="Processor",
    heading="Too many earth loops",
    detail="Three of them.",
    figures=(
        Figure(of="hum", value=0.000316227766, unit=FigureUnit.V),
        Figure(of="earth loops", value=3, unit=FigureUnit.LOOPS, limit=1),
    ),
    places=(
        Place(kind=PlaceKind.LEAD, name="the first", jacks=(LEAD.source, LEAD.sink)),
        Place(kind=PlaceKind.JACK, name="Processor / MAIN 1", jacks=(Jack("Processor", "MAIN", 1),)),
    ),
    remedies=("an isolator", "class II gear"),
    caution="A protective earth is never lifted.",
)


def test_every_part_of_a_finding_is_a_key_of_its_own() -> None:
    tree = finding_tree(TOO_MANY, partial(lead_mark, design=DESIGN))
    Draft202012Validator(SCHEMA_OF_ONE).validate(tree)
    assert tree["figures"] == [
        {"of": "hum", "value": 0.0003162, "unit": "V", "limit": None, "beyond": None},
        {"of": "earth loops", "value": 3, "unit": "loops", "limit": 1, "beyond": 2},
    ]
    assert tree["places"] == [
        {
            "kind": "lead",
            "name": "the first",
            "lead": MARK,
            "jacks": [{"device": end.unit, "port": f"{end.group} {end.index}"} for end in (LEAD.source, LEAD.sink)],
        },
        {
            "kind": "jack",
            "name": "Processor / MAIN 1",
            "lead": None,
            "jacks": [{"device": "Processor", "port": "MAIN 1"}],
        },
    ]
    assert tree["remedies"] == ["an isolator", "class II gear"]
    assert tree["message"] == TOO_MANY.message


def test_the_table_tells_how_much_what_is_allowed_and_by_how_much_over() -> None:
    lines = finding_table((TOO_MANY,), DESIGN)
    assert lines[2].split("  ")[0] == "R17"
    assert figure_cells(TOO_MANY) == ("3 loops", "1 loop", "2 loops")
    assert f"Leads: {MARK}." in " ".join(" ".join(lines).split())


def test_a_figure_that_nothing_limits_is_told_by_itself() -> None:
    assert figure_cells(replace(TOO_MANY, figures=TOO_MANY.figures[:1])) == ("316 µV", "-", "-")
    assert figure_cells(replace(TOO_MANY, figures=())) == ("-", "-", "-")
