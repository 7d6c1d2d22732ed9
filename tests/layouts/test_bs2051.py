"""The layouts against Recommendation ITU-R BS.2051-3 (05/2022).

Labels and angles: `tests/published/bs2051_layouts.csv`, whose source stands beside it. Ranges
and totals: Tables 1 and 3 to 12 of the Recommendation, typed here; those few that its tables
and the renderer's agree on but that are quoted from the renderer are marked.
"""

import csv
from pathlib import Path

import pytest

from planner.errors import WrongUsage
from planner.layouts import BS2051, LAYOUTS, Layout, find_layout, layout

PUBLISHED = Path(__file__).parent.parent / "published" / "bs2051_layouts.csv"
ANY = ((-180.0, 180.0), (-90.0, 90.0))

# System letter, name, shorthand, full-range loudspeakers, LFE channels: Table 1. Shorthands of
# A to D, I and J: AOM, Immersive Audio Model and Formats; 22.2 for H: from memory.
SYSTEMS = [
    ("A", "0+2+0", "2.0", 2, 0),
    ("B", "0+5+0", "5.1", 5, 1),
    ("C", "2+5+0", "5.1.2", 7, 1),
    ("D", "4+5+0", "5.1.4", 9, 1),
    ("E", "4+5+1", None, 10, 1),
    ("F", "3+7+0", None, 10, 2),
    ("G", "4+9+0", None, 13, 1),
    ("H", "9+10+3", "22.2", 22, 2),
    ("I", "0+7+0", "7.1", 7, 1),
    ("J", "4+7+0", "7.1.4", 11, 1),
]

# Systems, label, azimuth range, elevation range: Tables 3 to 12.
RANGES = [
    ("ABCDEF", "M+030", (30, 30), (0, 0)),
    ("BC", "M+110", (100, 120), (0, 15)),
    ("DE", "M+110", (100, 120), (0, 0)),
    ("CDE", "U+030", (30, 45), (30, 55)),
    ("DE", "U+110", (100, 135), (30, 55)),
    ("E", "B+000", (0, 0), (-30, -15)),
    ("GIJ", "M+030", (30, 45), (0, 0)),
    ("GIJ", "M+090", (85, 110), (0, 0)),
    ("GIJ", "M+135", (120, 150), (0, 0)),
    ("GJ", "U+045", (30, 45), (30, 55)),
    ("GJ", "U+135", (100, 150), (30, 55)),
    ("G", "M+SC", (5, 25), (0, 0)),  # the renderer's; the table says the edge of the screen
    ("F", "M+090", (60, 150), (0, 0)),
    ("F", "M+135", (60, 150), (0, 0)),
    ("F", "U+045", (30, 45), (30, 45)),
    ("F", "UH+180", (180, 180), (45, 90)),
    ("FH", "LFE1", (30, 90), (-30, -15)),
    ("FH", "LFE2", (-90, -30), (-30, -15)),
    ("BCDEGIJ", "LFE1", *ANY),  # no position
    ("H", "M+000", (0, 0), (0, 5)),  # quoted from the renderer
    ("H", "M+030", (22.5, 30), (0, 5)),
    ("H", "M+060", (45, 60), (0, 5)),
    ("H", "M+090", (90, 90), (0, 15)),
    ("H", "M+135", (110, 135), (0, 15)),
    ("H", "M+180", (180, 180), (0, 15)),  # quoted from the renderer
    ("H", "U+000", (0, 0), (30, 45)),  # quoted from the renderer
    ("H", "U+045", (45, 60), (30, 45)),
    ("H", "U+090", (90, 90), (30, 45)),  # quoted from the renderer
    ("H", "U+135", (110, 135), (30, 45)),
    ("H", "U+180", (180, 180), (30, 45)),
    ("H", "T+000", (-180, 180), (90, 90)),  # overhead: azimuth has no meaning there
    ("H", "B+000", (0, 0), (-30, -15)),
    ("H", "B+045", (45, 60), (-30, -15)),
]


def published_rows() -> list[tuple[str, str, float, float, bool]]:
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        return [
            (
                row["system"],
                row["label"],
                float(row["azimuth_deg"]),
                float(row["elevation_deg"]),
                row["is_lfe"] == "true",
            )
            for row in csv.DictReader(file)
        ]


def mirrored(label: str) -> str:
    return label.translate(str.maketrans("+-", "-+"))


def test_every_published_channel_is_there_in_order_and_no_other() -> None:
    ours = [
        (found.name, channel.label, channel.azimuth_deg, channel.elevation_deg, channel.is_lfe)
        for found in LAYOUTS
        if found.source == BS2051
        for channel in found.channels
    ]
    assert len(published_rows()) == 107
    assert ours == published_rows()


