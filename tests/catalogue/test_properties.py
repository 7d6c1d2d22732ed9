"""Properties: the order of rows never matters, and no bytes whatever raise anything but BadInput."""

import random
from collections.abc import Callable
from io import BytesIO

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.catalogue import catalogue_csv_files, read_catalogue_bytes, write_catalogue_xlsx
from planner.errors import BadInput
from planner.house_file import read_house_bytes
from tests.catalogue.sample import SAMPLE, encoded, messages

SOUND = read_catalogue_bytes(encoded(SAMPLE))
SHEETS = st.sampled_from(sorted(SAMPLE))


def outcome(read: Callable[[], object]) -> object:
    """What was read, or the faults; any other error goes through."""
    try:
        return read()
    except BadInput as error:
        return error.faults


def shuffled(text: str, order: random.Random) -> str:
    header, *rows = text.splitlines()
    order.shuffle(rows)
    return "\n".join([header, *rows])


@given(st.randoms(use_true_random=False))
def test_shuffled_rows_read_the_same(order: random.Random) -> None:
    read = read_catalogue_bytes(encoded({name: shuffled(text, order) for name, text in SAMPLE.items()}))
    assert read == SOUND
    assert catalogue_csv_files(read) == catalogue_csv_files(SOUND)
    assert repr(read) == repr(SOUND)


@given(st.permutations(sorted(SAMPLE)))
def test_shuffled_files_read_the_same(names: list[str]) -> None:
    assert read_catalogue_bytes(encoded({name: SAMPLE[name] for name in names})) == SOUND


@given(name=SHEETS, content=st.binary(max_size=300))
def test_arbitrary_bytes_as_a_csv_file(name: str, content: bytes) -> None:
    for fault in messages({**encoded(SAMPLE), name: content}):
        assert fault.isprintable()


@given(name=SHEETS, text=st.text(max_size=300))
def test_arbitrary_text_as_a_csv_file(name: str, text: str) -> None:
    for fault in messages({**SAMPLE, name: text}):
        assert fault.isprintable()


@given(name=SHEETS, place=st.floats(0, 1, exclude_max=True), text=st.text(max_size=6) | st.sampled_from(",;\n\"'\0"))
def test_text_put_anywhere_into_a_sheet(name: str, place: float, text: str) -> None:
    sound = SAMPLE[name]
    cut = int(place * len(sound))
    for fault in messages({**SAMPLE, name: sound[:cut] + text + sound[cut:]}):
        assert ": found " in fault
        assert "; expected " in fault


_STREAM = BytesIO()
write_catalogue_xlsx(SOUND, _STREAM)
WORKBOOK = _STREAM.getvalue()


@settings(max_examples=30)
@given(place=st.floats(0, 1, exclude_max=True), content=st.binary(min_size=1, max_size=40))
def test_a_workbook_with_bytes_overwritten(place: float, content: bytes) -> None:
    cut = int(place * len(WORKBOOK))
    spoilt = WORKBOOK[:cut] + content + WORKBOOK[cut + len(content) :]
    assert outcome(lambda: read_catalogue_bytes({"gear.xlsx": spoilt}))


@given(st.binary(max_size=300))
def test_arbitrary_bytes_as_a_workbook_or_as_settings(content: bytes) -> None:
    assert outcome(lambda: read_catalogue_bytes({"gear.xlsx": b"PK\x03\x04" + content}))
    assert outcome(lambda: read_house_bytes(content))
