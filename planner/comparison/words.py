"""A comparison in words: what is bought and given up, what changes, and what a price difference is made of.

Every sentence is made here, from the numbers of the record that it is given.
"""

from collections.abc import Mapping

from planner.comparison.compared import WITH_PLACES, Comparison, Difference, Figure
from planner.comparison.gear import GearChange, gear_words
from planner.comparison.price_split import Cause
from planner.tables.amounts import amount
from planner.words import counted, listed

Names = Mapping[str, str]

CAUSE_WORDS: Mapping[Cause, str] = {
    Cause.PROCESSOR: "processor and cards",
    Cause.DSP: "DSP units",
    Cause.AMPLIFIERS: "amplifiers",
    Cause.LOUDSPEAKERS: "loudspeakers",
    Cause.SUBWOOFERS: "subwoofers",
    Cause.SPLITTERS: "splitters",
    Cause.LEADS: "leads, with running and making them up",
}

FIGURE_WORDS: Mapping[Figure, str] = {
    Figure.SUBWOOFERS: "subwoofers",
    Figure.INDEPENDENT: "subwoofers set independently",
    Figure.GROUPS: "control groups",
    Figure.SPARE: "spare outputs",
    Figure.LOST: "subwoofers lost by one failure",
    Figure.CONVERSIONS: "balanced-unbalanced conversions",
    Figure.JOINTS: "joints and boxes on the way to the subwoofers",
    Figure.EARTH_LOOPS: "earth loops",
    Figure.MARGIN: "least level margin, dB",
    Figure.SPREAD: "predicted bass spread over the seats, dB",
}


def more_or_less(minor: int, currency: str) -> str:
    """A price difference in words.

    >>> more_or_less(-1250, "EUR"), more_or_less(0, "EUR")
    ('EUR 12.50 less', 'no more')
    """
    if not minor:
        return "no more"
    return f"{amount(abs(minor), currency)} {'more' if minor > 0 else 'less'}"


def change_words(change: GearChange, name_by_sku: Names) -> str:
    """What comes in and goes out."""
    parts = []
    if change.removed:
        parts.append(f"out: {gear_words(change.removed, name_by_sku)}")
    if change.added:
        parts.append(f"in: {gear_words(change.added, name_by_sku)}")
    return "; ".join(parts) or "the same gear"


def comparison_sentence(comparison: Comparison, currency: str, letter_by_id: Mapping[str, str] | None = None) -> str:
    """What the second option costs and buys, in the client's words; options by their letters, where they have any."""
    before, after = (
        option.id if letter_by_id is None else letter_by_id[option.id]
        for option in (comparison.before, comparison.after)
    )
    words = f"Option {after} costs {more_or_less(comparison.over_minor, currency)} than option {before}"
    told = [difference for difference in comparison.differences if _client_sees(difference)]
    gains = tuple(client_words(difference) for difference in told if difference.gain > 0)
    losses = tuple(client_words(difference) for difference in told if difference.gain < 0)
    if gains:
        words += f". It gives {listed(gains)}"
    if losses:
        words += f"{', but' if gains else '. It gives'} {listed(losses)}"
    if not gains and not losses:
        words += " and gives the client the same"
    return f"{words}."


_CLIENT = (
    Figure.SUBWOOFERS,
    Figure.INDEPENDENT,
    Figure.SPARE,
    Figure.LOST,
    Figure.CONVERSIONS,
    Figure.SPREAD,
)


def _client_sees(difference: Difference) -> bool:
    """Whether it means anything to a client, and can be told apart in the figures that a client is told."""
    if difference.figure is Figure.SPREAD:
        return f"{difference.after:.1f}" != f"{difference.before:.1f}"
    return difference.figure in _CLIENT


def client_words(difference: Difference) -> str:
    """One difference as a client would say it."""
    new, old = int(difference.after), int(difference.before)
    match difference.figure:
        case Figure.SUBWOOFERS:
            return f"{counted(new, 'subwoofer')} instead of {old}"
        case Figure.INDEPENDENT:
            return f"{_counted(new, 'subwoofer')} tuned on {'their' if new > 1 else 'its'} own instead of {old}"
        case Figure.SPARE:
            return f"{_counted(new, 'output')} free for later instead of {old}"
        case Figure.LOST:
            most = "at most" if difference.gain > 0 else "up to"
            return f"{most} {counted(new, 'subwoofer')} silent after one failure instead of {old}"
        case Figure.CONVERSIONS:
            places = _counted(new, "change")
            return f"{places} between balanced and unbalanced lines, where hum can get in, instead of {old}"
        case Figure.SPREAD:
            after, before = f"{difference.after:.1f}", f"{difference.before:.1f}"
            return f"bass that differs by {after} dB from seat to seat instead of {before} dB"
        case _:
            return difference_words(difference)


def _counted(count: int, noun: str) -> str:
    return counted(count, noun) if count else f"no {noun}"


def difference_words(difference: Difference) -> str:
    """One difference as the designer says it."""
    places = 1 if difference.figure in WITH_PLACES else 0
    return f"{FIGURE_WORDS[difference.figure]}: {difference.before:.{places}f} to {difference.after:.{places}f}"
