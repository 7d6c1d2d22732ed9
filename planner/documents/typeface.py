"""The one typeface of the papers, Source Sans Pro, and which letters it has.

Nothing of the machine's own fonts is used, so that the same paper looks the same everywhere. A
letter that the typeface lacks would vanish from the page without a word; it is refused instead.
"""

import atexit
import shutil
import tempfile
import unicodedata
from collections.abc import Iterable
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from planner.errors import BadInput, Fault

FAMILY = "Source Sans Pro"
_WEIGHTS = ("Regular", "Semibold", "Bold")
_UNSEEN = frozenset({"Cc", "Cf", "Zs", "Zl", "Zp"})


@cache
def font_folder() -> Path:
    """A folder with the cuts in use and nothing else, for as long as the process lives.

    The package holds each cut in two formats; which of them a folder shows first is up to the
    machine, and would change the bytes of a paper.
    """
    folder = Path(tempfile.mkdtemp(prefix="planner-fonts-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    for weight in _WEIGHTS:
        shutil.copy(_cut(weight), folder)
    return folder


def refuse_missing_letters(texts: Iterable[str]) -> None:
    """Raises BadInput with a fault for each text with letters that the typeface has not, each letter told once."""
    told: set[str] = set()
    faults: list[Fault] = []
    for text in dict.fromkeys(texts):
        missing = [letter for letter in missing_letters(text) if letter not in told]
        if missing:
            told.update(missing)
            faults.append(_fault(text, missing))
    if faults:
        raise BadInput(tuple(faults))


def _fault(text: str, missing: Iterable[str]) -> Fault:
    return Fault(
        where="the papers",
        value=f'"{_shortened(text)}" with {", ".join(f"{letter} (U+{ord(letter):04X})" for letter in missing)}',
        expected=f"letters that the papers' typeface, {FAMILY}, has: Latin, Greek, Cyrillic and their signs",
        remedy="Write it in such letters where it stands: brief, catalogue or house settings.",
    )


def missing_letters(text: str) -> tuple[str, ...]:
    """The letters of a text that would not be seen in print, each once.

    >>> missing_letters("Łódź, Ærø"), missing_letters("日本")
    ((), ('日', '本'))
    """
    letters = dict.fromkeys(unicodedata.normalize("NFC", text))
    return tuple(each for each in letters if ord(each) not in _letters() and unicodedata.category(each) not in _UNSEEN)


@cache
def _letters() -> frozenset[int]:
    from fontTools.ttLib import TTFont

    with TTFont(_cut("Regular"), lazy=True) as font:
        return frozenset(font.getBestCmap())


def _cut(weight: str) -> Path:
    package = find_spec("font_source_sans_pro")
    assert package is not None
    assert package.origin is not None
    return Path(package.origin).parent / "files" / f"SourceSansPro-{weight}.ttf"


def _shortened(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:60]}…"
