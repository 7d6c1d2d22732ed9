"""The named questions that people ask of a trade-off set, answered from it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.brief.records import Brief, Drive, Measure
from planner.options import SAME_SPREAD_DB, Answer, Option, Question

Test = Callable[[Option], bool]


@dataclass(frozen=True, kw_only=True, slots=True)
class Known:
    """What the search established beside the options.

    `settled`: the whole set, in time. `output_each`: whether any design gives every subwoofer
    a processor output of its own, None where time ran out. Another drive may do as much for
    less, or for as much, and so keep such a design out of the set.
    """

    settled: bool
    output_each: bool | None


def shortlist(options: Sequence[Option], brief: Brief, known: Known) -> tuple[Answer, ...]:
    """An answer to every question: the cheapest option that fits, or why there is none.

    `options` are sorted by price.
    """
    return tuple(_answer(question, options, brief, known) for question in Question)


def has_output_each(option: Option) -> bool:
    """Whether every subwoofer is on a processor output of its own."""
    return option.drives.get(Drive.DEDICATED.value, 0) == subwoofers(option) > 0


def subwoofers(option: Option) -> int:
    """How many subwoofers the option has."""
    return sum(option.drives.values())


def _answer(question: Question, options: Sequence[Option], brief: Brief, known: Known) -> Answer:
    refusal = _not_asked(question, brief)
    if refusal:
        return Answer(question=question, option_id=None, reason=refusal)
    test = _test(question, brief, options)
    fitting = next((option for option in options if test(option)), None)
    if fitting is not None:
        return Answer(question=question, option_id=fitting.id, reason="")
    if question is Question.LEAST_SPREAD and options:
        return Answer(question=question, option_id=None, reason=_NO_SPREAD)
    return Answer(question=question, option_id=None, reason=_why_none(question, brief, known))


_NO_SPREAD = "No spread is predicted for this room and these seats; the findings of each option say why."


def _test(question: Question, brief: Brief, options: Sequence[Option]) -> Test:
    match question:
        case Question.CHEAPEST:
            return lambda option: True
        case Question.OUTPUT_EACH:
            return has_output_each
        case Question.INDEPENDENT:
            return lambda option: option.measures.independent_subs == subwoofers(option) > 0
        case Question.ONE_LOST:
            return lambda option: option.measures.subs_lost_worst <= 1
        case Question.NO_CONVERSION:
            return lambda option: option.measures.conversions == 0
        case Question.SPARE:
            return lambda option: option.measures.spare_outputs >= brief.limits.spare_outputs
        case Question.LEAST_SPREAD:
            return _hardly_more_than_the_least_spread(options)


def _hardly_more_than_the_least_spread(options: Sequence[Option]) -> Test:
    """Of the options found: the set is exact in its own measures, and is not searched for spread."""
    spreads_db = [option.measures.bass_spread_db for option in options if option.measures.bass_spread_db is not None]
    most_db = round(min(spreads_db, default=0.0) + SAME_SPREAD_DB, 2)
    return lambda option: option.measures.bass_spread_db is not None and option.measures.bass_spread_db <= most_db


_WEIGHED = {
    Question.INDEPENDENT: Measure.INDEPENDENT_SUBWOOFERS,
    Question.ONE_LOST: Measure.SUBWOOFERS_LOST,
    Question.NO_CONVERSION: Measure.CONVERSIONS,
}


def _not_asked(question: Question, brief: Brief) -> str:
    """Why a question has no meaning for this brief; empty where it has one."""
    about_bass = (Question.OUTPUT_EACH, Question.INDEPENDENT, Question.ONE_LOST, Question.LEAST_SPREAD)
    if question in about_bass and not any(s.most for s in brief.subwoofers):
        return "The brief has no subwoofers."
    if question is Question.SPARE and brief.limits.spare_outputs == 0:
        return "The brief asks for no spare outputs."
    measure = _WEIGHED.get(question)
    if measure is not None and measure not in brief.measures:
        return "The brief does not weigh this measure, so the set was not searched for it."
    return ""


def _why_none(question: Question, brief: Brief, known: Known) -> str:
    """Why no option fits; nothing is called impossible that time did not allow to settle."""
    if not known.settled or (question is Question.OUTPUT_EACH and known.output_each is None):
        return "Time ran out before this was settled."
    match question:
        case Question.OUTPUT_EACH if known.output_each:
            return "It can be done, but an option of the set is as good in every measure weighed and costs no more."
        case Question.OUTPUT_EACH:
            return "No valid design gives every subwoofer a processor output of its own."
        case Question.INDEPENDENT:
            return (
                "No valid design gives every subwoofer a control point of its own"
                f" with gain, delay, polarity and {brief.limits.filters_per_subwoofer} filters."
            )
        case Question.ONE_LOST:
            return "In every valid design some single failure silences more than one subwoofer."
        case Question.NO_CONVERSION:
            return "Every valid design joins a balanced to an unbalanced jack somewhere."
        case Question.CHEAPEST | Question.SPARE | Question.LEAST_SPREAD:
            return "There is no valid design."