@pytest.mark.parametrize(("letter", "name", "shorthand", "full_range", "lfe"), SYSTEMS)
def test_totals_and_names_of_a_system(letter: str, name: str, shorthand: str | None, full_range: int, lfe: int) -> None:
    found = layout(name)
    assert layout(letter) is found
    if shorthand:
        assert layout(shorthand) is found
    assert sum(not channel.is_lfe for channel in found.channels) == full_range
    assert sum(channel.is_lfe for channel in found.channels) == lfe


@pytest.mark.parametrize(("letters", "label", "azimuth", "elevation"), RANGES)
def test_permitted_ranges(
    letters: str, label: str, azimuth: tuple[float, float], elevation: tuple[float, float]
) -> None:
    for letter in letters:
        channel = layout(letter).channel(label)
        assert channel is not None
        assert (channel.azimuth_range, channel.elevation_range) == (azimuth, elevation)


def test_no_other_channel_of_a_system_may_move() -> None:
    with_range = {(letter, label) for letters, label, _, _ in RANGES for letter in letters}
    for letter, *_ in SYSTEMS:
        for channel in layout(letter).channels:
            if not with_range & {(letter, channel.label), (letter, mirrored(channel.label))}:
                assert channel.azimuth_range == (channel.azimuth_deg, channel.azimuth_deg)
                assert channel.elevation_range == (channel.elevation_deg, channel.elevation_deg)


@pytest.mark.parametrize("found", LAYOUTS, ids=lambda found: found.name)
def test_left_and_right_mirror_one_another(found: Layout) -> None:
    for channel in found.channels:
        if channel.is_lfe or channel.azimuth_deg in (0, 180):
            continue
        twin = found.channel(mirrored(channel.label))
        assert twin is not None
        assert (twin.azimuth_deg, twin.elevation_deg) == (-channel.azimuth_deg, channel.elevation_deg)
        assert twin.azimuth_range == (-channel.azimuth_range[1], -channel.azimuth_range[0])
        assert twin.elevation_range == channel.elevation_range


@pytest.mark.parametrize("found", LAYOUTS, ids=lambda found: found.name)
def test_a_label_alone_gives_the_nominal_azimuth(found: Layout) -> None:
    for channel in found.channels:
        if channel.is_lfe or channel.label in ("M+SC", "M-SC"):
            continue
        sign = -1 if "-" in channel.label else 1
        assert channel.azimuth_deg == sign * int(channel.label[-3:])


@pytest.mark.parametrize("found", LAYOUTS, ids=lambda found: found.name)
def test_nominal_angles_lie_within_the_permitted_ranges(found: Layout) -> None:
    for channel in found.channels:
        assert channel.azimuth_range[0] <= channel.azimuth_deg <= channel.azimuth_range[1]
        assert channel.elevation_range[0] <= channel.elevation_deg <= channel.elevation_range[1]
        assert len({channel.label for channel in found.channels}) == len(found.channels)


# "5.1.4" counts middle loudspeakers, bass channels and upper loudspeakers: AOM, Immersive
# Audio Model and Formats, names of loudspeaker_layout; 2.1 and the 9.1 family: common
# practice, no published source.
@pytest.mark.parametrize(
    "shorthand",
    ["2.0", "2.1", "5.1", "5.1.2", "5.1.4", "7.1", "7.1.2", "7.1.4", "7.1.6", "9.1", "9.1.2", "9.1.4", "9.1.6"],
)
def test_a_shorthand_counts_the_layers(shorthand: str) -> None:
    middle, bass, upper = (*map(int, shorthand.split(".")), 0)[:3]
    labels = layout(shorthand).labels
    assert [sum(label.startswith(layer) for label in labels) for layer in ("M", "LFE", "U")] == [middle, bass, upper]
    assert len(labels) == middle + bass + upper


def test_nine_one_six_is_a_subset_of_system_h() -> None:
    # AOM, Immersive Audio Model and Formats 1.1: 9.1.6 is a subset of sound system H.
    assert set(layout("9.1.6").channels) < set(layout("H").channels)


def test_seven_one_two_is_seven_one_with_the_top_front_pair_of_seven_one_four() -> None:
    # AOM, Immersive Audio Model and Formats 1.1, loudspeaker_layout 6.
    assert layout("7.1.2").channels == (*layout("7.1").channels, *layout("7.1.4").channels[8:10])
    assert layout("7.1.2").labels[-2:] == ("U+045", "U-045")


def test_names_are_found_in_either_case_and_no_name_means_two_layouts() -> None:
    assert layout(" j ") is layout("J")
    names = [name.casefold() for found in LAYOUTS for name in (found.name, *found.other_names)]
    assert len(set(names)) == len(names)


def test_an_unknown_layout_gets_a_suggestion() -> None:
    assert find_layout("7.2.4") is None
    with pytest.raises(WrongUsage, match=r"no layout '7\.2\.4'; did you mean 7\.1\.4"):
        layout("7.2.4")
    with pytest.raises(WrongUsage, match=r"did you mean 5\.1"):
        layout("something else")
