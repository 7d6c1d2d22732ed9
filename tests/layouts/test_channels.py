"""Channel labels and trade names.

The names that BS.2051-3 (05/2022), Tables 3 to 12, prints beside its labels are checked as
such. Other trade names are common practice, no published source.
"""

from collections.abc import Callable

import pytest

from planner.channels import CHANNELS, accepted_names, canonical, display_name, is_bass, nominal_angles
from planner.errors import WrongUsage
from planner.layouts import LAYOUTS, layout

# Layout, then the channel names and labels. System J: ITU-R BS.2051-3 Table 12; 5.1.4: the
# names of AOM, Immersive Audio Model and Formats, for system D; 22.2: SMPTE ST 2036-2 names,
# which BS.2051-3 Table 10 takes over (from memory).
PRINTED = [
    ("7.1.4", "L R C LFE Lss Rss Lrs Rrs", "M+030 M-030 M+000 LFE1 M+090 M-090 M+135 M-135"),
    ("7.1.4", "Ltf Rtf Ltb Rtb", "U+045 U-045 U+135 U-135"),
    ("5.1.4", "L R C LFE Ls Rs Ltf Rtf Ltr Rtr", "M+030 M-030 M+000 LFE1 M+110 M-110 U+030 U-030 U+110 U-110"),
    ("22.2", "FL FR FC LFE1 BL BR FLc FRc BC LFE2", "M+060 M-060 M+000 LFE1 M+135 M-135 M+030 M-030 M+180 LFE2"),
    ("22.2", "SiL SiR TpFL TpFR TpFC TpC TpBL TpBR", "M+090 M-090 U+045 U-045 U+000 T+000 U+135 U-135"),
    ("22.2", "TpSiL TpSiR TpBC BtFC BtFL BtFR", "U+090 U-090 U+180 B+000 B+045 B-045"),
]

# Common practice, no published source.
PRACTICE = [
    ("7.1", "Ls Rs SL SR Lb Rb", "M+090 M-090 M+090 M-090 M+135 M-135"),
    ("5.1", "Ls Rs SL SR", "M+110 M-110 M+110 M-110"),
    ("9.1.6", "L R Lw Rw Ltm Rtm Lsr Rsr", "M+030 M-030 M+060 M-060 U+090 U-090 M+135 M-135"),
    ("4+9+0", "Lc Rc Lsc Rsc", "M+SC M-SC M+SC M-SC"),
    ("3+7+0", "LH RH CH", "U+045 U-045 UH+180"),
]


@pytest.mark.parametrize(("name", "words", "labels"), PRINTED + PRACTICE)
def test_trade_names_in_their_layout(name: str, words: str, labels: str) -> None:
    among = layout(name).labels
    assert [canonical(word, among) for word in words.split()] == labels.split()
    assert [canonical(word.upper(), among) for word in words.split()] == labels.split()
    assert [canonical(word.lower(), among) for word in words.split()] == labels.split()


def test_a_trade_name_without_a_layout_takes_its_usual_meaning() -> None:
    words = "L R C LFE Ls Rs Lss Rss Lrs Rrs Cs Lw Rw Ltf Rtf Ltr Rtr"
    labels = "M+030 M-030 M+000 LFE1 M+110 M-110 M+090 M-090 M+135 M-135 M+180 M+060 M-060 U+045 U-045 U+135 U-135"
    assert [canonical(word) for word in words.split()] == labels.split()


def test_every_label_stands_for_itself_in_every_layout() -> None:
    for channel in CHANNELS:
        for among in ((), *(known.labels for known in LAYOUTS)):
            assert canonical(channel.label, among) == channel.label
            assert canonical(f" {channel.label.lower()} ", among) == channel.label


def test_dashes_count_as_a_hyphen() -> None:
    assert canonical("M\N{MINUS SIGN}030") == canonical("M\N{EN DASH}030") == "M-030"


@pytest.mark.parametrize("text", ["", "X", "M+031", "M030", "LFE3", "Left", "M-000", "T-000", "L R"])
def test_other_text_is_no_channel(text: str) -> None:
    assert canonical(text) is None


def test_every_accepted_name_is_accepted_and_gives_a_label() -> None:
    labels = {channel.label for channel in CHANNELS}
    assert {canonical(name) for name in accepted_names()} == labels
    assert len(set(accepted_names())) == len(accepted_names())


def test_every_left_name_has_its_right_name() -> None:
    for name in accepted_names():
        label = canonical(name)
        if label is None or label.casefold() == name.casefold() or "+" not in label or label[1:] in ("+000", "+180"):
            continue
        swapped = [f"{name[:at]}r{name[at + 1 :]}" for at, letter in enumerate(name) if letter == "l"]
        assert label.replace("+", "-") in [canonical(right) for right in swapped]


def test_bass_is_what_the_published_layouts_call_lfe() -> None:
    for found in LAYOUTS:
        for channel in found.channels:
            assert is_bass(channel.label) == channel.is_lfe == channel.label.startswith("LFE")


def test_display_names_are_words_and_differ() -> None:
    assert display_name("M+030") == "M+030 · left"
    assert display_name("M-135") == "M-135 · rear right"
    assert display_name("LFE1") == "LFE1 · bass"
    assert len({display_name(channel.label) for channel in CHANNELS}) == len(CHANNELS)


@pytest.mark.parametrize("ask", [display_name, nominal_angles])
def test_other_text_has_no_angles_and_no_words(ask: Callable[[str], object]) -> None:
    with pytest.raises(WrongUsage, match=r"'Ls' is not a channel label of ITU-R BS\.2051"):
        ask("Ls")
