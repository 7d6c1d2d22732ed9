"""A paper from a template and data: what people wrote goes in as data, never as markup."""

import atexit
import json
import shutil
import tempfile
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from functools import cache, lru_cache
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree

from planner.documents.typeface import Face, font_folder, needed_faces
from planner.errors import PlannerBug

if TYPE_CHECKING:
    import typst

TEMPLATES = Path(__file__).with_name("templates")

NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"
"""Between what must not stand on two lines."""

Data = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class FileBeside:
    """A file that data names: it stands beside the templates, under this name, while a paper is set."""

    name: str
    content: bytes


def typeset(template: str, data: Data, dated: date, pictures: Mapping[str, str] | None = None) -> bytes:
    """The PDF of a template in `templates`, filled with data, and with pictures given as SVG text.

    The same input gives the same bytes; the date within the file is that of the brief. Raises
    BadInput where no typeface has a letter, PlannerBug where the template does not take the data.
    """
    import typst  # late: only where a paper is written

    pictures = pictures or {}
    faces = needed_faces(texts_in(data), chain.from_iterable(map(_texts_of_picture, pictures.values())))
    root = _root(tuple(_files_in(data)))
    compiler = typst.Compiler(root / f"{template}.typ", root=root, font_paths=_fonts(faces), ignore_system_fonts=True)
    families = json.dumps([face.family for face in faces])
    given = {"families": families, "data": json.dumps(plain(data), ensure_ascii=False), **pictures}
    try:
        content, warnings = compiler.compile_with_warnings(
            format="pdf", sys_inputs=given, timestamp=datetime.combine(dated, time(12), tzinfo=UTC)
        )
    except typst.TypstError as error:
        raise PlannerBug(f"the template {template} cannot be set: {error.message}\n{error.diagnostic}") from None
    if warnings:
        raise PlannerBug(f"the template {template} sets with warnings: {'; '.join(each.message for each in warnings)}")
    assert isinstance(content, bytes)
    return content


@cache
def _fonts(faces: tuple[Face, ...]) -> "typst.Fonts":
    import typst

    folder = str(font_folder(faces))
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder])


@lru_cache(maxsize=4)
def _root(files: tuple[FileBeside, ...]) -> Path:
    """A folder with the templates and these files, for as long as the process lives."""
    folder = Path(tempfile.mkdtemp(prefix="planner-papers-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    for template in TEMPLATES.glob("*.typ"):
        shutil.copy(template, folder)
    for file in files:
        (folder / file.name).write_bytes(file.content)
    return folder


@lru_cache(maxsize=4)
def is_printable(picture: FileBeside) -> bool:
    """Whether a picture file can be set; what kind it is follows from its name."""
    import typst

    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False)
    source = f'#image("/{picture.name}")'.encode()
    compiler = typst.Compiler(source, root=_root((picture,)), font_paths=fonts, ignore_system_fonts=True)
    try:
        compiler.compile(format="pdf")
    except typst.TypstError:
        return False
    return True


def _files_in(data: object) -> Iterator[FileBeside]:
    match data:
        case FileBeside():
            yield data
        case Mapping():
            for value in data.values():
                yield from _files_in(value)


def _texts_of_picture(svg: str) -> Iterator[str]:
    return ElementTree.fromstring(svg).itertext()


def texts_in(data: object) -> Iterator[str]:
    """Every text within data, key names left out."""
    match data:
        case str():
            yield data
        case Mapping():
            for value in data.values():
                yield from texts_in(value)
        case list() | tuple():
            for value in data:
                yield from texts_in(value)


def plain(data: object) -> object:
    """The data with every text composed (NFC), so that an accent finds the letter that bears it."""
    match data:
        case str():
            return unicodedata.normalize("NFC", data)
        case FileBeside(name=name):
            return name
        case Mapping():
            return {key: plain(value) for key, value in data.items()}
        case list() | tuple():
            return [plain(value) for value in data]
    return data
