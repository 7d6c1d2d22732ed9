"""What every picture of the bass says: of what, and that it is a prediction."""

from planner.bass.study import BassStudy, ComparedWay

CAUTION = (
    "Predicted for an idealised rectangular room. Starting points, to be confirmed by measurement in the finished room."
)
BEFORE = "One signal to all, nothing set"


def after_words(study: BassStudy, way: ComparedWay) -> str:
    """What the settings of a way of control are called above a picture."""
    groups = len(way.way.best.groups)
    if groups == sum(len(group) for group in way.way.best.grouping):
        return "Each subwoofer on an output of its own, set"
    return f"{groups} outputs, set"


def band_words(low_hz: float, high_hz: float) -> str:
    """A band, or a single frequency.

    >>> band_words(20.0, 80.0), band_words(40.0, 40.0)
    ('20 to 80 Hz', '40 Hz')
    """
    return f"{low_hz:g} Hz" if low_hz == high_hz else f"{low_hz:g} to {high_hz:g} Hz"
