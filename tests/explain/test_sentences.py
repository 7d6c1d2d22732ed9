"""Every amount in a sentence is a number that stands beside it in the JSON, and the JSON fits its schema."""

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from importlib.resources import files
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from planner.explain.as_json import explanation_tree
from planner.explain.explanation import Explanation, WhyOption, Wishes, explain
from planner.explain.report import explain_report
from planner.money import from_minor
from planner.result_json import as_text
from tests.demand.shop import HOUSE
from tests.explain.test_stages import two_sizes
from tests.oracle.instance import Instance
from tests.plan.demo import LONG_ENOUGH_S
from tests.plan.test_conflict import CASES

SCHEMA = json.loads(files("planner").joinpath("explain", "explanation.schema.json").read_text(encoding="utf-8"))
NAMES = ("stages and rooms", "no design")


@cache
def asked(name: str) -> tuple[Instance, Wishes]:
    """What is explained: a bench system with a later stage and another room beside it, or a brief without a design."""
    if name == "stages and rooms":
        found = two_sizes()
        return found, Wishes(compare=("1", "2"), rooms=(replace(found.brief, later=()),))
    brief, sold, _ = CASES["balanced only, and unbalanced subwoofers"]
    return Instance(name=name, brief=brief, catalogue=sold.catalogue(), house=HOUSE), Wishes()


@cache
def explained(name: str) -> Explanation:
    found, wishes = asked(name)
    return explain(found.brief, found.catalogue, found.house, wishes, time_limit_s=LONG_ENOUGH_S)


@cache
def tree(name: str) -> Any:
    found, _ = asked(name)
    return json.loads(as_text(explanation_tree(explained(name), found.brief, found.catalogue)))


def nodes(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        yield node
    for below in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
        yield from nodes(below)


def amounts(node: Any) -> set[str]:
    """Every amount of a record as it is written, and what unit prices come to once cut."""
    minor = {
        abs(value) for d in nodes(node) for key, value in d.items() if key.endswith("_minor") and value is not None
    }
    cut = {
        d["unit_price_minor"] - d["cut_minor"] for d in nodes(node) if "cut_minor" in d and d["cut_minor"] is not None
    }
    return {f"{from_minor(value, 'EUR'):,}" for value in minor | cut}


def sentences(node: dict[str, Any]) -> list[str]:
    return [node["sentence"]] if "sentence" in node else node.get("sentences", [])


@pytest.mark.parametrize("name", NAMES)
def test_every_amount_in_a_sentence_stands_beside_it(name: str) -> None:
    seen = 0
    for node in nodes(tree(name)):
        for sentence in sentences(node):
            told = set(re.findall(r"[A-Z]{3} ([\d,]+\.\d\d)", sentence))
            assert told <= amounts(node), sentence
            seen += len(told)
    assert seen >= 3


@pytest.mark.parametrize("name", NAMES)
def test_every_sentence_is_printed_as_well(name: str) -> None:
    """The printed answer says the same; staircases print their plain steps as rows."""
    found, _ = asked(name)
    text = " ".join(explain_report(explained(name), found.brief, found.catalogue).split())
    for node in nodes({key: value for key, value in tree(name).items() if key != "price_steps"}):
        for sentence in sentences(node):
            assert " ".join(sentence.split()) in text, sentence


@pytest.mark.parametrize("name", NAMES)
def test_the_json_fits_its_schema(name: str) -> None:
    Draft202012Validator(SCHEMA).validate(tree(name))


def test_the_schema_is_sound_closed_and_complete() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    for node in nodes(SCHEMA):
        if "object" in node.get("type", ()) and isinstance(node.get("properties"), dict):
            assert node["additionalProperties"] is False
            assert set(node["required"]) == set(node["properties"])


def test_a_changed_number_changes_the_sentence() -> None:
    """Sentences are made from the record: the same words with another number in it."""
    found = explained(NAMES[0])
    assert isinstance(found.why, WhyOption)
    comparison = found.why.comparisons[0]
    other = replace(found, why=replace(found.why, comparisons=(replace(comparison, over_minor=123456789),)))
    text = json.dumps(explanation_tree(other, asked(NAMES[0])[0].brief, asked(NAMES[0])[0].catalogue))
    assert "1,234,567.89" in text
