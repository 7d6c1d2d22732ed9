"""An explanation as the papers take it: what the client reads, and sections of sentences for the office."""

from collections.abc import Iterator

from planner.comparison.words import Names
from planner.documents.why_told import NOTHING_ASKED, Told, WhyTold
from planner.explain.explanation import Explanation, WhyOption
from planner.explain.price_steps import Axis, Drives, PriceSteps, Staircase, open_steps
from planner.explain.robust_words import advice, band_words, flip_sentence, span_sentence
from planner.explain.sentences import (
    AXIS_TITLES,
    beyond_sentence,
    device_sentences,
    headlines,
    left_out_sentence,
    step_sentence,
)
from planner.explain.together_words import order_sentences, stages_sentences
from planner.words import capital


def why_told(found: Explanation, name_by_sku: Names) -> WhyTold:
    """Every sentence of an explained option but its comparisons, which the papers make of their own."""
    why, currency = found.why, found.result.currency
    if not isinstance(why, WhyOption):
        return NOTHING_ASKED
    sections = (
        Told(title=title, sentences=tuple(capital(sentence) for sentence in sentences))
        for title, sentences in _sections(why, currency, name_by_sku)
    )
    return WhyTold(
        one_more=tuple(headlines(why.steps, currency)),
        sections=tuple(each for each in sections if each.sentences),
        unsettled=found.unsettled,
    )


def one_more_told(steps: PriceSteps, currency: str) -> WhyTold:
    """What a little more of each thing would cost, and nothing else."""
    count = open_steps(steps)
    unsettled = (f"Time ran out before {count} of the price steps were settled.",) if count else ()
    return WhyTold(one_more=tuple(headlines(steps, currency)), unsettled=unsettled)


def _sections(why: WhyOption, currency: str, name_by_sku: Names) -> Iterator[tuple[str, Iterator[str]]]:
    for stairs in why.steps.staircases:
        if stairs.drives is Drives.ANY or stairs.axis in (Axis.CHANNELS, Axis.SUBWOOFERS):
            yield _title(stairs), (step_sentence(step, stairs, currency, name_by_sku) for step in stairs.steps)
    yield (
        f"Why the devices of option {why.option.id}",
        (sentence for device in why.devices for sentence in device_sentences(device, currency, name_by_sku)),
    )
    yield "Devices that no option uses, the nearest first", _left_out(why, currency, name_by_sku)
    yield "If rates and prices move", _movement(why, currency, name_by_sku)
    if why.stages is not None:
        yield "Now and later", stages_sentences(why.stages, currency, name_by_sku)
    if why.order is not None:
        yield "Several rooms in one order", order_sentences(why.order, currency, name_by_sku)


def _title(stairs: Staircase) -> str:
    every = ", every subwoofer on a processor output of its own" if stairs.drives is Drives.DEDICATED else ""
    return f"Price steps: {AXIS_TITLES[stairs.axis].lower()}{every}"


def _left_out(why: WhyOption, currency: str, name_by_sku: Names) -> Iterator[str]:
    yield from (left_out_sentence(device, currency, name_by_sku) for device in why.left_out.devices)
    yield beyond_sentence(why.left_out, currency)


def _movement(why: WhyOption, currency: str, name_by_sku: Names) -> Iterator[str]:
    yield from (f"{capital(band_words(band))}." for band in why.robust.bands)
    yield from advice(why.robust, currency)
    yield from (span_sentence(span, currency) for span in why.robust.spans)
    yield from (flip_sentence(flip, name_by_sku) for flip in why.robust.flips)
