"""The words that people read: questions, drives, tasks, leads, and what one option buys."""

from collections.abc import Iterator, Mapping

from planner.brief.records import Drive, Measure, PhysicalLimit
from planner.channels import CHANNELS
from planner.design import LeadBuild, LeadMethod, LeadPart, UnitKind
from planner.house import Task
from planner.options import SAME_SPREAD_DB, Option, Question

QUESTION_WORDS: Mapping[Question, str] = {
    Question.CHEAPEST: "The cheapest",
    Question.OUTPUT_EACH: "Each subwoofer on a processor output of its own",
    Question.INDEPENDENT: "Every subwoofer set independently, by any drive",
    Question.ONE_LOST: "No single failure silences more than one subwoofer",
    Question.NO_CONVERSION: "No balanced-unbalanced conversion",
    Question.SPARE: "The spare outputs wanted",
    Question.LEAST_SPREAD: (
        "The least bass spread for the money: of these options the cheapest"
        f" within {SAME_SPREAD_DB:g} dB of the least predicted"
    ),
}

DRIVE_WORDS: Mapping[Drive, str] = {
    Drive.DEDICATED: "dedicated",
    Drive.DSP: "DSP",
    Drive.SPLIT: "split",
    Drive.DAISY_CHAINED: "daisy-chained",
}

MEASURE_WORDS: Mapping[Measure, str] = {
    Measure.PRICE: "price",
    Measure.INDEPENDENT_SUBWOOFERS: "subwoofers set independently",
    Measure.SPARE_OUTPUTS: "spare outputs",
    Measure.JOINTS: "joints and boxes",
    Measure.SUBWOOFERS_LOST: "subwoofers lost by one failure",
    Measure.CONVERSIONS: "conversions",
    Measure.EARTH_LOOPS: "earth loops",
    Measure.LEAST_MARGIN: "least level margin",
}

PHYSICAL_WORDS: Mapping[PhysicalLimit, str] = {
    PhysicalLimit.LEVEL: "full output within the tolerance",
    PhysicalLimit.TARGET: "targets reached",
    PhysicalLimit.CABLE: "cable loss",
    PhysicalLimit.LOAD: "least load of amplifiers",
    PhysicalLimit.DELAY: "range of delays",
}

TASK_WORDS: Mapping[Task, str] = {
    Task.PROCESSOR: "fit processor",
    Task.CARD: "fit card",
    Task.DSP: "fit DSP unit",
    Task.AMPLIFIER: "fit amplifier",
    Task.LOUDSPEAKER: "fit loudspeaker",
    Task.SUBWOOFER: "fit subwoofer",
    Task.LEAD: "run lead",
    Task.TERMINATION: "make up end",
}


def capital(text: str) -> str:
    """The text with its first letter in capitals and the others as they are.

    >>> capital("fit DSP unit")
    'Fit DSP unit'
    """
    return text[:1].upper() + text[1:]


def counted(count: int, noun: str) -> str:
    """A count with its noun in the right number.

    >>> counted(1, "subwoofer"), counted(0, "spare output")
    ('1 subwoofer', '0 spare outputs')
    """
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def listed(parts: tuple[str, ...]) -> str:
    """Parts joined as a sentence would join them.

    >>> listed(("price", "joints", "conversions"))
    'price, joints and conversions'
    """
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def drive_words(drives: Mapping[str, int]) -> str:
    """How the subwoofers are driven, most independent drive first.

    >>> drive_words({"daisy_chained": 3, "dedicated": 1})
    '1 dedicated, 3 daisy-chained'
    """
    used = (f"{drives[drive]} {DRIVE_WORDS[drive]}" for drive in Drive if drives.get(drive, 0))
    return ", ".join(used) or "no subwoofer"


def carried_words(label: str, way: int | None) -> str:
    """A channel with its plain words, and the way of a crossed loudspeaker.

    >>> carried_words("M+000", None), carried_words("M+030", 2)
    ('M+000 centre', 'M+030 left, way 2')
    """
    words = _WORDS_BY_LABEL.get(label, "")
    return f"{label}{' ' if words else ''}{words}{f', way {way}' if way is not None else ''}"


