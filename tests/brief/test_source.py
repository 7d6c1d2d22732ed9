"""A file that is no brief at all gets one message; no text whatever gets past as another error."""

from pathlib import Path

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.brief import parse_brief, read_brief
from planner.errors import BadInput, Fault
from tests.brief.example import SMALL, documented


def only_message(path: Path) -> str:
    with pytest.raises(BadInput) as caught:
        read_brief(path)
    (fault,) = caught.value.faults
    assert str(path.parent) not in str(fault)
    return str(fault)


FILES = [
    (b"", "villa.toml: found an empty file; expected a brief. Begin with [project], [room] and [[seats]]."),
    (b" \n\t\n", "villa.toml: found an empty file; expected a brief. Begin with [project], [room] and [[seats]]."),
    (
        b"\x89PNG\r\n\x1a\n\x00",
        "villa.toml: found bytes that are not UTF-8 text (at byte 0); expected a text file. "
        "Save it as plain text, encoded as UTF-8.",
    ),
    (
        b"PK\x03\x04\x00\x00",
        "villa.toml: found bytes that are not text; expected a text file. Save it as plain text, encoded as UTF-8.",
    ),
    (
        'name = "Müller"'.encode("latin-1"),
        "villa.toml: found bytes that are not UTF-8 text (at byte 9); expected a text file. "
        "Save it as plain text, encoded as UTF-8.",
    ),
    (
        SMALL.encode("utf-16"),
        "villa.toml: found bytes that are not UTF-8 text (at byte 0); expected a text file. "
        "Save it as plain text, encoded as UTF-8.",
    ),
    (
        b"#" * 1_000_001,
        "villa.toml: found more than 1 MB; expected a brief, a few kilobytes of text. "
        "Check that this is the right file.",
    ),
    (
        b"[project]\nname = Villa\n",
        'villa.toml line 2: found "name = Villa"; expected a line of TOML. '
        "Mend this line or the one before it: invalid value.",
    ),
    (
        b'layout = "5.1"\n[project\n',
        'villa.toml line 2: found "[project"; expected a line of TOML. '
        "Mend this line or the one before it: expected ']' at the end of a table declaration.",
    ),
    (
        b"a = [1,\n",
        'villa.toml line 1: found "a = [1,"; expected a line of TOML. '
        "Mend this line or the one before it: invalid value.",
    ),
    (
        b"a = " + b"[" * 100_000,
        "villa.toml: found brackets nested too deeply; expected a TOML file. Remove the nested brackets.",
    ),
    (
        b"a = " + b"9" * 5_000,
        "villa.toml: found a number of thousands of digits; expected numbers of a sane size. Shorten it.",
    ),
]


@pytest.mark.parametrize(("content", "message"), FILES, ids=[message[:50] for _, message in FILES])
def test_a_file_that_is_no_brief_gets_one_message(tmp_path: Path, content: bytes, message: str) -> None:
    file = tmp_path / "villa.toml"
    file.write_bytes(content)
    assert only_message(file) == message


def test_a_missing_file_and_a_folder_get_one_message(tmp_path: Path) -> None:
    assert only_message(tmp_path / "none.toml") == (
        "none.toml: found no such file or directory; expected a readable file. Check the name and the folder."
    )
    assert "expected a readable file" in only_message(tmp_path)


def read_or_refused(text: str) -> None:
    """Reads a text; anything but a brief or BadInput ends the test as an error."""
    faults: tuple[Fault, ...] | None = None
    try:
        parse_brief(text)
    except BadInput as refusal:
        faults = refusal.faults
    assert faults is None or faults
    assert all("\n" not in str(fault) for fault in faults or ())


@given(st.text())
def test_any_text_is_read_or_refused(text: str) -> None:
    read_or_refused(text)


@given(st.data())
@settings(max_examples=150)
def test_a_mutilated_brief_is_read_or_refused(data: st.DataObject) -> None:
    text = documented()
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 40)))
    pieces = st.sampled_from(
        ['"', "[", "]", "[[", "=", "nan", "-inf", "1e999999999999999999999", "0x1F", "{", "}", "\n"]
    )
    read_or_refused(text[:start] + data.draw(pieces | st.text(max_size=5)) + text[end:])


KEYS = st.sampled_from(
    [
        *("layout", "measures", "excluded", "project", "room", "rack", "seats", "loudspeakers", "subwoofers", "limits"),
        *("owned", "later", "name", "dated", "currency", "tax_percent", "length_m", "width_m", "height_m", "position"),
        *(
            "units",
            "primary",
            "channels",
            "positions",
            "model",
            "candidates",
            "target_spl_db",
            "count",
            "least",
            "most",
        ),
        *("channel", "drives", "budget", "spare_outputs", "sku", "must_use", "subwoofers", "years"),
    ]
)
VALUES = st.recursive(
    st.booleans()
    | st.integers(-(2**63), 2**63)
    | st.floats()
    | st.dates()
    | st.times()
    | st.datetimes()
    | st.sampled_from(["L", "LFE", "5.1", "dsp", "price", "EUR", "1e5", "", "NaN", "sNaN"])
    | st.text(st.characters(codec="utf-8"), max_size=6),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=5),
    max_leaves=20,
)


@given(st.dictionaries(KEYS, VALUES, max_size=10))
@settings(max_examples=150)
def test_any_value_under_any_key_is_read_or_refused(content: dict[str, object]) -> None:
    read_or_refused(tomli_w.dumps(content))
