"""Plain text in columns."""

import unicodedata

from hypothesis import given
from hypothesis import strategies as st

from planner.tables.layout import WIDTH, Column, display_width, grid, paragraph, printable, wrapped

TEXT = st.text(max_size=60)


def test_widths_follow_the_unicode_east_asian_width_property() -> None:
    # Unicode Standard Annex 11: W and F take two columns; a combining mark takes none.
    assert unicodedata.east_asian_width("音") == "W"
    assert display_width("音響") == 4
    assert display_width("e\N{COMBINING ACUTE ACCENT}") == 1


@given(TEXT, st.integers(min_value=2, max_value=30))
def test_wrapping_keeps_every_letter_and_the_width(text: str, width: int) -> None:
    lines = wrapped(printable(text), width)
    assert all(display_width(line) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(printable(text).split())


def test_wrapping_breaks_at_blanks() -> None:
    assert wrapped("one two three", 7) == ["one two", "three"]


@given(st.lists(st.tuples(TEXT, TEXT), min_size=1, max_size=4))
def test_a_table_with_flexible_columns_fits_the_page(rows: list[tuple[str, str]]) -> None:
    lines = grid((Column("Item", flexible=True), Column("Supplier", flexible=True)), rows)
    assert all(display_width(line) <= WIDTH for line in lines)


def test_figures_stand_under_each_other() -> None:
    lines = grid((Column("Item"), Column("Sum", right=True)), (("a", "1.00"), ("b", "1,000.00")))
    assert lines[2].rindex("1.00") + 4 == lines[3].rindex("1,000.00") + 8


def test_no_text_can_steer_a_terminal() -> None:
    line = grid((Column("Item"),), (("\x1b[31mred\x07\u202e",),))[2]
    assert line.isprintable()


def test_an_indented_paragraph_fits_the_page() -> None:
    lines = paragraph("word " * 60, indent="    ", first="  - ")
    assert lines[0].startswith("  - word")
    assert all(line.startswith("    word") for line in lines[1:])
    assert max(map(len, lines)) <= WIDTH