_WORDS_BY_LABEL = {channel.label: channel.words for channel in CHANNELS}


def lead_words(lead: LeadBuild) -> str:
    """What a connection is made of, in one line, from source to sink."""
    parts = " + ".join(_part_words(part) for part in lead.parts)
    match lead.method:
        case LeadMethod.DIRECT:
            return "plugged on directly"
        case LeadMethod.STOCKED | LeadMethod.ADAPTED:
            return f"{parts}, end b at the source" if lead.flipped else parts
        case LeadMethod.MADE_UP:
            return f"made up: {parts}"
        case LeadMethod.CUT:
            return f"cut: {parts} end {lead.cut_end}"


def _part_words(part: LeadPart) -> str:
    return part.sku if part.count == 1 else f"{part.count} x {part.sku}"


def offers_words(option: Option) -> str:
    """What an option offers, in the client's words."""
    measures = option.measures
    subwoofers = subwoofer_count(option)
    of_subwoofers = (
        _independent_words(measures.independent_subs, subwoofers),
        _lost_words(measures.subs_lost_worst),
    )
    return "; ".join(
        (
            *(of_subwoofers if subwoofers else ()),
            counted(measures.spare_outputs, "spare output"),
            counted(measures.conversions, "conversion"),
            *(() if measures.bass_spread_db is None else (spread_words(measures.bass_spread_db),)),
        )
    )


def spread_words(spread_db: float) -> str:
    """M9 in words.

    >>> spread_words(1.14)
    'predicted bass spread 1.14 dB'
    """
    return f"predicted bass spread {spread_db:.2f} dB"


def buys_words(option: Option, cheapest: Option) -> str:
    """What an option offers that the cheapest does not, and what it offers less of."""
    compared = tuple(_compared(option, cheapest))
    better = "; ".join(words for gain, words in compared if gain > 0)
    worse = "; ".join(words for gain, words in compared if gain < 0)
    if not compared:
        return "offers the same as the cheapest"
    if not better:
        return f"buys nothing more; gives {worse}"
    return f"buys {better}; but {worse}" if worse else f"buys {better}"


def _compared(option: Option, cheapest: Option) -> Iterator[tuple[int, str]]:
    """(gain, words) of each figure in which two options differ; a loss is a negative gain."""
    this, that = option.measures, cheapest.measures
    here, there = subwoofer_count(option), subwoofer_count(cheapest)
    lines = (
        (here - there, counted(here, "subwoofer"), there),
        (
            this.independent_subs - that.independent_subs,
            _independent_words(this.independent_subs, here),
            that.independent_subs,
        ),
        (this.spare_outputs - that.spare_outputs, counted(this.spare_outputs, "spare output"), that.spare_outputs),
        (that.subs_lost_worst - this.subs_lost_worst, _lost_words(this.subs_lost_worst), that.subs_lost_worst),
        (that.conversions - this.conversions, counted(this.conversions, "conversion"), that.conversions),
    )
    for gain, words, before in lines:
        if gain:
            yield gain, f"{words} instead of {before}"
    spread_db, before_db = this.bass_spread_db, that.bass_spread_db
    if spread_db is not None and before_db is not None and spread_db != before_db:
        yield (1 if spread_db < before_db else -1), f"{spread_words(spread_db)} instead of {before_db:.2f}"


def subwoofer_count(option: Option) -> int:
    """How many subwoofers the design has."""
    return sum(1 for unit in option.design.units if unit.kind is UnitKind.SUBWOOFER)


def _independent_words(independent: int, subwoofers: int) -> str:
    return f"{independent} of {counted(subwoofers, 'subwoofer')} set independently"


def _lost_words(lost: int) -> str:
    return f"one failure silences up to {counted(lost, 'subwoofer')}"
