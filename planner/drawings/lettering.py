"""How wide a text is, before anyone has chosen the font that shows it.

A picture in a page or a paper is shown with whatever sans-serif is there. So widths are those of
Helvetica in Adobe's Core 14 font metrics, with a little over: what is commonly put in its place
(Arial, Roboto, Source Sans) is as wide or narrower, and no text runs out of its box.
"""

import unicodedata
from functools import cache

FAMILY = "'Source Sans 3', 'Source Sans Pro', 'Helvetica Neue', Helvetica, Arial, 'Liberation Sans', Roboto, sans-serif"

ELLIPSIS = "…"

_ROOM = 1.05
_BOLD = 1.07
_WIDE_EM, _OTHER_EM = 1.0, 0.7
_DUST = 1e-6  # a box made as wide as its text must take it, whatever binary fractions add up to

# Thousandths of an em, from blank (U+0020) to tilde (U+007E).
_HELVETICA = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
)  # fmt: skip


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """The width to leave for a text of this size, in the unit of the size.

    >>> text_width("", 10.0), round(text_width("MM", 10.0), 2), text_width("É", 10.0) == text_width("E", 10.0)
    (0.0, 17.49, True)
    """
    return sum(map(_em, text)) * size * _ROOM * (_BOLD if bold else 1.0)


def shortened(text: str, size: float, width: float, *, bold: bool = False) -> str:
    """The text, or as much of its beginning as fits with an ellipsis.

    >>> shortened("Left", 10.0, 100.0), shortened("A name that goes on and on", 10.0, 60.0)
    ('Left', 'A name th…')
    """
    width += _DUST
    if text_width(text, size, bold=bold) <= width:
        return text
    kept = text
    while kept and text_width(kept + ELLIPSIS, size, bold=bold) > width:
        kept = kept[:-1]
    return kept.rstrip() + ELLIPSIS


@cache
def _em(character: str) -> float:
    base = unicodedata.normalize("NFD", character)[0]
    if " " <= base <= "~":
        return _HELVETICA[ord(base) - ord(" ")] / 1000
    if unicodedata.combining(base):
        return 0.0
    return _WIDE_EM if unicodedata.east_asian_width(base) in "WFA" else _OTHER_EM
