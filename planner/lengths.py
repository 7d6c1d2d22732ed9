"""Lengths as people write them: metres, centimetres, or feet and inches.

A foot is 0.3048 m and an inch 25.4 mm, exactly (international yard and pound agreement of 1959).
Lengths are told to a hundredth of an inch, which gives the millimetre back when it is read.
"""

import math
import re
from enum import StrEnum

METRES_PER_FOOT = 0.3048
METRES_PER_INCH = 0.0254


class LengthStyle(StrEnum):
    """How lengths are written."""

    METRES = "metres"
    FEET = "feet and inches"


_NUMBER = r"([0-9]+(?:[.,][0-9]+)?)"
_METRIC = re.compile(rf"(-?){_NUMBER}\s*(mm|cm|m)?", re.ASCII)
_FEET = re.compile(
    rf"(-?){_NUMBER}\s*(?:ft|feet|foot|['′’])\s*(?:{_NUMBER}\s*(?:in|inches|inch|[\"″”]|'')?)?", re.ASCII
)
_INCHES = re.compile(rf"(-?){_NUMBER}\s*(?:in|inches|inch|[\"″”]|'')", re.ASCII)
_METRES_PER = {"mm": 0.001, "cm": 0.01, "m": 1.0, None: 1.0}


def read_length_m(text: str) -> float | None:
    """The length in a text, metres, to the millimetre; a figure alone counts as metres. None where it is none.

    >>> read_length_m("12' 3\\""), read_length_m("12 ft 3 in"), read_length_m("3,73 m"), read_length_m("245 cm")
    (3.734, 3.734, 3.73, 2.45)
    """
    plain = text.strip().lower()
    if found := _METRIC.fullmatch(plain):
        metres = _figure(found[2]) * _METRES_PER[found[3]]
    elif found := _FEET.fullmatch(plain):
        metres = _figure(found[2]) * METRES_PER_FOOT + (_figure(found[3]) if found[3] else 0.0) * METRES_PER_INCH
    elif found := _INCHES.fullmatch(plain):
        metres = _figure(found[2]) * METRES_PER_INCH
    else:
        return None
    return round(-metres if found[1] else metres, 3)


def feet_words(metres: float) -> str:
    """A length in feet and inches; empty where it is no number.

    >>> feet_words(3.734), feet_words(0.4), feet_words(3.6576)
    ('12\\' 3.01"', '1\\' 3.75"', '12\\' 0"')
    """
    if not math.isfinite(metres):
        return ""
    feet, hundredths = divmod(round(abs(metres) / METRES_PER_INCH * 100), 1200)
    return f"{'-' if metres < 0 else ''}{feet}' {hundredths / 100:g}\""


def _figure(text: str) -> float:
    return float(text.replace(",", "."))
