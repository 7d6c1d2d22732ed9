"""A logo, from the content of its file: what kind of picture it is, by what stands in it."""

from xml.etree import ElementTree

from planner.house import Logo, LogoFormat

LARGEST_LOGO_BYTES = 2_000_000

_PNG, _JPEG = b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff"
_SVG_ROOTS = ("svg", "{http://www.w3.org/2000/svg}svg")


class UnfitLogo(Exception):
    """A picture that cannot stand on the papers: what was expected, and how to mend it."""

    def __init__(self, expected: str, remedy: str) -> None:
        self.expected = expected
        self.remedy = remedy
        super().__init__(expected)


def logo_of(name: str, content: bytes) -> Logo:
    """The logo in the content of a file. Raises UnfitLogo."""
    if len(content) > LARGEST_LOGO_BYTES:
        raise UnfitLogo("a picture of at most 2 MB", "Save it smaller; the papers print it 4 cm wide at most.")
    return Logo(file=name, format=_format(content), content=content)


def _format(content: bytes) -> LogoFormat:
    if content.startswith(_PNG):
        return LogoFormat.PNG
    if content.startswith(_JPEG):
        return LogoFormat.JPEG
    if _is_svg(content):
        return LogoFormat.SVG
    raise UnfitLogo("a PNG, JPEG or SVG picture", "Save the logo as one of these.")


def _is_svg(content: bytes) -> bool:
    """A document type is refused: none is needed, and entities could make a small file a huge one."""
    if b"<!DOCTYPE" in content or b"<!ENTITY" in content:
        return False
    try:
        return ElementTree.fromstring(content).tag in _SVG_ROOTS
    except (ElementTree.ParseError, ValueError, LookupError):
        return False
