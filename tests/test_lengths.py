"""Lengths in metres, feet and inches. One foot is 0.3048 m exactly, by the agreement of 1959."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.lengths import feet_words, read_length_m


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("3.73", 3.73), ("3,73", 3.73), ("3.73 m", 3.73), ("245cm", 2.45), ("12 mm", 0.012),
        ("12'", 3.658),
        ("12' 3", 3.734), ("12' 3\"", 3.734), ("12'3.5\"", 3.747), ("12 ft 3 in", 3.734), ("12 feet", 3.658),
        ("12′ 3″", 3.734), ("12' 3''", 3.734), ("30\"", 0.762), ("30 in", 0.762), ("-1' 6\"", -0.457), ("0", 0.0),
    ],
)  # fmt: skip
def test_a_length_is_read_to_the_millimetre(text: str, metres: float) -> None:
    assert read_length_m(text) == metres


@pytest.mark.parametrize("text", ["", "long", "1.2.3", "5 yd", "12'' 3'", "nan", "1e3", "'", "٣"])
def test_what_is_no_length_is_none(text: str) -> None:
    assert read_length_m(text) is None


@given(st.integers(-50_000, 50_000))
def test_every_millimetre_comes_back_from_feet_and_inches(millimetres: int) -> None:
    assert read_length_m(feet_words(millimetres / 1000)) == millimetres / 1000
