"""The command: which option, where the files go, what each exit status says."""

import json
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from planner.cli import main
from planner.commands.exit_status import ExitStatus
from planner.documents.papers import PAPER_WORDS
from planner.options import Status
from tests.cli.example import INFEASIBLE
from tests.documents.jobs import SMALL
from tests.documents.pages import text_of
from tests.plan.demo import DEMO, demo_result

PAPER_NAMES = tuple(PAPER_WORDS)
BRIEF = str(DEMO / "briefs" / f"{SMALL}.toml")


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_it_writes_every_paper_and_the_same_bytes_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("one", "two"):
        assert main(["documents", BRIEF, "--option", "1", "--out", str(tmp_path / name)]) == ExitStatus.ANSWERED
    one = contents(tmp_path / "one")
    assert set(one) == set(PAPER_NAMES)
    assert one == contents(tmp_path / "two")
    said = capsys.readouterr()
    assert all(name in said.out for name in PAPER_NAMES)
    assert said.err == ""


def test_what_one_more_would_cost_is_told_where_it_is_asked(tmp_path: Path) -> None:
    out = tmp_path / "set"
    assert main(["documents", BRIEF, "--one-more", "--out", str(out)]) == ExitStatus.ANSWERED
    told = json.loads((out / "option.json").read_text(encoding="utf-8"))["one_more"]
    assert any(sentence.startswith("One more subwoofer costs GBP") for sentence in told)
    text = text_of((out / "proposal.pdf").read_bytes())
    assert all(sentence in text for sentence in told)


def test_all_that_is_explained_goes_into_workbook_and_json_where_it_is_asked(tmp_path: Path) -> None:
    out = tmp_path / "set"
    assert main(["documents", BRIEF, "--why", "--option", "2", "--out", str(out)]) == ExitStatus.ANSWERED
    told = json.loads((out / "option.json").read_text(encoding="utf-8"))["why"]
    titles = [section["title"] for section in told]
    assert "Why the devices of option 2" in titles
    sheet = openpyxl.load_workbook(out / "trade-workbook.xlsx")["Why"]
    written = {row[0].value for row in sheet.iter_rows(min_row=5)}
    assert set(titles) <= written
    assert all(set(section["sentences"]) <= written for section in told)


def test_an_existing_folder_is_refused_before_the_search_and_replaced_when_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "set"
    out.mkdir()
    (out / PAPER_NAMES[0]).write_bytes(b"old")
    assert main(["documents", BRIEF, "--out", str(out)]) == ExitStatus.WRONG_USAGE
    assert "exists already" in capsys.readouterr().err
    assert contents(out) == {PAPER_NAMES[0]: b"old"}
    assert main(["documents", BRIEF, "--out", str(out), "--replace"]) == ExitStatus.ANSWERED
    assert set(contents(out)) == set(PAPER_NAMES)


def test_an_option_that_is_not_there_is_told_with_those_that_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["documents", BRIEF, "--option", "99", "--out", str(tmp_path / "set")]) == ExitStatus.WRONG_USAGE
    assert "no option 99. The options are 1" in capsys.readouterr().err
    assert not (tmp_path / "set").exists()


def test_without_a_design_there_are_no_papers(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner.plan.options", lambda *_, **__: INFEASIBLE)
    assert main(["documents", BRIEF, "--out", str(tmp_path / "set")]) == ExitStatus.NO_DESIGN
    said = capsys.readouterr().err
    assert "no valid design exists" in said
    assert all(sentence in said for sentence in INFEASIBLE.conflict)
    assert not (tmp_path / "set").exists()


def test_what_time_did_not_allow_to_prove_is_written_and_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    cut = replace(demo_result(SMALL), status=Status.PARTIAL)
    monkeypatch.setattr("planner.plan.options", lambda *_, **__: cut)
    assert main(["documents", BRIEF, "--out", str(tmp_path / "set")]) == ExitStatus.OUT_OF_TIME
    assert set(contents(tmp_path / "set")) == set(PAPER_NAMES)
    assert "there may be cheaper ones" in capsys.readouterr().err
    assert b'"status": "partial"' in contents(tmp_path / "set")["option.json"]
    monkeypatch.setattr("planner.plan.options", lambda *_, **__: replace(cut, options=()))
    assert main(["documents", BRIEF, "--out", str(tmp_path / "none")]) == ExitStatus.OUT_OF_TIME
    assert "--time-limit" in capsys.readouterr().err
    assert not (tmp_path / "none").exists()


def test_letters_that_cannot_be_printed_are_bad_input(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = Path(BRIEF).read_text(encoding="utf-8").replace('client = "', 'client = "თბილისი ')
    brief = tmp_path / "brief.toml"
    brief.write_text(text, encoding="utf-8")
    arguments = ["documents", str(brief), "--catalogue", str(DEMO), "--out", str(tmp_path / "set")]
    assert main(arguments) == ExitStatus.BAD_INPUT
    assert "U+10D7" in capsys.readouterr().err
    assert not (tmp_path / "set").exists()
