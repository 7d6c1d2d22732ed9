"""One option in full: its figures are those of the machine-readable result."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from planner.money import from_minor
from planner.result_json import result_tree
from planner.tables.report import NOT_CHECKED
from tests.cli.example import BRIEF, CATALOGUE, RESULT
from tests.ui.app import answer_with, open_part, open_screen, shown, sound, started
from ui.session import Part, Screen

TREE: Any = result_tree(RESULT, BRIEF, CATALOGUE)


def option_screen(monkeypatch: pytest.MonkeyPatch, part: Part = Part.PRICE) -> AppTest:
    answer_with(monkeypatch, RESULT)
    app = sound(open_screen(sound(open_screen(started(), Screen.OPTIONS)), Screen.OPTION))
    return sound(open_part(app, part))


def table(app: AppTest, heading: str) -> list[Mapping[str, Any]]:
    """The rows of the table that has a column of this heading, freed of the marks against Markdown."""
    (found,) = [element.value for element in app.table if heading in element.value.columns]
    return [
        {str(name): cell.replace("\\", "") if isinstance(cell, str) else cell for name, cell in row.items()}
        for row in found.to_dict("records")
    ]


def test_without_an_answer_the_way_to_one_is_shown() -> None:
    app = sound(open_screen(started(), Screen.OPTION))
    assert "There is no option to show yet." in shown(app)
    assert app.button(key="to_options").label == "See the options"


def test_the_bill_has_the_purchases_and_the_labour(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = table(option_screen(monkeypatch), "Supplier")
    option = TREE["options"][0]
    wanted = [(line["count"], line["unit_price_minor"]) for line in (*option["purchases"], *option["labour"])]
    assert [(row["Count"], row["Each, EUR"]) for row in rows] == [
        (Decimal(count), from_minor(minor, "EUR")) for count, minor in wanted
    ]
    assert [row["Sum, EUR"] for row in rows] == [from_minor(count * minor, "EUR") for count, minor in wanted]


def test_the_sums_are_those_of_the_quote(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = table(option_screen(monkeypatch), "Sums")
    quote = TREE["options"][0]["quote"]
    names = ("gear_minor", "labour_minor", "subtotal_minor", "tax_minor", "total_minor")
    assert [row["EUR"] for row in rows] == [from_minor(quote[name], "EUR") for name in names]


def test_the_output_map_names_every_jack_and_its_lead(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = table(option_screen(monkeypatch, Part.WIRING), "Drives")
    lines = TREE["options"][0]["output_map"]
    assert [(row["Output"], row["Drives"]) for row in rows] == [
        (f"{line['from_device']} / {line['from_port']}", f"{line['to_device']} / {line['to_port']}") for line in lines
    ]
    lead_by_source = {
        (line["from_device"], line["from_port"]): line["lead"] for line in TREE["options"][0]["connections"]
    }
    for row, line in zip(rows, lines, strict=True):
        jacks = [
            (line["from_device"], line["from_port"]),
            *((jack["device"], jack["port"]) for jack in line["through"]),
        ]
        assert row["Leads"].split(", then ") == [lead_by_source[jack] for jack in jacks]


def test_the_ledger_is_have_used_and_spare(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = table(option_screen(monkeypatch, Part.WIRING), "Spare")
    assert [(row["Device"], row["Port group"], row["Have"], row["Used"], row["Spare"]) for row in rows] == [
        (line["device"], line["group"], line["have"], line["used"], line["spare"])
        for line in TREE["options"][0]["ledger"]
    ]


def test_findings_and_what_is_not_checked_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    app = option_screen(monkeypatch, Part.FINDINGS)
    assert [row["Finding"] for row in table(app, "Finding")] == ["Two legs."]
    for sentence in NOT_CHECKED:
        assert sentence in shown(app)


def test_another_option_is_picked_by_its_id(monkeypatch: pytest.MonkeyPatch) -> None:
    app = option_screen(monkeypatch)
    sound(app.selectbox(key="option").set_value("2").run())
    assert app.metric[0].value == "EUR 9,818.00"
    assert "+830.00 over the cheapest" in shown(app).replace("*", "")


def test_the_least_margin_and_the_earth_loops_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """M8 and M7, of which the example knows neither."""
    figures = {metric.label: metric.value for metric in option_screen(monkeypatch).metric}
    assert (figures["Least margin"], figures["Earth loops"]) == ("not known", "not known")
