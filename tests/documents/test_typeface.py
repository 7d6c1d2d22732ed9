"""Names in other scripts are printed in letters that belong to them; what no typeface has is told, not lost."""

import io
from dataclasses import replace
from typing import Any

import pytest
from fontTools.ttLib import TTFont
from pypdf import PdfReader

from planner.documents.job import Job
from planner.documents.proposal import proposal
from planner.documents.typeface import HOUSE_FACE, font_folder, missing_letters, needed_faces
from planner.documents.typeset import TEMPLATES
from planner.errors import BadInput
from tests.documents.jobs import SMALL, demo_job
from tests.documents.pages import text_of

JAPANESE, ARABIC, HEBREW, GEORGIAN = "山田様", "أحمد", "דוד", "თბილისი"


def named(client: str, seat: str = "Chair") -> Job:
    job = demo_job(SMALL)
    seats = (replace(job.brief.seats[0], name=seat), *job.brief.seats[1:])
    return replace(job, brief=replace(job.brief, project=replace(job.brief.project, client=client), seats=seats))


def fonts_in(content: bytes) -> set[str]:
    """The names of the fonts that are embedded."""
    found = set()
    for page in PdfReader(io.BytesIO(content)).pages:
        resources: Any = page["/Resources"]
        for font in resources["/Font"].values():
            found.add(font.get_object()["/BaseFont"].partition("+")[2])
    return found


def test_a_name_is_set_and_drawn_in_the_letters_of_its_script() -> None:
    content = proposal(named(HEBREW, seat=JAPANESE))
    text = text_of(content)
    assert JAPANESE in text
    assert set(HEBREW) <= set(text)
    fonts = fonts_in(content)
    assert {"NotoSansJP", "NotoSansHebrew"} <= {name.partition("-")[0] for name in fonts}
    assert not any("Arabic" in name for name in fonts)


def test_each_script_takes_the_typeface_that_has_it_and_no_other() -> None:
    assert needed_faces(["Łódź, Ελλάδα, Москва"]) == (HOUSE_FACE,)
    for text, family in ((JAPANESE, "Noto Sans JP"), (ARABIC, "Noto Sans Arabic"), (HEBREW, "Noto Sans Hebrew")):
        assert [face.family for face in needed_faces([f"Seat {text}"], [text])] == [HOUSE_FACE.family, family]


def test_what_no_typeface_has_is_told_once_with_what_would_help() -> None:
    with pytest.raises(BadInput) as raised:
        proposal(named(GEORGIAN, seat=GEORGIAN))
    (fault,) = raised.value.faults
    assert "თ (U+10D7), ბ (U+10D1)" in str(fault)
    assert "Latin, Greek and Cyrillic, Japanese, Arabic, Hebrew" in str(fault)
    assert "pylopdf-fonts-ko (Korean)" in str(fault)


def test_a_drawn_name_of_two_scripts_is_told() -> None:
    mixed = f"{ARABIC} {HEBREW}"
    assert len(needed_faces([mixed])) == 3
    with pytest.raises(BadInput, match="mixes Arabic, Hebrew letters"):
        needed_faces([], [mixed])


def test_no_cut_is_thinner_than_regular() -> None:
    """A picture shows a font of variable weight as it stands. Weights: OpenType 1.9, OS/2, usWeightClass."""
    for path in font_folder(needed_faces([JAPANESE, ARABIC, HEBREW])).iterdir():
        with TTFont(path) as font:
            assert font["OS/2"].usWeightClass >= 400
            if "fvar" in font:
                assert {axis.defaultValue for axis in font["fvar"].axes if axis.axisTag == "wght"} == {400}


def test_the_house_s_own_typeface_has_every_letter_of_the_templates() -> None:
    for template in TEMPLATES.glob("*.typ"):
        assert missing_letters(template.read_text(encoding="utf-8")) == ()
