"""The demo briefs through the whole program, as a designer would run them."""

import json
import subprocess
import sys
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.cli.test_process import environment

DEMO = Path(__file__).resolve().parents[2] / "catalogue_demo"
BRIEFS = sorted((DEMO / "briefs").glob("*.toml"))
SCHEMA = json.loads(files("planner").joinpath("result.schema.json").read_text(encoding="utf-8"))


def planned(brief: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "planner", "options", str(brief), "--time-limit", "600", *arguments],
        env=environment(),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )


def test_there_are_the_demo_briefs() -> None:
    assert len(BRIEFS) >= 6


@pytest.mark.parametrize("brief", BRIEFS, ids=lambda brief: brief.stem)
def test_a_demo_brief_is_answered_with_proof_or_refused_with_the_conflict(brief: Path, tmp_path: Path) -> None:
    path = tmp_path / "result.json"
    ran = planned(brief, "--json", str(path))
    tree: Any = json.loads(path.read_text(encoding="utf-8"))
    Draft202012Validator(SCHEMA).validate(tree)
    assert ran.stderr == ""  # quiet when piped
    assert max(map(len, ran.stdout.splitlines())) <= 80
    if tree["status"] == "infeasible":
        assert ran.returncode == 3
        assert tree["conflict"]
        assert not tree["options"]
        return
    assert tree["status"] == "proven"
    assert ran.returncode == 0
    assert all(option["proven"] for option in tree["options"])
    for option in tree["options"]:
        lines = option["purchases"] + option["labour"]
        assert sum(line["count"] * line["unit_price_minor"] for line in lines) == option["quote"]["subtotal_minor"]
        assert option["price_minor"] == option["quote"]["total_minor"]
        fed = [unit for unit in option["units"] if unit["kind"] in ("loudspeaker", "subwoofer")]
        assert {unit["id"] for unit in fed} == {line["to_device"] for line in option["output_map"]}


def test_the_same_input_gives_the_same_bytes() -> None:
    brief = DEMO / "briefs" / "small-5-1-2-two-subs.toml"
    trees = [json.loads(planned(brief, "--json", "-").stdout) for _ in range(2)]
    for tree in trees:
        del tree["seconds"]
    assert trees[0] == trees[1]
