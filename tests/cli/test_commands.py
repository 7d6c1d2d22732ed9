"""Commands and exit statuses, against section 9 of the project's contract.

0 answered, 1 bad input, 2 wrong usage, 3 no valid design, 4 time ran out. The pipeline is
replaced by answers built by hand; `test_demo.py` runs the real one.
"""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

import planner.answer
import planner.explain.explanation  # takes the pipeline by name: before it is replaced here
import planner.plan
from planner.cli import main
from planner.commands import options as options_command
from planner.commands.inputs import Inputs
from planner.errors import BadInput, Fault, PlannerBug
from planner.options import Relaxation, Result
from tests.cli.example import BRIEF, CATALOGUE, HOUSE, INFEASIBLE, PARTIAL, RESULT

Answering = Callable[[Result | BaseException], None]


@pytest.fixture
def answering(monkeypatch: pytest.MonkeyPatch) -> Answering:
    """Lets the pipeline give this answer, or raise it."""

    def answer(result: Result | BaseException) -> None:
        def options(*_: object, **__: object) -> Result:
            if isinstance(result, BaseException):
                raise result
            return result

        inputs = Inputs(brief=BRIEF, catalogue=CATALOGUE, house=HOUSE)
        monkeypatch.setattr(options_command, "read_inputs", lambda *_: inputs)
        monkeypatch.setattr(planner.plan, "options", options)

    return answer


@pytest.mark.parametrize(
    ("result", "status"),
    [(RESULT, 0), (INFEASIBLE, 3), (PARTIAL, 4)],
    ids=["proven", "infeasible", "partial"],
)
def test_the_exit_status_tells_how_the_answer_stands(result: Result, status: int, answering: Answering) -> None:
    answering(result)
    assert main(["options", "b.toml"]) == status


def test_json_to_standard_output_comes_alone(answering: Answering, capsys: pytest.CaptureFixture[str]) -> None:
    answering(RESULT)
    assert main(["options", "b.toml", "--json", "-"]) == 0
    out, err = capsys.readouterr()
    assert json.loads(out)["status"] == "proven"
    assert err == ""


