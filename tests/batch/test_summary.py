"""The workbook over all rooms: figures as the results have them, sums that follow, text that stays text."""

import io
import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl

from planner.batch.records import Outcome, Told
from planner.batch.report import batch_report
from planner.batch.rooms import Room, room_of
from planner.batch.summary import summary
from planner.brief.records import Brief
from planner.design import Finding, Severity
from planner.options import Result
from planner.result_json import as_text, result_tree
from tests.cli.example import BRIEF, CATALOGUE, CHEAPEST, INFEASIBLE, PARTIAL, RESULT
from tests.documents.recalculated import recalculated

CONCERN = Finding(rule="R17", severity=Severity.CONCERN, subject="=1+1", detail="@SUM(A1)")


def told(name: str, result: Result, outcome: Outcome, brief: Brief = BRIEF, words: tuple[str, ...] = ()) -> Told:
    text = as_text(result_tree(result, brief, CATALOGUE))
    return Told(brief=name, key="", outcome=outcome, words=words, result=text)


def all_told() -> list[Told]:
    worried = replace(CHEAPEST, findings=(*CHEAPEST.findings, CONCERN))
    formula = replace(BRIEF, project=replace(BRIEF.project, name="=2+3", client="+4", dated=date(2026, 12, 1)))
    return [
        told("=HYPERLINK(1)", RESULT, Outcome.PROVEN, formula),
        told(
            "cut", replace(PARTIAL, options=(worried, *PARTIAL.options[1:])), Outcome.PARTIAL, words=("Not settled.",)
        ),
        told("none", INFEASIBLE, Outcome.INFEASIBLE, words=("Cannot hold together: x",)),
        Told(brief="bad\udcff", key="", outcome=Outcome.BAD_INPUT, words=("bad.toml: found =1",)),
    ]


def rooms() -> list[Room]:
    return [room_of(each) for each in all_told()]


def test_the_sheets_tell_what_the_results_hold(tmp_path: Path) -> None:
    content = summary(rooms())
    book = openpyxl.load_workbook(io.BytesIO(content))
    sheet = book["Rooms"]
    assert sheet.freeze_panes == "A5"
    heading = [cell.value for cell in sheet[4]]
    first = dict(zip(heading, (cell.value for cell in sheet[5]), strict=True))
    # 8 988.00 and 9 818.00: the sums of the example, see `tests/cli/example.py`.
    assert first["Cheapest"] == 8988.0
    assert first["All set independently"] == 9818.0
    assert first["No conversion"] is None
    assert (first["Answer"], first["Options"], first["Concerns"]) == ("proven", 2, 0)
    assert [sheet.cell(row, 6).value for row in range(5, 9)] == [
        "proven",
        "time ran out",
        "no valid design",
        "bad input",
    ]
    cells = recalculated(content, tmp_path)
    total = next(cell for cell in sheet[10] if cell.value and str(cell.value).startswith("=SUMIF"))
    assert Decimal(str(cells["Rooms", total.coordinate])) == 2 * Decimal("8988.00")
    assert sheet["H10"].value == "Cheapest of 2 rooms together"
    assert [cell.value for cell in book["Concerns"][5]] == ["cut", "R17", "=1+1", "@SUM(A1)"]
    assert [row[2].value for row in book["To know"].iter_rows(min_row=5)] == [
        "Not settled.", "Cannot hold together: x", "bad.toml: found =1",
    ]  # fmt: skip


def test_no_text_becomes_a_formula() -> None:
    book = openpyxl.load_workbook(io.BytesIO(summary(rooms())))
    formulas = [cell.value for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]
    assert formulas == ["=SUMIF($I$5:$I$8,I10,$J$5:$J$8)"]


def test_how_long_it_took_changes_no_byte() -> None:
    slower = [
        each if each.result is None else replace(each, result=as_text({**json.loads(each.result), "seconds": 99.0}))
        for each in all_told()
    ]
    assert summary([room_of(each) for each in slower]) == summary(rooms())


def test_a_batch_without_a_single_answer_has_a_summary_too() -> None:
    book = openpyxl.load_workbook(io.BytesIO(summary(rooms()[3:])))
    assert book["Rooms"]["A5"].value == "bad\\udcff"


def test_the_report_tells_each_brief_as_what_it_is() -> None:
    report = batch_report(rooms(), Path("out")).splitlines()
    assert report[2].split() == ["=HYPERLINK(1)", "proven", "2", "0", "EUR", "8,988.00"]
    assert "- Cannot hold together: x" in report
    assert report[-2] == "4 briefs: 1 proven, 1 time ran out, 1 no valid design, 1 bad input."
