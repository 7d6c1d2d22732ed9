"""The benchmark runs, both ways find one price, and its figures can be read; no time is judged."""

import json
from pathlib import Path

import pytest

from tests.benchmarks import bass, papers
from tests.benchmarks.__main__ import main


def test_the_small_size_is_measured_and_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "figures.json"
    assert main(["--sizes", "S", "--only", "ours", "--json", str(path)]) == 0
    heading, row = capsys.readouterr().out.splitlines()
    assert len(heading) == len(row)
    assert row.split()[:3] == ["S", "64", "9"]
    (entry,) = json.loads(path.read_text(encoding="utf-8"))["sizes"]
    ours = entry["ours"]
    assert ours["status"] == "proven"
    assert ours["options"] > 0
    assert ours["cheapest_minor"] > 0
    assert all(ours[name][unit] > 0 for name in ("demand", "cheapest", "set") for unit in ("clock_s", "cpu_s"))


def test_what_the_limits_cost_is_measured_against_none_in_the_same_run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "figures.json"
    assert main(["--only", "limits", "--limits", "T", "--json", str(path)]) == 0
    heading, *rows = capsys.readouterr().out.splitlines()
    assert {len(row) for row in rows} == {len(heading)}
    tree = json.loads(path.read_text(encoding="utf-8"))
    assert tree["sizes"] == []
    asked = [entry["asked"] for entry in tree["limits"]]
    assert asked == ["no limits", "limits", "limits, loops weighed", "limits, margin weighed"]
    free_s = tree["limits"][0]["set_cpu_seconds"]
    for entry in tree["limits"]:
        assert entry["options"] > 0
        assert entry["ratio"] == pytest.approx(entry["set_cpu_seconds"] / free_s)


def test_a_size_that_is_not_there_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--sizes", "S,XS"])
    assert "no XS; there are S, M, L, XL, XXL" in capsys.readouterr().err


def test_the_bass_is_measured_beside_the_loop_and_the_library(tmp_path: Path) -> None:
    path = tmp_path / "bass.json"
    assert bass.main(["--responses-only", "--json", str(path)]) == 0
    tree = json.loads(path.read_text(encoding="utf-8"))
    assert tree["over_loop"] == pytest.approx(tree["responses_per_second"] / tree["loop_per_second"])
    assert tree["over_library"] == pytest.approx(tree["responses_per_second"] / tree["library_per_second"])
    assert tree["demo_study_seconds"] is None


def test_the_papers_are_measured(capsys: pytest.CaptureFixture[str]) -> None:
    assert papers.main(["stereo-one-sub", "impossible-balanced-with-rca-subs"]) == 0
    (line,) = capsys.readouterr().out.splitlines()
    assert line.startswith("stereo-one-sub")