def test_json_goes_to_a_file_beside_the_printed_answer(
    answering: Answering, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answering(INFEASIBLE)
    path = tmp_path / "result.json"
    assert main(["options", "b.toml", "--json", str(path)]) == 3
    assert json.loads(path.read_text(encoding="utf-8"))["conflict"] == list(INFEASIBLE.conflict)
    assert "No valid design" in capsys.readouterr().out


def test_what_cannot_hold_together_is_printed_before_what_would_mend_it_is_looked_for(
    answering: Answering, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answering(INFEASIBLE)
    budget = Relaxation(change="no budget", price_minor=123_400, gives_up="the budget")
    seen: list[str] = []

    def with_relaxations(result: Result, *_: object, **__: object) -> Result:
        seen.append(capsys.readouterr().out)
        late = replace(budget, change="no rack", price_minor=None)
        return replace(result, relaxations=(budget, late), unproven=("Time ran out.",))

    monkeypatch.setattr(planner.answer, "with_relaxations", with_relaxations)
    assert main(["options", "b.toml"]) == 3
    assert all(sentence in seen[0] for sentence in INFEASIBLE.conflict)
    after = " ".join(capsys.readouterr().out.split())
    assert "no budget: EUR 1,234.00. Gives up the budget." in after
    assert "no rack: a design exists, its least price was not settled in time." in after
    assert "Time ran out." in after


def test_a_named_option_is_printed_in_full(answering: Answering, capsys: pytest.CaptureFixture[str]) -> None:
    answering(RESULT)
    assert main(["options", "b.toml", "--option", "2"]) == 0
    out = capsys.readouterr().out
    assert "Option 2: bill of materials" in out
    assert "Option 1: bill of materials" not in out


def test_an_option_that_is_not_in_the_set_is_wrong_usage(
    answering: Answering, capsys: pytest.CaptureFixture[str]
) -> None:
    answering(RESULT)
    assert main(["options", "b.toml", "--option", "9"]) == 2
    assert "no option 9. The options are 1, 2." in capsys.readouterr().err


def test_every_fault_is_told_on_a_line_of_its_own(answering: Answering, capsys: pytest.CaptureFixture[str]) -> None:
    faults = tuple(
        Fault(where=f"file.csv:{row}", value="\x1b'16ch'\n", expected="a number", remedy="Write 16.")
        for row in range(20)
    )
    answering(BadInput(faults))
    assert main(["options", "b.toml"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("Write 16.") == 20
    assert len(err.splitlines()) == 21
    assert "20 faults" in err
    assert "\x1b" not in err


@pytest.mark.parametrize("error", [PlannerBug("price 3 is not 4"), ZeroDivisionError("price 3 is not 4")])
def test_a_bug_of_ours_is_owned_up_to(
    error: Exception, answering: Answering, capsys: pytest.CaptureFixture[str]
) -> None:
    answering(error)
    assert main(["options", "b.toml"]) == 5
    out, err = capsys.readouterr()
    assert out == ""
    assert "bug of the planner's own" in err
    assert "price 3 is not 4" in err
    assert "Please report" in err
    assert "options b.toml" in err
    assert "Traceback" not in err


def test_a_stop_by_hand_is_quiet(answering: Answering, capsys: pytest.CaptureFixture[str]) -> None:
    answering(KeyboardInterrupt())
    assert main(["options", "b.toml"]) == 130  # 128 + SIGINT, the shell's convention
    assert capsys.readouterr().err == "planner: stopped.\n"


@pytest.mark.parametrize("name", ["no/such/folder/result.json", "."])
def test_a_json_path_that_cannot_be_written_is_refused_before_the_search(
    name: str, tmp_path: Path, answering: Answering, capsys: pytest.CaptureFixture[str]
) -> None:
    answering(AssertionError("the search was started"))
    assert main(["options", "b.toml", "--json", str(tmp_path / name)]) == 2
    assert "cannot write JSON" in capsys.readouterr().err


def test_a_json_write_that_fails_is_told_after_the_answer(
    answering: Answering, capsys: pytest.CaptureFixture[str]
) -> None:
    answering(RESULT)
    assert main(["options", "b.toml", "--json", "/dev/full"]) == 2
    out, err = capsys.readouterr()
    assert "Trade-off set" in out
    assert "cannot write JSON to /dev/full: No space left on device." in err


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["nonsense"],
        ["options"],
        ["options", "b.toml", "--time-limit", "0"],
        ["options", "b.toml", "--time-limit", "-1"],
        ["options", "b.toml", "--time-limit", "nan"],
        ["options", "b.toml", "--time-limit", "soon"],
        ["options", "b.toml", "--cat", "x"],
        ["bass"],
        ["bass", "b.toml", "--band", "20"],
        ["bass", "b.toml", "--band", "80-20"],
        ["bass", "b.toml", "--band", "nan-80"],
        ["bass", "b.toml", "--band", "1-80"],
        ["bass", "b.toml", "--band", "20-5000"],
        ["batch"],
        ["batch", "briefs"],
        ["batch", "briefs", "--out", "o", "--processes", "0"],
        ["batch", "briefs", "--out", "o", "--processes", "two"],
        ["batch", "briefs", "--out", "o", "--time-limit", "0"],
        ["check"],
        ["form", "--port", "0"],
        ["form", "--port", "65536"],
        ["form", "--port", "http"],
    ],
    ids=" ".join,
)
def test_wrong_usage_is_told_on_standard_error(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "usage: python -m planner" in err


@pytest.mark.parametrize(
    "arguments",
    [
        ["--help"],
        ["options", "--help"],
        ["bass", "--help"],
        ["documents", "--help"],
        ["batch", "--help"],
        ["check", "--help"],
        ["form", "--help"],
    ],
)
def test_help_is_given(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 0
    out = capsys.readouterr().out
    assert "usage: python -m planner" in out


def test_without_a_catalogue_the_command_asks_for_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    brief = tmp_path / "briefs" / "b.toml"
    brief.parent.mkdir()
    brief.write_text("")
    assert main(["options", str(brief)]) == 2
    assert "Name one with --catalogue DIR" in capsys.readouterr().err
