"""The generated markets are as large as they say, the same from one seed, sound, and not made of copies."""

from pathlib import Path
from statistics import correlation

import pytest

from planner.brief import read_brief
from planner.brief.against import brief_faults
from planner.catalogue import read_catalogue
from planner.catalogue.write import write_catalogue_csv
from tests.benchmarks.building import rooms, write_rooms
from tests.benchmarks.market import Stock, market
from tests.benchmarks.sizes import STOCKS, Size, case

SMALL = Stock(processors=40, dsp_units=20, amplifiers=80)


@pytest.mark.parametrize("size", [Size.S, Size.M, Size.L])
def test_a_size_is_what_the_issue_asks_for(size: Size) -> None:
    asked = case(size)
    assert brief_faults(asked.brief, asked.catalogue, asked.house) == ()
    subwoofers = sum(entry.most for entry in asked.brief.subwoofers)
    expected = {Size.S: (64, 7, 2), Size.M: (180, 11, 4), Size.L: (700, 15, 8)}[size]
    assert (asked.devices, asked.feeds - subwoofers, subwoofers) == expected


def test_the_large_sizes_too() -> None:
    assert [STOCKS[size].devices for size in (Size.XL, Size.XXL)] == [700, 5000]


def test_one_seed_gives_one_market_and_another_gives_another() -> None:
    assert market(SMALL, 1) == market(SMALL, 1)
    assert market(SMALL, 1) != market(SMALL, 2)


def test_prices_follow_what_is_offered_but_not_strictly() -> None:
    made = market(STOCKS[Size.L], 1)
    price = {sku: float(offers[0].price) for sku, offers in made.offers.items()}
    separate = [p for p in made.processors if p.sku.startswith("proc-")]
    strength = correlation([p.processed_outputs for p in separate], [price[p.sku] for p in separate])
    assert 0.7 < strength < 0.999
    cheaper_and_larger = [
        (one, other)
        for one in separate
        for other in separate
        if one.processed_outputs > other.processed_outputs and price[one.sku] < price[other.sku]
    ]
    assert cheaper_and_larger


def test_a_market_reads_back_from_files_without_a_fault(tmp_path: Path) -> None:
    made = market(SMALL, 1)
    write_catalogue_csv(made, tmp_path)
    assert read_catalogue(tmp_path) == made


def test_rooms_of_a_building_differ_and_read_back(tmp_path: Path) -> None:
    write_rooms(4, tmp_path)
    assert [read_brief(path) for path in sorted(tmp_path.iterdir())] == list(rooms(4))
    assert len({brief.room for brief in rooms(4)}) == 4
