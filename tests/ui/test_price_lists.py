"""Prices, gear and rates changed in the form: looked at first, taken on demand, taken back by undo."""

from decimal import Decimal

import pytest
from streamlit.testing.v1 import AppTest

from planner.catalogue.records import Catalogue
from planner.house import House
from planner.projects import Demo, Files, ProjectStore
from planner.projects.location import projects_folder
from tests.price_lists.lists import CATALOGUE, FAULTY, GERMAN, HOUSE
from tests.ui.app import key, open_screen, session, shown, sound, started
from ui.gear import Gear, read_gear
from ui.session import Screen

TALLOW = "Tallow & Sons"


def gear_screen() -> AppTest:
    return sound(open_screen(started(), Screen.GEAR))


def upload(app: AppTest, content: bytes, supplier: str = TALLOW, name: str = "list.csv") -> AppTest:
    if supplier not in ProjectStore(projects_folder()).mappings():  # the harness cannot type a new name
        ProjectStore(projects_folder()).remember_mapping(supplier, {})
        sound(app.run())
    app.selectbox(key="list_supplier").set_value(supplier)
    app.file_uploader(key="list_file").set_value((name, content, "text/csv"))
    return sound(app.run())


def in_use(app: AppTest) -> tuple[Catalogue, House]:
    gear = read_gear(session(app).source)
    assert isinstance(gear, Gear)
    return gear.catalogue, gear.house


def tables(app: AppTest) -> str:
    rows = (" ".join(map(str, row.values())) for table in app.table for row in table.value.to_dict("records"))
    return "\n".join(rows).replace("\\", "")


def metrics(app: AppTest) -> dict[str, str]:
    return {metric.label: metric.value for metric in app.metric}


def control(elements: object, prefix: str) -> object:
    (found,) = [one for one in elements if one.key and one.key.startswith(prefix)]  # type: ignore[attr-defined]
    return found


def test_a_list_is_looked_at_taken_and_taken_back() -> None:
    app = upload(gear_screen(), GERMAN, name="../liste.csv")
    assert metrics(app)["Taken"] == "3"
    assert session(app).source == Demo(), "nothing changes before the button is pressed"
    sound(app.button(key="use_prices").click().run())
    catalogue, house = in_use(app)
    (offer,) = [one for one in catalogue.offers["receiver-7-mirrored"] if one.supplier == TALLOW]
    assert (offer.price, offer.currency, offer.stock) == (Decimal("631.00"), "EUR", 12)
    assert house == HOUSE
    assert "3 prices of Tallow & Sons taken" in shown(app)
    sound(app.button(key="undo").click().run())
    assert session(app).source == Demo()


def test_every_fault_is_listed_and_the_sound_rows_can_be_taken() -> None:
    app = upload(gear_screen(), FAULTY)
    assert (metrics(app)["Taken"], metrics(app)["Refused"], metrics(app)["Unknown"]) == ("1", "8", "1")
    (table,) = [element.value for element in app.table if "Found" in element.value.columns]
    rows = [" ".join(row.values()).replace("\\", "") for row in table.to_dict("records")]
    assert any("row 2, column price" in row and '"abc"' in row for row in rows)
    assert len(rows) == 8


def test_prices_that_could_mean_two_things_are_asked_for() -> None:
    app = upload(gear_screen(), b"sku;price;currency\namp-1-500-xlr;1.299;EUR\n")
    assert "Say how the prices are written" in shown(app)
    assert not [button for button in app.button if button.key == "use_prices"]
    control(app.radio, "list_figures").set_value("comma")  # type: ignore[attr-defined]
    sound(app.run())
    sound(app.button(key="use_prices").click().run())
    prices = {one.price for one in in_use(app)[0].offers["amp-1-500-xlr"] if one.supplier == TALLOW}
    assert prices == {Decimal(1299)}


def test_a_column_chosen_once_is_remembered_for_the_supplier() -> None:
    content = b"number,what we ask,currency\namp-1-500-xlr,200.00,EUR\n"
    app = upload(gear_screen(), content)
    assert "no column chosen for the price" in tables(app)
    control(app.selectbox, "list_column_price").set_value("what we ask")  # type: ignore[attr-defined]
    sound(app.run())
    sound(app.button(key="use_prices").click().run())
    again = upload(gear_screen(), content)
    assert metrics(again)["Taken"] == "1"
    assert TALLOW in ProjectStore(projects_folder()).mappings()


def test_a_code_that_is_not_known_can_be_named() -> None:
    app = upload(gear_screen(), b"sku,price,currency\nTAL-500,210.00,EUR\n")
    assert metrics(app)["Unknown"] == "1"
    column = control(app.selectbox, "list_column_price").key  # type: ignore[attr-defined]
    table = column.replace("list_column_price", "list_unknown")
    app.session_state[table] = {"edited_rows": {0: {"This is": "amp-1-500-xlr"}}, "added_rows": [], "deleted_rows": []}
    sound(app.run())
    assert (metrics(app)["Taken"], metrics(app)["Unknown"]) == ("1", "0")
    sound(app.button(key="use_prices").click().run())
    assert metrics(upload(app, b"sku,price,currency\nTAL-500,220.00,EUR\n"))["of these changed"] == "1"


@pytest.mark.parametrize("content", [b"", b"\x00" * 99, b"PK\x03\x04", b"1,2\n", b"a,b\nc,d\n", b'"'])
def test_no_list_breaks_the_form(content: bytes) -> None:
    app = upload(gear_screen(), content)
    assert session(app).source == Demo()
    assert app.table


def test_gear_edited_in_the_table_is_checked_and_taken() -> None:
    app = gear_screen()
    app.selectbox(key="gear_sheet").set_value("prices.csv")
    sound(app.run())
    table = key(app, "gear_table.prices.csv")
    app.session_state[table] = {"edited_rows": {0: {"price": "12,50"}}, "added_rows": [], "deleted_rows": []}
    sound(app.run())
    assert "prices.csv row 2, column price" in tables(app)
    assert app.button(key="use_gear").disabled
    app.session_state[table] = {"edited_rows": {0: {"price": "12.50"}}, "added_rows": [], "deleted_rows": []}
    sound(app.run())
    sound(app.button(key="use_gear").click().run())
    catalogue, _ = in_use(app)
    first = next(iter(sorted(CATALOGUE.offers)))
    assert catalogue.offers[first][0].price == Decimal("12.50")
    assert isinstance(session(app).source, Files)


def test_exchange_rates_have_dates_and_are_taken_when_sound() -> None:
    app = gear_screen()
    rates = key(app, "house_rates")
    app.session_state[rates] = {"edited_rows": {0: {"rate": "1,12"}}, "added_rows": [], "deleted_rows": []}
    sound(app.run())
    assert app.button(key="use_house").disabled
    app.session_state[rates] = {
        "edited_rows": {0: {"rate": "1.12", "dated": "2026-11-20"}},
        "added_rows": [{"currency": "chf", "rate": "0.94", "dated": "2026-11-20"}],
        "deleted_rows": [],
    }
    app.text_input(key=key(app, "house_labour")).set_value("70")
    sound(app.run())
    sound(app.button(key="use_house").click().run())
    house = in_use(app)[1]
    first = next(iter(HOUSE.rates))
    assert (house.rates[first].per_house_unit, house.rates[first].dated.isoformat()) == (Decimal("1.12"), "2026-11-20")
    assert house.rates["CHF"].per_house_unit == Decimal("0.94")
    assert house.labour_rate == Decimal(70)
    assert in_use(app)[0] == CATALOGUE
