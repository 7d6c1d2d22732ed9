"""What the answers say in words. Every sentence is made here, from the numbers of the record that it is given."""

from collections.abc import Iterator, Mapping

from planner.comparison.words import Names, change_words, more_or_less
from planner.explain.least import Answer, Settled
from planner.explain.left_out import LeftOut, LeftOutList
from planner.explain.mends import Mend
from planner.explain.price_steps import Axis, Drives, PriceSteps, Staircase, Step
from planner.explain.why_gear import Alternative, Bound, WhyDevice
from planner.tables.amounts import amount
from planner.words import QUESTION_WORDS, counted, listed

AXIS_WORDS: Mapping[Axis, str] = {
    Axis.CHANNELS: "loudspeaker channel",
    Axis.SUBWOOFERS: "subwoofer",
    Axis.INDEPENDENT: "subwoofer set independently",
    Axis.SPARE: "spare output",
}

AXIS_TITLES: Mapping[Axis, str] = {
    Axis.CHANNELS: "Loudspeaker channels",
    Axis.SUBWOOFERS: "Subwoofers",
    Axis.INDEPENDENT: "Subwoofers set independently",
    Axis.SPARE: "Spare outputs",
}


def open_words(answer: Answer, currency: str) -> str:
    """What is known of a least price that is not settled."""
    at_most = answer.at_most_minor
    if at_most is None:
        return "not settled in time"
    return f"at most {amount(at_most, currency)}, the least was not settled in time"


def nouns(axis: Axis, count: int) -> str:
    """So many of what a staircase counts."""
    if axis is Axis.INDEPENDENT:
        return f"{counted(count, 'subwoofer')} set independently"
    return counted(count, AXIS_WORDS[axis])


def step_sentence(step: Step, stairs: Staircase, currency: str, name_by_sku: Names) -> str:
    """One step: what it asks for, what that costs, and the gear that changes where the processor does."""
    what = f"{nouns(stairs.axis, step.count)}{_every_dedicated(stairs.drives)}"
    if step.note and step.change:
        what += f" ({step.note})"
    if step.answer.settled is Settled.NONE:
        return f"{what}: no valid design."
    price = step.answer.price_minor
    if price is None:
        return f"{what}: {open_words(step.answer, currency)}."
    words = f"{what}: {amount(price, currency)}"
    if step.over_today_minor:
        words += f", {more_or_less(step.over_today_minor, currency)} than the brief as it stands"
    if step.over_budget:
        words += ", over the budget"
    if step.gear is not None and step.gear.processor:
        words += f"; the processor changes, {change_words(step.gear, name_by_sku)}"
    return f"{words}."


def headlines(steps: PriceSteps, currency: str) -> Iterator[str]:
    """What one more of each thing costs, and what an output for each subwoofer costs, in the client's words."""
    today = steps.today.price_minor
    if today is None:
        return
    for stairs in steps.staircases:
        for step in stairs.steps:
            if stairs.drives is Drives.ANY and step.change == 1:
                words = {
                    Axis.CHANNELS: "One more loudspeaker channel",
                    Axis.SUBWOOFERS: "One more subwoofer",
                    Axis.INDEPENDENT: "One more subwoofer that is set on its own",
                    Axis.SPARE: "One more output kept spare",
                }[stairs.axis]
                yield from _one_more(words, step, today, currency)
            if stairs.drives is Drives.DEDICATED and stairs.axis is Axis.SUBWOOFERS and step.change == 0:
                yield from _output_each(step, currency)


def _one_more(words: str, step: Step, today_minor: int, currency: str) -> Iterator[str]:
    """Nothing where there is none, or nothing is known of it."""
    at_most = step.answer.at_most_minor
    if step.over_today_minor is not None:
        yield f"{words} costs {more_or_less(step.over_today_minor, currency)}."
    elif at_most is not None:
        yield f"{words} costs at most {more_or_less(at_most - today_minor, currency)}; not settled in time."


def _output_each(step: Step, currency: str) -> Iterator[str]:
    if step.answer.settled is Settled.NONE:
        yield "There is no valid design with every subwoofer on a processor output of its own."
    elif step.over_today_minor is not None:
        yield (
            f"Every subwoofer on a processor output of its own costs {more_or_less(step.over_today_minor, currency)}"
            " than sharing outputs where that is cheapest."
        )


def _every_dedicated(drives: Drives) -> str:
    return ", every subwoofer on a processor output of its own" if drives is Drives.DEDICATED else ""


def device_sentences(device: WhyDevice, currency: str, name_by_sku: Names) -> Iterator[str]:
    """Why one device: the brief wants it, or what the cheapest designs without it cost."""
    name = name_by_sku[device.sku]
    match device.bound:
        case Bound.NAMED:
            yield f"{name}: the brief names it."
        case Bound.USED:
            yield f"{name}: the client owns it, and the brief asks that it be used."
        case None:
            for number, alternative in enumerate(device.alternatives):
                yield _alternative_sentence(name, number, alternative, currency, name_by_sku)


def _alternative_sentence(name: str, number: int, found: Alternative, currency: str, name_by_sku: Names) -> str:
    start = f"Without {name}" if number == 0 else f"Without {name} and what takes its place above"
    if found.answer.settled is Settled.OPEN:
        return f"{start}: {open_words(found.answer, currency)}."
    if found.over_minor is None or found.gear is None:
        return f"{start}: no valid design offers as much."
    return f"{start}: {more_or_less(found.over_minor, currency)}; {change_words(found.gear, name_by_sku)}."


def left_out_sentence(found: LeftOut, currency: str, name_by_sku: Names) -> str:
    """How far a device is from entering, and from which question."""
    units = name_by_sku[found.sku] if found.count == 1 else f"{found.count} × {name_by_sku[found.sku]}"
    question = QUESTION_WORDS[found.question]
    words = f"{units}: the cheapest design with it costs {more_or_less(found.over_minor, currency)}"
    words += f" ({question[0].lower()}{question[1:]})"
    if found.cut_minor is None:
        return f"{words}; even for nothing it would not enter."
    return (
        f"{words}; it would enter if sold {amount(found.cut_minor, currency)} cheaper before tax,"
        f" at {amount(found.price_minor - found.cut_minor, currency)} instead of {amount(found.price_minor, currency)}."
    )


def beyond_sentence(found: LeftOutList, currency: str) -> str:
    """What is true of the devices that are not listed."""
    if not found.settled:
        return f"Time ran out before {counted(found.others, 'other device')} could be placed."
    if not found.others:
        return "There is no other device."
    if found.beyond_minor is None:
        return f"{counted(found.others, 'other device')} can be in no valid design that answers one of these questions."
    return f"Each of {counted(found.others, 'other device')} would add {amount(found.beyond_minor, currency)} or more."


def mend_sentence(mend: Mend, currency: str) -> str:
    """What to change, instead of what, and what it then costs."""
    words = f"{listed(mend.changes)}, instead of: {listed(mend.instead_of)}"
    if mend.answer.price_minor is None:
        return f"{words}: a design exists, {open_words(mend.answer, currency)}. Gives up {mend.sacrifice.words}."
    return f"{words}: {amount(mend.answer.price_minor, currency)}. Gives up {mend.sacrifice.words}."
