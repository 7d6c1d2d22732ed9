"""Channel labels: the ITU-R BS.2051 label is the name, the trade's words are translated to it.

Labels and nominal angles are those of Recommendation ITU-R BS.2051-3 (05/2022), Tables 1 and
3 to 12. The low-frequency channels have no position in most systems; the angles that they
carry here are placeholders on the floor in front, as in the EBU reference renderer.

Trade names are common practice, no published source, other than the channel labels that
BS.2051 itself prints beside its own (Ls, Lss, Lrs, Ltf, TpFL, BtFL and the like).
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from planner.errors import WrongUsage


@dataclass(frozen=True, kw_only=True, slots=True)
class Angles:
    """A direction seen from the listener: azimuth positive to the left, elevation upwards."""

    azimuth_deg: float
    elevation_deg: float


@dataclass(frozen=True, slots=True)
class Channel:
    """One channel label, its plain words, and its nominal direction."""

    label: str
    words: str
    angles: Angles


def _pair(label: str, words: str, azimuth_deg: float, elevation_deg: float) -> Iterator[Channel]:
    """The left channel of a pair as described (`label` without its sign), and its mirror image."""
    layer, place = label[0], label[1:]
    left = Angles(azimuth_deg=azimuth_deg, elevation_deg=elevation_deg)
    right = Angles(azimuth_deg=-azimuth_deg, elevation_deg=elevation_deg)
    yield Channel(f"{layer}+{place}", f"{words} left".strip(), left)
    yield Channel(f"{layer}-{place}", f"{words} right".strip(), right)


def _single(label: str, words: str, azimuth_deg: float, elevation_deg: float) -> Channel:
    return Channel(label, words, Angles(azimuth_deg=azimuth_deg, elevation_deg=elevation_deg))


CHANNELS: tuple[Channel, ...] = (
    *_pair("M030", "", 30, 0),
    _single("M+000", "centre", 0, 0),
    *_pair("MSC", "screen", 15, 0),
    *_pair("M060", "wide", 60, 0),
    *_pair("M090", "side", 90, 0),
    *_pair("M110", "surround", 110, 0),
    *_pair("M135", "rear", 135, 0),
    _single("M+180", "rear centre", 180, 0),
    *_pair("U030", "top front", 30, 30),
    *_pair("U045", "top front", 45, 30),
    _single("U+000", "top front centre", 0, 30),
    *_pair("U090", "top middle", 90, 30),
    *_pair("U110", "top rear", 110, 30),
    *_pair("U135", "top rear", 135, 30),
    _single("U+180", "top rear centre", 180, 30),
    _single("UH+180", "high rear centre", 180, 45),
    _single("T+000", "overhead", 0, 90),
    *_pair("B045", "bottom front", 45, -30),
    _single("B+000", "bottom front centre", 0, -30),
    _single("LFE1", "bass", 45, -30),
    _single("LFE2", "second bass", -45, -30),
)

_DASHES = str.maketrans("\N{MINUS SIGN}\N{EN DASH}\N{NON-BREAKING HYPHEN}", "---")
_CHANNEL_BY_LABEL = {channel.label: channel for channel in CHANNELS}

# Trade names of one channel, then the labels that they can mean, the usual one first.
_Names = tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]

# Left channels: for the right one, the only capital L becomes R and the label's sign turns.
_LEFT_NAMES: _Names = (
    (("L", "FL"), ("M+030",)),
    (("Lc", "Lsc", "FLc"), ("M+SC",)),
    (("Lw", "WL", "FWL"), ("M+060",)),
    (("Ls",), ("M+110", "M+090")),
    (("SL",), ("M+090", "M+110")),
    (("Lss", "SiL"), ("M+090",)),
    (("Lrs", "Lsr", "Lb", "BL", "SBL"), ("M+135",)),
    (("Ltf", "TFL", "TpFL", "Lh", "Lfh", "FHL"), ("U+045", "U+030")),
    (("Ltm", "TML", "TpSiL"), ("U+090",)),
    (("Ltr", "Ltb", "TRL", "TBL", "TpBL", "Lrh", "RHL"), ("U+135", "U+110")),
    (("BtFL",), ("B+045",)),
)
_CENTRE_NAMES: _Names = (
    (("C", "FC"), ("M+000",)),
    (("Cs", "BC"), ("M+180",)),
    (("CH", "TFC", "TpFC"), ("U+000", "UH+180")),
    (("TBC", "TpBC"), ("U+180", "UH+180")),
    (("TC", "TpC", "VOG"), ("T+000",)),
    (("BtFC",), ("B+000",)),
    (("LFE", "SUB", "SW"), ("LFE1",)),
)

# System H (22.2) names its outer front pair FL and FR, and the pair at 30 degrees FLc and FRc.
_ONLY_IN_SYSTEM_H = "B+045"
_LEFT_NAMES_IN_SYSTEM_H: _Names = (
    (("L", "FL"), ("M+060",)),
    (("Lc", "FLc"), ("M+030",)),
)


def _both_sides(left_names: _Names) -> dict[str, tuple[str, ...]]:
    """The labels of every left name and of its mirror image, by name in lower case."""
    found = {}
    for names, labels in left_names:
        for name in names:
            found[name.casefold()] = labels
            found[name.replace("L", "R").casefold()] = tuple(label.replace("+", "-") for label in labels)
    return found


_LABELS_BY_NAME = {
    **{label.casefold(): (label,) for label in _CHANNEL_BY_LABEL},
    **_both_sides(_LEFT_NAMES),
    **{name.casefold(): labels for names, labels in _CENTRE_NAMES for name in names},
}
_LABELS_BY_NAME_IN_SYSTEM_H = _LABELS_BY_NAME | _both_sides(_LEFT_NAMES_IN_SYSTEM_H)


def canonical(text: str, among: Collection[str] = ()) -> str | None:
    """The BS.2051 label that a label or trade name stands for, or None if it is neither.

    Upper and lower case are the same, blanks around the text do not matter, and a true minus
    sign or a dash counts as a hyphen. `among` is the labels of the layout in use: a trade
    name that differs from layout to layout takes the meaning that the layout has.

    - Ls, SL: M+110 where the layout has it (5.1, 5.1.2, 5.1.4), M+090 where it has that (7.1
      and larger). Without a layout Ls is M+110 and SL is M+090.
    - Lss, SiL are always the side, M+090; Lrs, Lsr, Lb, BL, SBL always the rear, M+135.
    - Ltf and the other top front names: U+045, or U+030 in 5.1.2 and 5.1.4.
    - Ltr, Ltb and the other top rear names: U+135, or U+110 in 5.1.4.
    - CH: U+000, or UH+180 in 3+7+0. TpBC: U+180, or UH+180 there.
    - L, FL: M+030, but M+060 in 9+10+3 (22.2), where FLc is M+030; elsewhere Lc is M+SC.

    >>> canonical("ls"), canonical("Ls", among=("M+090", "M+135")), canonical("M+030")
    ('M+110', 'M+090', 'M+030')
    """
    names = _LABELS_BY_NAME_IN_SYSTEM_H if _ONLY_IN_SYSTEM_H in among else _LABELS_BY_NAME
    meanings = names.get(text.strip().casefold().translate(_DASHES), ())
    return next((label for label in meanings if label in among), meanings[0] if meanings else None)


def channel(label: str) -> Channel:
    """The channel of a canonical label. Raises WrongUsage for any other text."""
    try:
        return _CHANNEL_BY_LABEL[label]
    except KeyError:
        raise WrongUsage(f"{label!r} is not a channel label of ITU-R BS.2051; use one such as M+030 or LFE1") from None


def display_name(label: str) -> str:
    """The label with plain words beside it: "M+030 · left". Raises WrongUsage as `channel`."""
    return f"{label} · {channel(label).words}"


def is_bass(label: str) -> bool:
    """Whether the channel is a low-frequency one, which subwoofers play and loudspeakers do not."""
    return label in ("LFE1", "LFE2")


def nominal_angles(label: str) -> Angles:
    """The nominal direction of a canonical label. Raises WrongUsage as `channel`."""
    return channel(label).angles


def accepted_names() -> tuple[str, ...]:
    """Every label, and every trade name in lower case, that `canonical` accepts."""
    return (*_CHANNEL_BY_LABEL, *(name for name in _LABELS_BY_NAME if name.upper() not in _CHANNEL_BY_LABEL))
