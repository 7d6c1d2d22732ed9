"""What `options` prints, read as a newcomer would."""

import re
from dataclasses import replace

import pytest

from planner.brief.records import Measure
from planner.design import UnitKind
from planner.options import Option, Result
from planner.tables.heading import MOST_UNPROVEN
from planner.tables.layout import WIDTH, display_width
from planner.tables.report import options_report
from planner.tables.trade_off import MOST_ROWS
from planner.words import offers_words
from tests.cli.example import BRIEF, CATALOGUE, CHEAPEST, DESIGN, HOUSE, INFEASIBLE, PARTIAL, RESULT


def report(result: Result, detailed: Option | None = CHEAPEST) -> str:
    return options_report(result, BRIEF, CATALOGUE, HOUSE, detailed)


def flat(text: str) -> str:
    """The text with every run of blanks and line ends as one blank."""
    return " ".join(text.split())


@pytest.mark.parametrize("result", [RESULT, PARTIAL, INFEASIBLE], ids=lambda result: result.status.value)
def test_every_line_fits_eighty_columns(result: Result) -> None:
    text = report(result, result.options[0] if result.options else None)
    assert max(display_width(line) for line in text.splitlines()) <= WIDTH == 80


def test_long_names_still_fit() -> None:
    processor = replace(CATALOGUE.processors[0], name="An uncommonly longwinded processor name " * 4)
    catalogue = replace(CATALOGUE, processors=(processor,))
    text = options_report(RESULT, BRIEF, catalogue, HOUSE, CHEAPEST)
    assert max(display_width(line) for line in text.splitlines()) <= WIDTH


def test_the_heading_says_whose_system_it_is() -> None:
    top = flat(report(RESULT))[:200]
    for words in ("Example room", "A. Client", "Q-1", "2026-11-25", "6.20 x 4.10 x 2.55 m", "layout 2.0"):
        assert words in top
    assert "2 loudspeakers; 3 to 5 subwoofers" in top


def test_a_proven_set_says_so() -> None:
    assert "Proven: 2 options" in report(RESULT)
    assert "*" not in report(RESULT)


def test_the_shortlist_tells_price_and_what_it_buys() -> None:
    text = flat(report(RESULT))
    # 9 818.00 - 8 988.00 = 830.00.
    assert "option 2: EUR 9,818.00 (+830.00 over the cheapest)" in text
    assert "5 of 5 subwoofers set independently instead of 1" in text
    assert "one failure silences up to 1 subwoofer instead of 3" in text
    assert "none: every subwoofer here is balanced" in text


def test_the_table_sets_the_options_side_by_side() -> None:
    rows = [line for line in report(RESULT).splitlines() if re.match(r"[12] +[89],", line)]
    assert [row.split()[:7] for row in rows] == [
        ["1", "8,988.00", "-", "1", "0", "3", "2"],
        ["2", "9,818.00", "+830.00", "5", "0", "1", "2"],
    ]
    below = "Subwoofers: 2 DSP, 2 split, 1 daisy-chained. Processor eight + DSP unit two by four"
    assert flat(report(RESULT)).count(below) == 2


def test_joints_are_shown_where_the_brief_weighs_them() -> None:
    brief = replace(BRIEF, measures=(Measure.PRICE, Measure.JOINTS))
    text = options_report(RESULT, brief, CATALOGUE, HOUSE, CHEAPEST)
    row = next(line for line in text.splitlines() if line.startswith("2  "))
    assert row.split()[6:8] == ["2", "17"]
    assert "Joints" in text
    assert "Joints" not in report(RESULT)


def test_without_subwoofers_nothing_is_said_of_them() -> None:
    loudspeakers = tuple(unit for unit in DESIGN.units if unit.kind is not UnitKind.SUBWOOFER)
    assert "subwoofer" not in offers_words(replace(CHEAPEST, design=replace(DESIGN, units=loudspeakers)))


def test_the_bill_s_sums_are_those_of_its_lines() -> None:
    text = flat(report(RESULT))
    for words in (
        "3 s1: Subwoofer one North 700.00 2,100.00",
        "2 s1: Subwoofer one owned 0.00 0.00",
        "9 labour: run lead - 20.00 180.00",
        "Subtotal EUR 7,490.00",
        "VAT 20 % EUR 1,498.00",
        "Total EUR 8,988.00",
    ):
        assert words in text


def test_the_output_map_names_jack_channel_and_what_it_drives() -> None:
    text = report(RESULT)
    row = next(line for line in text.splitlines() if line.endswith("Sub 3 / LINE 1"))
    assert row.split("  ")[0] == "Processor / SUB 1"
    assert "LFE1 bass" in row


def test_what_is_not_checked_is_told() -> None:
    text = flat(report(RESULT)).split("What is kept, told and not checked")[1]
    for rule in ("R11 to R15", "kept by every design", "earth loops", "M9"):
        assert rule in text


def test_the_least_margin_and_the_loops_are_told_with_the_findings() -> None:
    measured = replace(CHEAPEST, measures=replace(CHEAPEST.measures, least_margin_db=-2.54, earth_loops=3))
    assert "Least level margin (M8): -2.5 dB. Earth loops (M7): 3." in flat(report(RESULT, measured))
    assert "Least level margin (M8): not known. Earth loops (M7): not known." in flat(report(RESULT))


def test_an_answer_cut_short_is_marked() -> None:
    text = report(PARTIAL)
    assert "Time ran out" in text
    assert "5 independent subwoofers may be cheaper" in flat(text)
    assert re.search(r"^2\* ", text, re.MULTILINE)
    assert "* not proven to be the cheapest" in text


def test_no_valid_design_prints_the_conflict_and_no_table() -> None:
    text = report(INFEASIBLE, None)
    assert "No valid design" in text
    assert "- The budget is EUR 100.00." in text
    assert "- Five subwoofers are wanted." in text
    assert "Trade-off set" not in text


def test_a_long_set_is_cut_and_says_by_how_many() -> None:
    many = tuple(replace(CHEAPEST, id=f"x{n}") for n in range(MOST_ROWS + 3))
    text = report(replace(RESULT, options=many, shortlist=()))
    assert "3 more options in the JSON result" in text
    assert f"x{MOST_ROWS - 1} " in text
    assert f"x{MOST_ROWS} " not in text


def test_time_ran_out_before_a_first_option() -> None:
    text = report(replace(PARTIAL, options=(), shortlist=()), None)
    assert "Time ran out" in text
    assert "no design was found in it" in " ".join(text.split())


def test_many_open_questions_are_counted_and_only_the_first_told() -> None:
    open_ones = tuple(f"Not settled: question {n}." for n in range(MOST_UNPROVEN + 2))
    text = " ".join(report(replace(PARTIAL, unproven=open_ones)).split())
    assert f"question {MOST_UNPROVEN - 1}." in text
    assert f"question {MOST_UNPROVEN}." not in text
    assert "And 2 questions more, which the JSON result names." in text
