"""option.json: it keeps to its schema, and says what the papers say."""

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from planner.documents.papers_json import papers_json
from planner.wiring.labels import lead_marks
from tests.documents.jobs import LARGE, QUICK, SMALL, demo_job
from tests.test_architecture import ROOT

RESULT, PAPERS, EXPLANATION = (
    json.loads((ROOT / "planner" / f"{name}.schema.json").read_text("utf-8"))
    for name in ("result", "papers", "explain/explanation")
)


def read(name: str, option_id: str | None = None) -> Any:
    return json.loads(papers_json(demo_job(name, option_id)))


@pytest.mark.parametrize("name", QUICK)
def test_it_keeps_to_its_schema(name: str) -> None:
    known = [(schema["$id"], Resource.from_contents(schema)) for schema in (RESULT, EXPLANATION)]
    registry: Any = Registry().with_resources(known)
    Draft202012Validator.check_schema(PAPERS)
    assert list(Draft202012Validator(PAPERS, registry=registry).iter_errors(read(name))) == []


def test_every_key_is_described() -> None:
    def undescribed(node: Any, path: str = "") -> list[str]:
        if not isinstance(node, dict) or "$ref" in node:
            return []
        own = [] if "description" in node else [path]
        return own + [
            each
            for key, inner in (*node.get("properties", {}).items(), ("[]", node.get("items")))
            for each in undescribed(inner, f"{path}/{key}")
        ]

    assert undescribed(PAPERS) == []


def test_it_carries_leads_labels_and_starting_values() -> None:
    job, tree = demo_job(LARGE), read(LARGE)
    assert [lead["mark"] for lead in tree["leads"]] == list(lead_marks(job.option.design).values())
    assert all(lead["label"]["source"] and lead["label"]["sink"] for lead in tree["leads"])
    set_there = {unit for value in tree["starting_values"] for unit in value["subwoofers"]}
    assert set_there == {"Sub 1", "Sub 2", "Sub 3", "Sub 4"}
    assert tree["option"]["id"] == job.option.id


def test_parts_and_comparisons_add_up_to_the_prices() -> None:
    job, tree = demo_job(LARGE), read(LARGE)
    assert sum(part["total_minor"] for part in tree["price_parts"]) == job.option.quote.total_minor
    assert [found["after"] for found in tree["comparisons"]] == [each.id for each in job.compared if each != job.option]
    for found in tree["comparisons"]:
        assert sum(part["total_minor"] for part in found["parts"]) == found["over_minor"]


def test_nothing_in_it_depends_on_the_run() -> None:
    assert "seconds" not in read(SMALL)
    assert papers_json(demo_job(SMALL)) == papers_json(demo_job(SMALL))
