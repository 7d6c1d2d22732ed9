"""The house settings' part on papers: logo, validity, itemising, terms."""

from pathlib import Path

import pytest

from planner.errors import BadInput
from planner.house import House, LogoFormat, Stationery
from planner.house_file import read_house, read_house_bytes, write_house

HOUSE = '[house]\nname = "Example Rooms"\ncurrency = "EUR"\nmargin_percent = 30\n'
# The signatures are those of ISO/IEC 15948 (PNG) and ISO/IEC 10918-1 (JPEG: start of image, then a marker).
PNG, JPEG = b"\x89PNG\r\n\x1a\n" + bytes(20), b"\xff\xd8\xff\xe0" + bytes(20)
SVG = b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>'


def house_with(papers: str, **files: bytes) -> House:
    return read_house_bytes(f"{HOUSE}[papers]\n{papers}".encode(), beside=lambda name: files[name.partition(".")[0]])


def message(papers: str, **files: bytes) -> str:
    with pytest.raises(BadInput) as raised:
        house_with(papers, **files)
    (fault,) = raised.value.faults
    return str(fault)


def test_without_the_table_a_quote_stands_for_thirty_days_and_is_itemised() -> None:
    assert read_house_bytes(HOUSE.encode()).stationery == Stationery(valid_days=30, itemised=True)


def test_every_setting_is_read() -> None:
    found = house_with(
        'logo = "mark.png"\nvalid_days = 14\nprices = "summarised"\nterms = ["Half on order.", "Half on handover."]',
        mark=PNG,
    ).stationery
    assert found.logo is not None
    assert (found.logo.file, found.logo.format, found.logo.content) == ("mark.png", LogoFormat.PNG, PNG)
    assert (found.valid_days, found.itemised) == (14, False)
    assert found.terms == ("Half on order.", "Half on handover.")


@pytest.mark.parametrize(("content", "kind"), [(PNG, LogoFormat.PNG), (JPEG, LogoFormat.JPEG), (SVG, LogoFormat.SVG)])
def test_what_a_logo_is_follows_from_its_content_not_its_name(content: bytes, kind: LogoFormat) -> None:
    logo = house_with('logo = "mark.dat"', mark=content).stationery.logo
    assert logo is not None
    assert logo.format is kind


@pytest.mark.parametrize(
    ("papers", "said"),
    [
        ("valid_days = 0", "papers.valid_days: found 0; expected a whole number of days from 1 to 3650"),
        ("valid_days = 2.5", "papers.valid_days: found 2.5; expected a whole number"),
        ('valid_days = "soon"', 'papers.valid_days: found "soon"; expected a whole number'),
        ('prices = "both"', 'papers.prices: found "both"; expected one of itemised, summarised'),
        ("prices = []", "papers.prices: found a list; expected one of itemised, summarised"),
        ('terms = "one"', 'papers.terms: found "one"; expected a list of lines'),
        ('logo = "none.png"', 'papers.logo: found "none.png"; expected a picture file beside the settings'),
        ('logo = ""', 'papers.logo: found ""; expected a line of text'),
        ('watermark = "x"', "papers.watermark: found an unknown key; expected one of logo, valid_days, prices, terms"),
    ],
)
def test_one_fault_one_message(papers: str, said: str) -> None:
    def nothing(name: str) -> bytes:
        raise FileNotFoundError(2, "No such file or directory")

    with pytest.raises(BadInput) as raised:
        read_house_bytes(f"{HOUSE}[papers]\n{papers}".encode(), beside=nothing)
    (fault,) = raised.value.faults
    assert str(fault).startswith(f"house.toml {said}")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"GIF89a" + bytes(20), "expected a PNG, JPEG or SVG picture"),
        (b"<html/>", "expected a PNG, JPEG or SVG picture"),
        (b'<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>', "expected a PNG, JPEG or SVG picture"),
        (PNG + bytes(2_000_000), "expected a picture of at most 2 MB"),
    ],
    ids=["another format", "another tree", "entities", "huge"],
)
def test_a_picture_that_will_not_do_is_told(content: bytes, said: str) -> None:
    assert said in message('logo = "mark.png"', mark=content)


def test_a_logo_lies_beside_the_settings_and_is_named_again_when_they_are_written(tmp_path: Path) -> None:
    (tmp_path / "mark.svg").write_bytes(SVG)
    (tmp_path / "house.toml").write_text(f'{HOUSE}[papers]\nlogo = "mark.svg"\nvalid_days = 7\n', encoding="utf-8")
    house = read_house(tmp_path)
    assert house.stationery.logo is not None
    (tmp_path / "house.toml").write_text(write_house(house), encoding="utf-8")
    assert read_house(tmp_path) == house
