"""Options pinned and compared, and the screen that a client may see."""

import pytest
from streamlit.testing.v1 import AppTest

from planner.documents.compared import columns
from tests.cli.example import CATALOGUE, CHEAPEST, DEARER, HOUSE, RESULT
from tests.ui.app import ROOT, answer_with, key, open_screen, session, shown, sound, started
from ui.session import Screen


@pytest.fixture
def app(monkeypatch: pytest.MonkeyPatch) -> AppTest:
    answer_with(monkeypatch, RESULT)
    return sound(open_screen(started(), Screen.OPTIONS))


def pin_both(app: AppTest) -> AppTest:
    for button in ("pin_cheapest", "pin_cheapest_all_independent"):
        sound(app.button(key=button).click().run())
    return app


def everything(app: AppTest) -> str:
    rows = (" ".join(map(str, row.values())) for table in app.table for row in table.value.to_dict("records"))
    return "\n".join((shown(app), *rows, *(button.label for button in app.button), *(one.label for one in app.metric)))


def test_two_options_pinned_stand_side_by_side_in_both_kinds_of_words(app: AppTest) -> None:
    text = everything(pin_both(app))
    for column in columns((CHEAPEST, DEARER)):
        for sentence in (*column.gets, *column.gives_up):
            assert sentence.replace("\xa0", " ") in text.replace("\\", "")
    assert "+830.00" in text
    assert "The same is bought in each." in text, "the example's two options share their bill"


def test_pins_are_kept_by_the_address_and_end_with_their_answer(app: AppTest) -> None:
    pin_both(app)
    again = AppTest.from_file(ROOT / "ui" / "app.py", default_timeout=60)
    again.query_params["pinned"] = "1-2"
    sound(again.run())
    assert session(again).pinned == ("1", "2")
    again.number_input(key=key(again, "room_length_m")).set_value(6.75)
    sound(again.run())
    assert session(again).pinned == ()


def test_a_pin_is_taken_back(app: AppTest) -> None:
    pin_both(app)
    sound(app.button(key="pin_cheapest").click().run())
    assert session(app).pinned == ("2",)


def test_the_client_s_screen_has_prices_and_plain_words_and_nothing_of_cost_or_margin(app: AppTest) -> None:
    pin_both(app)
    sound(app.button(key="client_view").click().run())
    text = everything(app)
    assert "EUR 8,988.00" in text
    assert "EUR 9,818.00" in text
    costs = {f"{offer.price}" for offers in CATALOGUE.offers.values() for offer in offers}
    skus = {item.sku for item in CATALOGUE.items()}
    assert not any(cost in text for cost in costs if len(cost) > 3)
    assert not any(sku in text for sku in skus)
    assert str(HOUSE.margin_percent or HOUSE.markup_percent) not in text
    assert not any(word in text.lower() for word in ("margin", "mark-up", "cost", "supplier"))
    assert [tab.label for tab in app.tabs] == []


def test_nothing_typed_is_lost_by_showing_the_client(app: AppTest) -> None:
    app.text_input(key=key(app, "project_name")).set_value("Attic")
    sound(app.run())
    sound(app.button(key="client_view").click().run())
    assert "Attic" in shown(app)
    sound(app.button(key="leave_client_view").click().run())
    assert session(app).draft.project.name == "Attic"
    assert app.text_input(key=key(app, "project_name")).value == "Attic"
