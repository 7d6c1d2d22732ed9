"""Loudspeaker layouts: the ten sound systems of ITU-R BS.2051-3, and the shorthands built on them.

Angles and permitted ranges: Recommendation ITU-R BS.2051-3 (05/2022), Tables 3 to 12, as the
EBU reference renderer also prints them. Azimuth is positive to the left. A range with equal
ends is a fixed angle. Where the tables give the low-frequency channel no position, its range
is the whole sphere and its angles are placeholders.

The name of a system counts upper + middle + bottom loudspeakers, bass left out. A shorthand
counts middle loudspeakers, bass channels and upper loudspeakers.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from planner.channels import is_bass, nominal_angles
from planner.errors import WrongUsage

Range = tuple[float, float]

BS2051 = "ITU-R BS.2051-3"
IAMF = "Alliance for Open Media, Immersive Audio Model and Formats 1.1, loudspeaker_layout"
COMMON_PRACTICE = "common practice, no published source; ranges borrowed from BS.2051 systems J and H"


@dataclass(frozen=True, kw_only=True, slots=True)
class LayoutChannel:
    """One channel of a layout: nominal direction, and the ranges it may be placed in, degrees."""

    label: str
    azimuth_deg: float
    elevation_deg: float
    azimuth_range: Range
    elevation_range: Range
    is_lfe: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """A layout: its name, what else it is called, its channels in order, and who says so."""

    name: str
    other_names: tuple[str, ...]
    channels: tuple[LayoutChannel, ...]
    source: str = BS2051

    @property
    def labels(self) -> tuple[str, ...]:
        """The channel labels, in order."""
        return tuple(channel.label for channel in self.channels)

    @property
    def title(self) -> str:
        """The name with the others in brackets, such as "4+7+0 (7.1.4, J)"."""
        return f"{self.name} ({', '.join(self.other_names)})" if self.other_names else self.name

    def channel(self, label: str) -> LayoutChannel | None:
        """The channel of this label, or None if the layout has no such channel."""
        return next((channel for channel in self.channels if channel.label == label), None)


_Channels = tuple[LayoutChannel, ...]


def _one(label: str, azimuth: Range | None = None, elevation: Range | None = None) -> _Channels:
    """One channel; a range that is not given is the nominal angle itself."""
    nominal = nominal_angles(label)
    return (
        LayoutChannel(
            label=label,
            azimuth_deg=nominal.azimuth_deg,
            elevation_deg=nominal.elevation_deg,
            azimuth_range=azimuth or (nominal.azimuth_deg, nominal.azimuth_deg),
            elevation_range=elevation or (nominal.elevation_deg, nominal.elevation_deg),
            is_lfe=is_bass(label),
        ),
    )


def _pair(left: str, azimuth: Range | None = None, elevation: Range | None = None) -> _Channels:
    """A left channel, and its mirror image on the right."""
    mirrored = (-azimuth[1], -azimuth[0]) if azimuth else None
    return (*_one(left, azimuth, elevation), *_one(left.replace("+", "-"), mirrored, elevation))


_ANY_AZIMUTH = (-180.0, 180.0)
_ANY_ELEVATION = (-90.0, 90.0)
_UPPER = (30.0, 55.0)
_UPPER_LOW = (30.0, 45.0)
_FLOOR = (-30.0, -15.0)

_CENTRE = _one("M+000")
_LFE = _one("LFE1", _ANY_AZIMUTH, _ANY_ELEVATION)
_FIXED_FRONT = (*_pair("M+030"), *_CENTRE, *_LFE)
_FRONT = (*_pair("M+030", (30, 45)), *_CENTRE, *_LFE)
_RAISED_SURROUNDS = _pair("M+110", (100, 120), (0, 15))
_SURROUNDS = _pair("M+110", (100, 120))
_SIDES_AND_REARS = (*_pair("M+090", (85, 110)), *_pair("M+135", (120, 150)))
_TOP_30 = _pair("U+030", (30, 45), _UPPER)
_TOP_110 = _pair("U+110", (100, 135), _UPPER)
_TOP_45 = _pair("U+045", (30, 45), _UPPER)
_TOP_135 = _pair("U+135", (100, 150), _UPPER)
_PLACED_LFE_1 = _one("LFE1", (30, 90), _FLOOR)
_PLACED_LFE_2 = _one("LFE2", (-90, -30), _FLOOR)

_SYSTEM_C = (*_FIXED_FRONT, *_RAISED_SURROUNDS, *_TOP_30)
_SYSTEM_D = (*_FIXED_FRONT, *_SURROUNDS, *_TOP_30, *_TOP_110)
_SYSTEM_F = (
    *_CENTRE,
    *_pair("M+030"),
    *_pair("U+045", (30, 45), _UPPER_LOW),
    *_pair("M+090", (60, 150)),
    *_pair("M+135", (60, 150)),
    *_one("UH+180", None, (45, 90)),
    *_PLACED_LFE_1,
    *_PLACED_LFE_2,
)
_SYSTEM_H = (
    *_pair("M+060", (45, 60), (0, 5)),
    *_one("M+000", None, (0, 5)),
    *_PLACED_LFE_1,
    *_pair("M+135", (110, 135), (0, 15)),
    *_pair("M+030", (22.5, 30), (0, 5)),
    *_one("M+180", None, (0, 15)),
    *_PLACED_LFE_2,
    *_pair("M+090", None, (0, 15)),
    *_pair("U+045", (45, 60), _UPPER_LOW),
    *_one("U+000", None, _UPPER_LOW),
    *_one("T+000", _ANY_AZIMUTH),  # overhead, so that its azimuth has no meaning
    *_pair("U+135", (110, 135), _UPPER_LOW),
    *_pair("U+090", None, _UPPER_LOW),
    *_one("U+180", None, _UPPER_LOW),
    *_one("B+000", None, _FLOOR),
    *_pair("B+045", (45, 60), _FLOOR),
)
_SYSTEM_I = (*_FRONT, *_SIDES_AND_REARS)
_SYSTEM_J = (*_SYSTEM_I, *_TOP_45, *_TOP_135)


def _of_system_h(labels: Iterable[str]) -> _Channels:
    return tuple(channel for label in labels for channel in _SYSTEM_H if channel.label == label)


_WIDES = _of_system_h(("M+060", "M-060"))
_TOP_90 = _of_system_h(("U+090", "U-090"))

# The subset of system H that IAMF calls 9.1.6.
_NINE_ONE_SIX = _of_system_h(
    (
        *("M+030", "M-030", "M+000", "LFE1", "M+060", "M-060", "M+090", "M-090", "M+135", "M-135"),
        *("U+045", "U-045", "U+090", "U-090", "U+135", "U-135"),
    )
)

LAYOUTS: tuple[Layout, ...] = (
    Layout(name="0+2+0", other_names=("2.0", "A"), channels=_pair("M+030")),
    Layout(name="0+5+0", other_names=("5.1", "B"), channels=(*_FIXED_FRONT, *_RAISED_SURROUNDS)),
    Layout(name="2+5+0", other_names=("5.1.2", "C"), channels=_SYSTEM_C),
    Layout(name="4+5+0", other_names=("5.1.4", "D"), channels=_SYSTEM_D),
    Layout(name="4+5+1", other_names=("E",), channels=(*_SYSTEM_D, *_one("B+000", None, _FLOOR))),
    Layout(name="3+7+0", other_names=("F",), channels=_SYSTEM_F),
    # BS.2051 puts the screen pair at the edges of the screen; the angles are the renderer's.
    Layout(name="4+9+0", other_names=("G",), channels=(*_SYSTEM_J, *_pair("M+SC", (5, 25)))),
    Layout(name="9+10+3", other_names=("22.2", "H"), channels=_SYSTEM_H),
    Layout(name="0+7+0", other_names=("7.1", "I"), channels=_SYSTEM_I),
    Layout(name="4+7+0", other_names=("7.1.4", "J"), channels=_SYSTEM_J),
    Layout(name="7.1.2", other_names=("2+7+0",), channels=(*_SYSTEM_I, *_TOP_45), source=IAMF),
    Layout(name="9.1.6", other_names=("6+9+0",), channels=_NINE_ONE_SIX, source=IAMF),
    Layout(name="2.1", other_names=(), channels=(*_pair("M+030"), *_LFE), source=COMMON_PRACTICE),
    Layout(name="7.1.6", other_names=(), channels=(*_SYSTEM_J, *_TOP_90), source=COMMON_PRACTICE),
    Layout(name="9.1", other_names=(), channels=(*_SYSTEM_I, *_WIDES), source=COMMON_PRACTICE),
    Layout(name="9.1.2", other_names=(), channels=(*_SYSTEM_I, *_WIDES, *_TOP_45), source=COMMON_PRACTICE),
    Layout(name="9.1.4", other_names=(), channels=(*_SYSTEM_J, *_WIDES), source=COMMON_PRACTICE),
)

_LAYOUT_BY_NAME = {name.casefold(): found for found in LAYOUTS for name in (found.name, *found.other_names)}


def find_layout(name: str) -> Layout | None:
    """The layout of this name, shorthand or system letter, in either case; None if unknown."""
    return _LAYOUT_BY_NAME.get(name.strip().casefold())


def layout(name: str) -> Layout:
    """The layout of this name, shorthand or system letter. Raises WrongUsage, with suggestions.

    >>> layout("7.1.4").title
    '4+7+0 (7.1.4, J)'
    """
    found = find_layout(name)
    if found is None:
        raise WrongUsage(f"there is no layout {name!r}; did you mean {' or '.join(nearest_layouts(name))}?")
    return found


def nearest_layouts(name: str) -> tuple[str, ...]:
    """Up to three layout names most like this text, the nearest first; never empty."""
    shorthands = [known for known in _LAYOUT_BY_NAME if len(known) > 1]
    return tuple(get_close_matches(name.strip().casefold(), shorthands, n=3, cutoff=0.5)) or ("5.1", "7.1", "7.1.4")
