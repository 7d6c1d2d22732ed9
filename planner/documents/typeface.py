"""The typefaces of the papers, and which letters they have.

Everything is set in Source Sans Pro; a letter that it lacks is taken from a typeface of the Noto
family that has it, so that a name is printed as its bearer writes it. Nothing of the machine's own
fonts is used, so that the same paper looks the same everywhere. A letter that none of them has
would vanish from the page without a word; it is refused instead.
"""

import atexit
import shutil
import tempfile
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from planner.errors import BadInput, Fault

_UNSEEN = frozenset({"Cc", "Cf", "Zs", "Zl", "Zp"})
_REGULAR = 400


@dataclass(frozen=True, slots=True)
class Face:
    """A typeface: its family, the scripts that it is for, and its files within an installed package."""

    family: str
    scripts: str
    package: str
    files: tuple[str, ...]

    @property
    def paths(self) -> tuple[Path, ...]:
        """Its files; none where the package is not installed."""
        package = find_spec(self.package)
        if package is None or package.origin is None:
            return ()
        return tuple(Path(package.origin).parent / file for file in self.files)

    @property
    def distribution(self) -> str:
        """What its package is called when it is installed."""
        return self.package.replace("_", "-")


HOUSE_FACE = Face(
    "Source Sans Pro",
    "Latin, Greek and Cyrillic",
    "font_source_sans_pro",
    tuple(f"files/SourceSansPro-{weight}.ttf" for weight in ("Regular", "Semibold", "Bold")),
)
_BESIDE = (
    Face("Noto Sans JP", "Japanese", "pylopdf_fonts_jp", ("NotoSansJP-Regular.otf",)),
    Face("Noto Sans Arabic", "Arabic", "pylopdf_fonts_ar", ("NotoSansArabic-Variable.ttf",)),
    Face("Noto Sans Hebrew", "Hebrew", "pylopdf_fonts_he", ("NotoSansHebrew-Variable.ttf",)),
)
_WHERE_INSTALLED = (
    Face("Noto Sans SC", "Simplified Chinese", "pylopdf_fonts_zh_cn", ("NotoSansSC-Regular.otf",)),
    Face("Noto Sans TC", "Traditional Chinese", "pylopdf_fonts_zh_tw", ("NotoSansTC-Regular.otf",)),
    Face("Noto Sans KR", "Korean", "pylopdf_fonts_ko", ("NotoSansKR-Regular.otf",)),
)
"""Too large to come with everything; used where somebody has installed them."""


def needed_faces(set_texts: Iterable[str], drawn_texts: Iterable[str] = ()) -> tuple[Face, ...]:
    """The typefaces for texts that are set on a page, and for those drawn in a picture, the house's own first.

    Raises BadInput with a fault for each text with letters that no typeface has, each letter told once, and
    for each drawn text that needs two typefaces beside the house's own: a picture takes one for each text.
    """
    found: list[Face] = []
    faults: list[Fault] = []
    told: set[str] = set()
    drawn = set(drawn_texts)
    for text in dict.fromkeys((*set_texts, *sorted(drawn))):
        letters = missing_letters(text)
        if not letters:
            continue
        faces = _faces_of(letters)
        lost = [letter for letter in letters if not any(ord(letter) in _letters(face) for face in faces)]
        if untold := [letter for letter in lost if letter not in told]:
            told.update(untold)
            faults.append(_lost_fault(text, untold))
        if text in drawn and len(faces) > 1 and not lost:
            faults.append(_mixed_fault(text, faces))
        found += faces
    if faults:
        raise BadInput(tuple(faults))
    return (HOUSE_FACE, *(face for face in _offered() if face in found))


def missing_letters(text: str) -> tuple[str, ...]:
    """The letters of a text that are not the house's own typeface's, each once.

    >>> missing_letters("Łódź, Ærø"), missing_letters("日本")
    ((), ('日', '本'))
    """
    if text.isascii() and text.isprintable():
        return ()
    letters = dict.fromkeys(unicodedata.normalize("NFC", text))
    house = _letters(HOUSE_FACE)
    return tuple(each for each in letters if ord(each) not in house and unicodedata.category(each) not in _UNSEEN)


@cache
def font_folder(faces: tuple[Face, ...]) -> Path:
    """A folder with these typefaces and nothing else, for as long as the process lives.

    The packages hold more cuts and formats; which of them a folder shows first is up to the
    machine, and would change the bytes of a paper.
    """
    folder = Path(tempfile.mkdtemp(prefix="planner-fonts-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    for face in faces:
        for path in face.paths:
            if face is HOUSE_FACE or not _put_as_regular(path, folder):
                shutil.copy(path, folder)
    return folder


def _faces_of(letters: Sequence[str]) -> tuple[Face, ...]:
    """The one typeface that has them all, else those that have some between them."""
    for face in _offered():
        if all(ord(letter) in _letters(face) for letter in letters):
            return (face,)
    return tuple(dict.fromkeys(face for letter in letters for face in _first_with(letter)))


def _first_with(letter: str) -> Iterator[Face]:
    yield from [face for face in _offered() if ord(letter) in _letters(face)][:1]


@cache
def _offered() -> tuple[Face, ...]:
    return tuple(face for face in (*_BESIDE, *_WHERE_INSTALLED) if face.paths)


@cache
def _letters(face: Face) -> frozenset[int]:
    from fontTools.ttLib import TTFont

    with TTFont(face.paths[0], lazy=True) as font:
        return frozenset(font.getBestCmap())


def _put_as_regular(path: Path, folder: Path) -> bool:
    """Puts a font of variable weight, that pictures would show at its thinnest, there as its regular cut."""
    from fontTools.ttLib import TTFont
    from fontTools.varLib.instancer import instantiateVariableFont

    with TTFont(path, recalcTimestamp=False) as font:
        place = {axis.axisTag: axis.defaultValue for axis in font["fvar"].axes} if "fvar" in font else {}
        if place.get("wght", _REGULAR) == _REGULAR:
            return False
        instantiateVariableFont(font, place | {"wght": _REGULAR}, inplace=True)
        font.save(folder / path.name)
        return True


def _lost_fault(text: str, lost: Iterable[str]) -> Fault:
    absent = [f"{face.distribution} ({face.scripts})" for face in _WHERE_INSTALLED if not face.paths]
    remedy = "Write it in such letters where it stands: brief, catalogue or house settings."
    if absent:
        remedy += f" Or install the Python package that has them: {', '.join(absent)}."
    return Fault(
        where="the papers",
        value=f'"{_shortened(text)}" with {", ".join(f"{letter} (U+{ord(letter):04X})" for letter in lost)}',
        expected=f"letters that the papers' typefaces have: {_scripts((HOUSE_FACE, *_offered()))}",
        remedy=remedy,
    )


def _mixed_fault(text: str, faces: Sequence[Face]) -> Fault:
    return Fault(
        where="the papers",
        value=f'"{_shortened(text)}", which mixes {_scripts(faces)} letters',
        expected=f"in a name that stands in a picture, letters of one script beside {HOUSE_FACE.scripts}",
        remedy="Write the name in one of them.",
    )


def _scripts(faces: Sequence[Face]) -> str:
    return ", ".join(face.scripts for face in faces)


def _shortened(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:60]}…"
