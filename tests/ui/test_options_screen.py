"""The options' screen: found, marked as old, run out of time, none at all, and refused."""

from dataclasses import replace
from decimal import Decimal

import pytest
from streamlit.testing.v1 import AppTest

from planner.brief.records import Measure
from planner.errors import BadInput, PlannerBug
from planner.options import Option
from planner.result_json import as_text, result_tree
from planner.tables.amounts import amount, difference
from tests.cli.example import BRIEF, CATALOGUE, CHEAPEST, DEARER, INFEASIBLE, PARTIAL, RESULT
from tests.ui.app import FAULT, answer_by, answer_with, key, open_screen, session, shown, sound, started
from ui.answers import ask
from ui.session import Screen


def options(app: AppTest) -> AppTest:
    return sound(open_screen(app, Screen.OPTIONS))


def test_the_answer_is_asked_for_once_and_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = answer_with(monkeypatch, RESULT)
    app = options(started())
    assert len(asked) == 1
    sound(app.run())
    options(sound(open_screen(app, Screen.BRIEF)))
    assert len(asked) == 1


def test_each_card_has_its_question_its_price_and_what_that_buys(monkeypatch: pytest.MonkeyPatch) -> None:
    answer_with(monkeypatch, RESULT)
    text = shown(options(started()))
    for words in (
        "The cheapest",
        "EUR 8,988.00",
        "Every subwoofer set independently, by any drive",
        "EUR 9,818.00",
        "+830.00",
        "Buys 5 of 5 subwoofers set independently instead of 1",
        "No balanced-unbalanced conversion",
        "None: every subwoofer here is balanced",
        "Proven: 2 options",
    ):
        assert words in text


def test_the_table_has_the_figures_of_the_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    answer_with(monkeypatch, RESULT)
    (table,) = options(started()).dataframe[-1:]
    assert [
        list(row) for row in table.value[["Option", "Price", "More", "Independent", "Lost"]].itertuples(index=False)
    ] == [
        ["1", Decimal("8988.00"), Decimal("0.00"), 1, 3],
        ["2", Decimal("9818.00"), Decimal("830.00"), 5, 1],
    ]


@pytest.mark.parametrize("measure", [Measure.EARTH_LOOPS, Measure.LEAST_MARGIN])
def test_loops_and_margin_have_a_column_where_they_are_weighed(
    monkeypatch: pytest.MonkeyPatch, measure: Measure
) -> None:
    brief = replace(BRIEF, measures=(*BRIEF.measures, measure))
    known = [replace(o, measures=replace(o.measures, earth_loops=4, least_margin_db=5.74)) for o in RESULT.options]
    answer_with(monkeypatch, replace(RESULT, options=tuple(known)), brief=brief)
    (table,) = options(started()).dataframe[-1:]
    heading, figure = {Measure.EARTH_LOOPS: ("Loops", 4), Measure.LEAST_MARGIN: ("Margin", 5.74)}[measure]
    assert list(table.value[heading]) == [figure] * len(known)
    assert len({"Loops", "Margin"} & set(table.value)) == 1


def test_after_an_edit_the_answer_stays_and_is_marked_as_old(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = answer_with(monkeypatch, RESULT)
    app = options(started())
    before = session(app).draft.room.length_m
    app.number_input(key=key(app, "room_length_m")).set_value(0.2)
    app = options(app)
    assert "from before your last change" in shown(app)
    assert "Room: Length, m" in shown(app)
    assert "EUR 8,988.00" in shown(app)
    app.number_input(key=key(app, "room_length_m")).set_value(before)
    app = options(app)
    assert "from before your last change" not in shown(app)
    assert len(asked) == 1, "the edit undone, the answer is at hand"
    app.number_input(key=key(app, "room_length_m")).set_value(before + 1)
    options(app)
    assert len(asked) == 2


def test_time_that_ran_out_is_told_with_what_is_not_settled(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = answer_with(monkeypatch, PARTIAL, RESULT)
    app = options(started())
    assert "Time ran out" in shown(app)
    assert "Options with 5 independent subwoofers may be cheaper." in shown(app)
    assert "Where Proven is not ticked" in shown(app)
    sound(app.button(key="search_again").click().run())
    assert len(asked) == 2
    assert "Proven: 2 options" in shown(app)


def test_time_that_ran_out_with_nothing_found_shows_no_empty_table(monkeypatch: pytest.MonkeyPatch) -> None:
    answer_with(monkeypatch, replace(PARTIAL, options=(), shortlist=()))
    app = options(started())
    assert "Time ran out" in shown(app)
    assert "option_set" not in [table.key for table in app.dataframe]


def test_no_valid_design_names_the_conflict(monkeypatch: pytest.MonkeyPatch) -> None:
    answer_with(monkeypatch, INFEASIBLE)
    app = options(started())
    for words in ("No valid design exists", "The budget is EUR 100.00.", "Five subwoofers are wanted."):
        assert words in shown(app)
    assert "option_set" not in [table.key for table in app.dataframe]
    assert "There is no option to show yet." in shown(sound(open_screen(app, Screen.OPTION)))


def test_input_that_the_planner_refuses_is_listed(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise BadInput((FAULT, FAULT))

    monkeypatch.setattr("planner.plan.options", refuse)
    answer_by(monkeypatch, ask)
    text = shown(options(started()))
    assert "2 things to mend" in text
    assert "Measure it." in text


@pytest.mark.parametrize("error", [PlannerBug("R1 says 3, the model says 2"), ZeroDivisionError("division by zero")])
def test_a_fault_of_our_own_is_told_as_such(monkeypatch: pytest.MonkeyPatch, error: Exception) -> None:
    def fail(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr("planner.plan.options", fail)
    answer_by(monkeypatch, ask)
    app = open_screen(started(), Screen.OPTIONS)
    assert not app.exception
    assert "a fault of the planner's own, not of your files" in shown(app)
    assert str(error) in app.code[0].value
    assert "/" not in app.code[0].value, "no folder of the machine is shown"


@pytest.mark.parametrize("option", [CHEAPEST, DEARER], ids=lambda option: str(option.id))
def test_a_card_opens_its_option(monkeypatch: pytest.MonkeyPatch, option: Option) -> None:
    answer_with(monkeypatch, RESULT)
    app = options(started())
    (button,) = [button for button in app.button if button.label == f"Open option {option.id}"]
    sound(button.click().run())
    assert app.selectbox(key="option").value == option.id


def test_names_in_the_answer_are_shown_as_they_are(monkeypatch: pytest.MonkeyPatch) -> None:
    odd = "*A* <b>$x$ [y](z)"
    answer_with(monkeypatch, replace(INFEASIBLE, conflict=(odd,)))
    app = options(started())
    assert odd in shown(app)
    assert odd not in "\n".join(str(part.value) for part in app.markdown)


def test_the_amounts_are_those_of_the_machine_readable_result(monkeypatch: pytest.MonkeyPatch) -> None:
    answer_with(monkeypatch, RESULT)
    app = options(started())
    text = shown(app)
    kept = session(app).shown
    assert kept is not None
    tree = result_tree(kept.result, kept.question.brief, CATALOGUE)
    assert as_text(tree)
    priced = {str(option["id"]): option["price_minor"] for option in tree["options"]}  # type: ignore[attr-defined]
    for price in priced.values():
        assert amount(price, "EUR") in text
    assert difference(priced["2"] - priced["1"], "EUR") in text
