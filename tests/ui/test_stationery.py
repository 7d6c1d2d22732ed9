"""What the papers say of the firm, typed into the form: it becomes the project's own, and is read back the same."""

from streamlit.testing.v1 import AppTest

from planner.house import LogoFormat
from tests.ui.app import key, open_screen, session, shown, sound, started
from ui.gear import Gear, read_gear
from ui.session import Screen

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 2"><rect width="4" height="2"/></svg>'


def settings() -> AppTest:
    return sound(open_screen(started(), Screen.GEAR))


def used(app: AppTest) -> Gear:
    """The gear of the project once the settings typed in are put to use."""
    sound(app.run())
    assert not app.button(key="use_house").disabled
    sound(app.button(key="use_house").click().run())
    gear = read_gear(session(app).source)
    assert isinstance(gear, Gear)
    return gear


def test_what_is_typed_is_used_and_nothing_else_changes() -> None:
    app = settings()
    assert app.button(key="use_house").disabled
    app.text_input(key=key(app, "house_name")).set_value("Atelier Ærø")
    app.text_area(key=key(app, "house_address")).set_value("4 Mill Lane\n\n  Upper Town ")
    app.number_input(key=key(app, "house_valid_days")).set_value(14)
    app.toggle(key=key(app, "house_itemised")).set_value(False)
    app.text_area(key=key(app, "house_terms")).set_value("Half on order.\nHalf on handover.")
    before = read_gear(session(app).source)
    house = used(app).house
    assert (house.name, house.address) == ("Atelier Ærø", ("4 Mill Lane", "Upper Town"))
    assert (house.stationery.valid_days, house.stationery.itemised) == (14, False)
    assert house.stationery.terms == ("Half on order.", "Half on handover.")
    assert isinstance(before, Gear)
    assert (house.rates, house.stationery.logo) == (before.house.rates, before.house.stationery.logo)


def test_a_logo_is_taken_by_what_it_is_and_can_be_taken_away() -> None:
    app = settings()
    app.file_uploader(key=key(app, "house_logo")).set_value([("mark.png", SVG, "image/svg+xml")])
    logo = used(app).house.stationery.logo
    assert logo is not None
    assert (logo.file, logo.format, logo.content) == ("logo.svg", LogoFormat.SVG, SVG)
    app.checkbox(key=key(app, "house_no_logo")).set_value(True)
    assert used(app).house.stationery.logo is None


def test_a_picture_that_cannot_be_printed_is_told_and_the_old_one_stays() -> None:
    app = settings()
    app.file_uploader(key=key(app, "house_logo")).set_value([("logo.png", b"GIF89a", "image/png")])
    sound(app.run())
    assert "expected a PNG, JPEG or SVG picture" in shown(app)
    assert app.button(key="use_house").disabled


def test_a_line_too_long_and_a_firm_without_a_name_are_told_at_once() -> None:
    app = settings()
    app.text_input(key=key(app, "house_name")).set_value(" ")
    app.text_area(key=key(app, "house_terms")).set_value("x" * 201)
    sound(app.run())
    (table,) = [element.value for element in app.table if "Found" in element.value.columns]
    assert len(table) == 2
    assert app.button(key="use_house").disabled
