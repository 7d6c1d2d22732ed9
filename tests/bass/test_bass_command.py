"""The `bass` command as a designer runs it, and its JSON against the schema."""

import json
import subprocess
import sys
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from planner.bass.notes import HEARING, PREDICTION
from planner.brief.read import read_brief
from planner.cli import main
from tests.cli.test_process import HEAVY, environment

DEMO = Path(__file__).resolve().parents[2] / "catalogue_demo" / "briefs"
CINEMA = DEMO / "cinema-7-1-4-four-mixed-subs.toml"
SMALL = DEMO / "small-5-1-2-two-subs.toml"
WITH_SUBWOOFERS = sorted(brief for brief in DEMO.glob("*.toml") if read_brief(brief).subwoofers)
SCHEMA = json.loads(files("planner").joinpath("bass.schema.json").read_text(encoding="utf-8"))


def flowing(text: str) -> str:
    return " ".join(text.split())


def test_the_schema_is_sound_and_describes_every_key() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    undescribed = [path for path, part in parts(SCHEMA, "") if "description" not in part]
    assert undescribed == []


def parts(schema: dict[str, Any], path: str) -> list[tuple[str, dict[str, Any]]]:
    """Every property of a schema and of what it holds."""
    found = []
    for key, part in schema.get("properties", {}).items():
        found.append((f"{path}.{key}", part))
        found.extend(parts(part, f"{path}.{key}"))
    if isinstance(schema.get("items"), dict):
        found.extend(parts(schema["items"], f"{path}[]"))
    for name, part in schema.get("$defs", {}).items():
        found.extend(parts(part, f"{path}#{name}"))
    return found


@pytest.mark.parametrize("brief", WITH_SUBWOOFERS, ids=lambda brief: brief.stem)
def test_every_demo_brief_is_answered(brief: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bass.json"
    assert main(["bass", str(brief), "--json", str(path)]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert max(map(len, out.splitlines())) <= 80
    assert PREDICTION in flowing(out)
    assert flowing(HEARING) in flowing(out.replace("\n  ", " "))
    tree = json.loads(path.read_text(encoding="utf-8"))
    Draft202012Validator(SCHEMA).validate(tree)
    assert (tree["prediction"], tree["hearing"]) == (PREDICTION, HEARING)
    spreads = [way["spread"]["spread_db"] for way in tree["ways"]]
    # The JSON has four decimals: a half of the second may have been rounded either way.
    assert all(f"{spread - 5e-5:.2f}" in out or f"{spread + 5e-5:.2f}" in out for spread in spreads)
    assert spreads == sorted(spreads, reverse=True)


def test_standard_output_holds_the_json_alone_and_the_same_twice(capsys: pytest.CaptureFixture[str]) -> None:
    runs = []
    for _ in range(2):
        assert main(["bass", str(SMALL), "--json", "-"]) == 0
        runs.append(capsys.readouterr().out)
    assert runs[0] == runs[1]
    assert len(json.loads(runs[0])["ways"]) == 2


def test_a_band_is_taken(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bass", str(DEMO / "small-5-1-2-two-subs.toml"), "--band", "30-60", "--json", "-"]) == 0
    tree = json.loads(capsys.readouterr().out)
    assert tree["band"] == {"low_hz": 30.0, "high_hz": 60.0}
    assert (tree["frequencies_hz"][0], tree["frequencies_hz"][-1]) == (30.0, 60.0)


def test_a_brief_without_subwoofers_is_refused_with_the_reason(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bass", str(DEMO / "desk-no-subwoofer.toml")]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "desk-no-subwoofer.toml subwoofers: found none" in err


def test_a_json_path_that_cannot_be_written_is_refused_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bass", str(CINEMA), "--json", str(tmp_path / "no" / "bass.json")]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "cannot write JSON" in err


def test_of_all_heavy_libraries_only_numpy_is_added() -> None:
    script = (
        "import sys; from planner.cli import main\n"
        f"status = main(['bass', {str(DEMO / 'stereo-one-sub.toml')!r}])\n"
        "print(status, *sys.modules, file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", script], env=environment(), capture_output=True, text=True, check=True)
    loaded = ran.stderr.split()
    assert loaded[0] == "0"
    assert HEAVY & set(loaded) == {"numpy", "babel"}  # reading the house settings loads babel
    assert "scipy" not in loaded
