"""The gear's screen: the demo, a folder, uploaded files, and all that can be wrong with them."""

from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from planner.catalogue import read_catalogue, write_catalogue_xlsx
from tests.ui.app import DEMO, key, open_screen, session, shown, sound, started
from ui.session import Screen

FOLDER, FILES = "A folder or workbook on this machine", "Files kept with the project"


def gear(choice: str | None = None) -> AppTest:
    app = sound(open_screen(started(), Screen.GEAR))
    if choice is not None:
        app.radio(key=key(app, "gear_choice")).set_value(choice)
        sound(app.run())
    return app


def upload(app: AppTest, *files: tuple[str, bytes]) -> AppTest:
    app.file_uploader(key=key(app, "gear_files")).set_value([(name, content, "") for name, content in files])
    return sound(app.run())


def counts(app: AppTest) -> dict[str, int]:
    (table,) = [element.value for element in app.table if "Kind" in element.value.columns]
    return {row["Kind"]: int(row["Count"]) for row in table.to_dict("records")}


def faults(app: AppTest) -> list[str]:
    (table,) = [element.value for element in app.table if "Found" in element.value.columns]
    return [" ".join(row.values()).replace("\\", "") for row in table.to_dict("records")]


def test_the_demo_is_counted_by_kind_with_the_house_s_terms() -> None:
    app = gear()
    catalogue = read_catalogue(DEMO)
    found = counts(app)
    assert found["Processors and receivers"] == len(catalogue.processors)
    assert found["Leads"] == len(catalogue.leads)
    assert found["Prices"] == sum(len(offers) for offers in catalogue.offers.values())
    assert "invented" in shown(app)
    terms = "\n".join(str(element.value) for element in app.table)
    assert "Brindlemoor" in terms


def test_a_folder_of_one_s_own_is_read() -> None:
    app = gear(FOLDER)
    assert "the gear in use stays as it is" in shown(app)
    app.text_input(key=key(app, "gear_path")).set_value(str(DEMO))
    sound(app.run())
    assert counts(app)["Processors and receivers"] > 0


@pytest.mark.parametrize("path", ["/no/such/folder", "\x00", "a" * 5000, "~", "*", str(DEMO / "README.md")])
def test_a_path_that_leads_nowhere_is_told(path: str) -> None:
    app = gear(FOLDER)
    app.text_input(key=key(app, "gear_path")).set_value(path)
    sound(app.run())
    assert faults(app)
    assert "see the Gear screen" in shown(app)


def test_the_demo_s_files_uploaded_are_the_demo() -> None:
    files = [(path.name, path.read_bytes()) for path in DEMO.glob("*.csv")]
    app = upload(gear(FILES), *files)
    assert counts(app) == counts(gear())


def test_a_workbook_uploaded_is_the_demo(tmp_path: Path) -> None:
    path = tmp_path / "gear.xlsx"
    write_catalogue_xlsx(read_catalogue(DEMO), path)
    app = upload(gear(FILES), ("gear.xlsx", path.read_bytes()))
    assert counts(app) == counts(gear())


def test_every_fault_of_a_file_is_listed_and_the_answer_waits() -> None:
    broken = (DEMO / "leads.csv").read_text(encoding="utf-8").replace("xlr", "xlrr").encode()
    files = [(path.name, path.read_bytes()) for path in DEMO.glob("*.csv") if path.name != "leads.csv"]
    app = upload(gear(FILES), *files, ("leads.csv", broken))
    assert len(faults(app)) > 5
    assert all("leads.csv row" in fault for fault in faults(app)[:5])
    assert "There is something to mend first" in shown(sound(open_screen(app, Screen.OPTIONS)))


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("leads.csv", b""),
        ("leads.csv", b"\x00\xff" * 50),
        ("*odd* <b>.csv", b"a,b\n1,2\n"),
        ("gear.xlsx", b"PK\x03\x04 no workbook"),
        ("house.toml", b"[house"),
        ("gear.exe", b"MZ"),
        ("leads.csv", "sku;name\n1;ü\n".encode("latin-1")),
    ],
)
def test_no_file_breaks_the_form(name: str, content: bytes) -> None:
    app = upload(gear(FILES), (name, content))
    assert faults(app)
    assert session(app).draft.project.name


def test_the_same_file_twice_does_not_break_the_form() -> None:
    content = (DEMO / "leads.csv").read_bytes()
    assert faults(upload(gear(FILES), ("leads.csv", content), ("leads.csv", content)))
