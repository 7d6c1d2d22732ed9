"""The machine-readable result, against its schema and section 9 of the project's contract."""

import json
import math
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from planner.brief.records import Measure
from planner.options import Result
from planner.result_json import as_text, result_tree, write_atomically
from tests.cli.example import BRIEF, CATALOGUE, CHEAPEST, INFEASIBLE, PARTIAL, RESULT

SCHEMA = json.loads(files("planner").joinpath("result.schema.json").read_text(encoding="utf-8"))

# The least keys, as the contract prints them.
LEAST_KEYS = {"status", "currency", "seconds", "options", "shortlist", "conflict", "relaxations"}
LEAST_OPTION_KEYS = {
    "id", "price_minor", "independent_subs", "control_groups", "spare_outputs", "joints", "subs_lost_worst",
    "conversions", "earth_loops", "least_margin_db", "bass_spread_db", "devices", "connections", "ledger", "findings",
}  # fmt: skip
LEAST_PART_KEYS = {
    "devices": {"sku", "count", "unit_price_minor"},
    "connections": {"channel", "from_device", "from_port", "to_device", "to_port", "lead", "length_m"},
    "ledger": {"device", "group", "have", "used", "spare"},
    "findings": {"rule", "severity", "subject", "message"},
}


def parsed(result: Result) -> Any:
    return json.loads(as_text(result_tree(result, BRIEF, CATALOGUE)))


def test_the_schema_is_itself_sound() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_the_schema_closes_and_requires_every_object() -> None:
    def objects(node: Any) -> Any:
        if isinstance(node, dict):
            if node.get("type") == "object":
                yield node
            for below in node.values():
                yield from objects(below)

    found = list(objects(SCHEMA))
    assert found
    for node in found:
        assert node["additionalProperties"] is False
        assert set(node["required"]) == set(node["properties"])


@pytest.mark.parametrize("result", [RESULT, PARTIAL, INFEASIBLE], ids=lambda result: result.status.value)
def test_every_kind_of_result_fits_the_schema(result: Result) -> None:
    Draft202012Validator(SCHEMA).validate(parsed(result))


def test_the_schema_knows_every_measure_that_a_brief_can_weigh() -> None:
    assert SCHEMA["properties"]["measures"]["items"]["enum"] == [measure.value for measure in Measure]


def test_the_least_keys_are_there() -> None:
    tree = parsed(RESULT)
    assert tree.keys() >= LEAST_KEYS
    for option in tree["options"]:
        assert option.keys() >= LEAST_OPTION_KEYS
        for part, keys in LEAST_PART_KEYS.items():
            assert all(entry.keys() >= keys for entry in option[part])


def test_a_measure_that_is_not_built_is_null() -> None:
    option = parsed(RESULT)["options"][0]
    assert option["earth_loops"] is option["least_margin_db"] is option["bass_spread_db"] is None


@pytest.mark.parametrize(("margin_db", "shown"), [(3.874238799, 3.87), (-2.5, -2.5), (-1e-9, 0.0)])
def test_the_least_margin_is_told_to_a_hundredth(margin_db: float, shown: float) -> None:
    measured = replace(CHEAPEST, measures=replace(CHEAPEST.measures, least_margin_db=margin_db))
    figure = parsed(replace(RESULT, options=(measured,)))["options"][0]["least_margin_db"]
    assert str(figure) == str(shown)


def test_devices_count_the_units_and_price_them_once() -> None:
    devices = parsed(RESULT)["options"][0]["devices"]
    # Five subwoofers, two of them owned: two lines; four splitters bought, one of them used.
    assert [(d["count"], d["unit_price_minor"]) for d in devices if d["sku"] == "s1"] == [(2, 0), (3, 70_000)]
    assert [(d["count"], d["unit_price_minor"]) for d in devices if d["sku"] == "y2"] == [(1, 500)]
    assert sum(d["count"] for d in devices) == len(CHEAPEST.design.units)


def test_purchases_and_labour_sum_to_the_subtotal() -> None:
    option = parsed(RESULT)["options"][0]
    lines = option["purchases"] + option["labour"]
    assert sum(line["count"] * line["unit_price_minor"] for line in lines) == option["quote"]["subtotal_minor"]


def test_only_the_seconds_differ_between_runs() -> None:
    again = parsed(replace(RESULT, seconds=9.9))
    assert {**again, "seconds": 0} == {**parsed(RESULT), "seconds": 0}


@pytest.mark.parametrize("figure", [math.nan, math.inf])
def test_a_figure_that_json_has_no_form_for_is_refused(figure: float) -> None:
    spoiled = replace(CHEAPEST, measures=replace(CHEAPEST.measures, least_margin_db=figure))
    with pytest.raises(ValueError, match="not JSON compliant"):
        parsed(replace(RESULT, options=(spoiled,)))


def test_writing_replaces_the_whole_file_and_leaves_nothing_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "result.json"
    path.write_text("old")
    write_atomically(path, "new ✓")
    assert path.read_text(encoding="utf-8") == "new ✓"
    assert list(tmp_path.iterdir()) == [path]


def test_a_write_that_fails_keeps_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "result.json"
    path.write_text("old")
    with pytest.raises(UnicodeEncodeError):
        write_atomically(path, "new \ud800")
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_writing_through_a_link_keeps_the_link(tmp_path: Path) -> None:
    path, link = tmp_path / "result.json", tmp_path / "link.json"
    path.write_text("old")
    link.symlink_to(path)
    write_atomically(link, "new")
    assert link.is_symlink()
    assert path.read_text() == "new"
