"""Every entry of a brief's file has words on the screen, and a fault is placed by them."""

import tomllib

import pytest

from planner.errors import Fault
from tests.brief.example import documented
from ui.widgets.labels import LABELS, SECTIONS, place_words


def test_every_entry_of_the_documented_brief_has_a_label() -> None:
    for section, entries in tomllib.loads(documented()).items():
        assert section in SECTIONS
        tables = entries if isinstance(entries, list) else [entries]
        names = {name for table in tables if isinstance(table, dict) for name in table}
        for name in names:
            assert f"{section}.{name}" in LABELS


@pytest.mark.parametrize(
    ("where", "words"),
    [
        ("brief.toml room.length_m", "Room: Length, m"),
        ("brief.toml seats[1].position", "Seats 2: x, y, z"),
        ("brief.toml loudspeakers[0].channels[2]", "Loudspeakers, set 1: Channel 3"),
        ("brief.toml excluded[0]", "Gear to leave out 1"),
        ("brief.toml layout", "Layout"),
        ("brief.toml line 3", "brief.toml line 3"),
        ("prices.csv row 7, column price", "prices.csv row 7, column price"),
    ],
)
def test_a_place_in_the_file_is_told_as_the_screen_names_it(where: str, words: str) -> None:
    fault = Fault(where=where, value="", expected="", remedy="")
    assert place_words(fault.where) == words
