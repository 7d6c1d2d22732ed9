"""A brief written and read again is the same brief, whatever is in it."""

import tomllib
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import get_args, get_type_hints

import pytest
from hypothesis import HealthCheck, given, settings

from planner.brief import parse_brief, read_brief, write_brief
from planner.brief.records import DEFAULT_MEASURES, Brief, Drive, Measure, Placement, Point
from tests.brief.example import SMALL, documented
from tests.brief.strategies import briefs


@given(briefs())
@settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_a_brief_survives_the_file(brief: Brief) -> None:
    text = write_brief(brief)
    assert parse_brief(text) == brief
    assert write_brief(parse_brief(text)) == text


@pytest.mark.parametrize("text", [SMALL, documented()])
def test_what_was_read_is_written_in_a_form_that_stays(text: str) -> None:
    written = write_brief(parse_brief(text))
    assert parse_brief(written) == parse_brief(text)
    assert write_brief(parse_brief(written)) == written


def test_the_file_is_toml_that_any_other_reader_can_take() -> None:
    plain = tomllib.loads(write_brief(parse_brief(documented())))
    assert plain["project"]["dated"] == date(2026, 3, 2)
    assert plain["limits"]["budget"] == "24000.00"
    assert plain["loudspeakers"][0]["channels"] == ["M+030", "M+000", "M-030"]
    assert plain["loudspeakers"][0]["positions"] == [[0.3, 0.9, 1.2], [], [0.3, 3.2, 1.2]]


def test_the_documented_brief_is_read_as_it_says() -> None:
    brief = parse_brief(documented())
    front, around = brief.loudspeakers
    assert front.placements == (
        Placement(channel="M+030", position=Point(0.3, 0.9, 1.2)),
        Placement(channel="M+000"),
        Placement(channel="M-030", position=Point(0.3, 3.2, 1.2)),
    )
    assert (front.candidates, front.target_spl_db) == (("LS-1",), None)
    assert [placement.channel for placement in around.placements] == [
        *("M+090", "M-090", "M+135", "M-135", "U+045", "U-045", "U+135", "U-135"),
    ]
    assert (around.candidates, around.target_spl_db) == ((), 102.0)
    assert (brief.subwoofers[0].least, brief.subwoofers[0].most) == (2, 4)
    assert brief.measures == (Measure.PRICE, Measure.INDEPENDENT_SUBWOOFERS, Measure.SUBWOOFERS_LOST)
    assert brief.limits.drives == frozenset(Drive)
    assert brief.limits.budget == Decimal("24000.00")
    assert brief.project.tax_percent == Decimal(21)


def test_the_documented_brief_shows_every_entry_of_every_record() -> None:
    def entry_names(kind: type) -> set[str]:
        found = set()
        hints = get_type_hints(kind)
        for entry in fields(kind):
            found.add(entry.name)
            for part in (hints[entry.name], *get_args(hints[entry.name])):
                if is_dataclass(part) and isinstance(part, type) and part is not Point:
                    found |= entry_names(part)
        return found

    # A placement is written as an element of two lists, `channels` and `positions`.
    expected = entry_names(Brief) - {"placements"}
    assert {name for name in expected if f"{name} =" not in documented() and f"[{name}]" not in documented()} == set()


def test_what_is_left_out_takes_the_defaults_of_the_records() -> None:
    brief = parse_brief(SMALL)
    assert brief.measures == DEFAULT_MEASURES
    assert brief.limits == type(brief.limits)()
    assert brief.room == type(brief.room)(length_m=5, width_m=4, height_m=2.5)
    assert brief.rack == type(brief.rack)(position=Point(4.8, 0.2, 0.5))
    assert (brief.subwoofers, brief.owned, brief.excluded, brief.later) == ((), (), (), ())
    assert "measures" not in write_brief(brief)


def test_a_file_of_another_editor_is_read(tmp_path: Path) -> None:
    file = tmp_path / "brief.toml"
    file.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())
    assert read_brief(file) == read_brief(str(file)) == parse_brief(SMALL)


def test_amounts_are_exact_however_they_are_written() -> None:
    for written in ("24000.1", '"24000.1"', "24_000.10"):
        brief = parse_brief(f"{SMALL}\n[limits]\nbudget = {written}\n")
        assert brief.limits.budget == Decimal("24000.1")
    assert parse_brief(f"{SMALL}\n[limits]\nbudget = 24000\n").limits.budget == 24000


def test_names_of_drives_and_measures_may_be_written_as_the_trade_does() -> None:
    brief = parse_brief(f'{SMALL}\n[limits]\ndrives = ["Daisy-chained", "DSP"]\n')
    assert brief.limits.drives == {Drive.DAISY_CHAINED, Drive.DSP}
