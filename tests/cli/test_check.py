"""`check`: an OK line for what is sound, one line for each fault, exit 1 on any."""

import shutil
from pathlib import Path

import pytest

from planner.cli import main

DEMO = Path(__file__).resolve().parents[2] / "catalogue_demo"


def checked(capsys: pytest.CaptureFixture[str], *paths: Path) -> tuple[int, list[str]]:
    status = main(["check", *map(str, paths)])
    out, err = capsys.readouterr()
    assert err == ""
    return status, out.splitlines()


def test_the_demo_is_sound(capsys: pytest.CaptureFixture[str]) -> None:
    status, lines = checked(capsys, DEMO, DEMO / "briefs")
    assert status == 0
    assert len(lines) == 2 + len(list((DEMO / "briefs").glob("*.toml")))
    assert all(": OK, " in line for line in lines)
    assert all(line.endswith("held against catalogue_demo") for line in lines[2:])


def test_a_brief_is_held_against_the_catalogue_that_it_lies_under(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(DEMO, tmp_path / "shop")
    brief = min((tmp_path / "shop" / "briefs").glob("*.toml"))
    with brief.open("a", encoding="utf-8") as file:
        file.write('\n[[owned]]\nsku = "never-sold"\n')
    status, lines = checked(capsys, brief)
    assert status == 1
    assert len(lines) == 1
    assert "owned[" in lines[0]
    assert "never-sold" in lines[0]


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("empty.toml", b""),
        ("binary.toml", bytes(range(256))),
        ("latin.toml", "name = 'Größe'".encode("latin-1")),
        ("empty.xlsx", b""),
        ("not_a_workbook.xlsx", b"name,price\n"),
        ("house.toml", b"\x00"),
    ],
)
def test_a_spoilt_file_gives_a_message_and_exit_1(
    name: str, content: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    status, lines = checked(capsys, path)
    assert status == 1
    assert lines
    assert all(name in line and line.isprintable() for line in lines)


@pytest.mark.parametrize("name", ["nowhere.toml", "nowhere.xlsx", "nowhere", "."])
def test_a_path_with_nothing_at_it_gives_one_message(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, lines = checked(capsys, tmp_path / name)
    assert status == 1
    assert len(lines) == 1


def test_sound_and_faulty_inputs_are_told_apart(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    faulty = tmp_path / "faulty.toml"
    faulty.touch()
    status, lines = checked(capsys, faulty, DEMO / "house.toml")
    assert status == 1
    assert lines[-1].startswith(f"{DEMO / 'house.toml'}: OK, house settings of ")
    assert not any("OK" in line for line in lines[:-1])


def test_each_spoilt_price_has_a_line_of_its_own(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "catalogue"
    shutil.copytree(DEMO, folder)
    prices = folder / "prices.csv"
    head, *rows = prices.read_text(encoding="utf-8").splitlines()
    column = head.split(",").index("price")
    for n in range(20):
        cells = rows[n].split(",")
        cells[column] = f"dear{n}"
        rows[n] = ",".join(cells)
    prices.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    status, lines = checked(capsys, folder)
    assert status == 1
    for n in range(20):
        assert sum(f'"dear{n}"' in line for line in lines) == 1
