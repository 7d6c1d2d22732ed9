"""Which options stand side by side in the proposal, and what each buys and gives up, in the client's words.

Every sentence is made from the numbers that stand beside it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from planner.design import Measures
from planner.documents.typeset import NO_BREAK_SPACE
from planner.options import Option, Question, Result
from planner.tables.amounts import amount
from planner.words import counted, listed, subwoofer_count

MOST_COMPARED = 4
_LETTERS = "ABCDEFGH"

_ASKED_FIRST = (
    Question.CHEAPEST,
    Question.INDEPENDENT,
    Question.ONE_LOST,
    Question.OUTPUT_EACH,
    Question.NO_CONVERSION,
    Question.SPARE,
    *Question,
)


def compared_options(result: Result, chosen: Option) -> tuple[Option, ...]:
    """The chosen option and up to three others, cheapest first: what the shortlist asks for, then the next cheapest."""
    option_by_id = {option.id: option for option in result.options}
    answer_by_question = {answer.question: answer.option_id for answer in result.shortlist}
    wanted = [chosen.id, *(answer_by_question.get(question) for question in _ASKED_FIRST)]
    asked = [each for each in dict.fromkeys(wanted) if each is not None]
    ids = list(dict.fromkeys((*asked, *option_by_id)))
    shown = set(ids[: max(2, min(len(asked), MOST_COMPARED))])
    return tuple(option for option in result.options if option.id in shown)


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """One option in the comparison, under a letter: what it offers more than others shown, and what less."""

    letter: str
    option: Option
    gets: tuple[str, ...]
    gives_up: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Aspect:
    """One measure as a client understands it; less of `cost` is better."""

    cost: Callable[[Measures], float]
    says: Callable[[Option], str]
    shortly: Callable[[Measures], str]


def columns(options: Sequence[Option]) -> tuple[Column, ...]:
    """The options side by side, each against the best of those shown."""
    return tuple(
        Column(
            letter=_LETTERS[at],
            option=option,
            gets=tuple(_gets(option, options)),
            gives_up=tuple(_gives_up(option, options)),
        )
        for at, option in enumerate(options)
    )


def _independent(option: Option) -> str:
    of, alone = subwoofer_count(option), option.measures.independent_subs
    if not alone:
        return "No subwoofer can be set on its own."
    if alone == of:
        each = "The subwoofer has" if of == 1 else f"Each of the {of} subwoofers has"
        return f"{each} a level, delay and equalisation of its own, to even out the bass between the seats."
    return f"{alone} of {of} subwoofers can be set on {'its' if alone == 1 else 'their'} own."


def _lost(option: Option) -> str:
    of, lost = subwoofer_count(option), option.measures.subs_lost_worst
    if lost >= of > 1:
        return f"One faulty plug or box can silence all {of} subwoofers."
    return f"One faulty plug or box silences at most {counted(lost, 'subwoofer')} of {of}."


def _spread(option: Option) -> str:
    return f"The bass differs by {_tenths(option.measures)} dB from seat to seat, as predicted."


def _tenths(measures: Measures) -> str:
    """The predicted spread as far as it means anything."""
    return "" if measures.bass_spread_db is None else f"{measures.bass_spread_db:.1f}"


def _spare(option: Option) -> str:
    spare = option.measures.spare_outputs
    if not spare:
        return "No output is left for a loudspeaker to come."
    return f"{counted(spare, 'output')} {'is' if spare == 1 else 'are'} left for loudspeakers to come."


def _conversions(option: Option) -> str:
    count = option.measures.conversions
    if not count:
        return "No signal changes between balanced and unbalanced wiring, where hum most easily enters."
    return (
        f"{counted(count, 'connection')} {'joins' if count == 1 else 'join'} balanced to unbalanced gear, where hum"
        " most easily enters."
    )


_INDEPENDENT = _Aspect(lambda m: -m.independent_subs, _independent, lambda m: str(m.independent_subs))
_LOST = _Aspect(lambda m: m.subs_lost_worst, _lost, lambda m: str(m.subs_lost_worst))
_SPREAD = _Aspect(lambda m: float(_tenths(m) or 0), _spread, lambda m: f"{_tenths(m)} dB")
_SPARE = _Aspect(lambda m: -m.spare_outputs, _spare, lambda m: str(m.spare_outputs))
_CONVERSIONS = _Aspect(lambda m: m.conversions, _conversions, lambda m: str(m.conversions))


def _aspects(options: Sequence[Option]) -> tuple[_Aspect, ...]:
    """The measures in which the options shown differ."""
    bass = (_INDEPENDENT, _LOST) if any(subwoofer_count(option) for option in options) else ()
    if all(option.measures.bass_spread_db is not None for option in options):
        bass = (*bass, _SPREAD)
    return tuple(
        aspect
        for aspect in (*bass, _SPARE, _CONVERSIONS)
        if len({aspect.cost(option.measures) for option in options}) > 1
    )


def _gets(option: Option, options: Sequence[Option]) -> Iterator[str]:
    if len(options) > 1 and option.measures.price_minor == min(each.measures.price_minor for each in options):
        yield "The lowest price of these."
    for aspect in _aspects(options):
        if aspect.cost(option.measures) == min(aspect.cost(each.measures) for each in options):
            yield aspect.says(option)


def _gives_up(option: Option, options: Sequence[Option]) -> Iterator[str]:
    least = min(each.measures.price_minor for each in options)
    if option.measures.price_minor > least:
        over = amount(option.measures.price_minor - least, option.quote.currency)
        yield f"{over} more than {_LETTERS[0]}."
    for aspect in _aspects(options):
        best = min(aspect.cost(each.measures) for each in options)
        if aspect.cost(option.measures) > best:
            better = tuple(_LETTERS[at] for at, each in enumerate(options) if aspect.cost(each.measures) == best)
            figure = aspect.shortly(options[_LETTERS.index(better[0])].measures)
            yield f"{aspect.says(option)[:-1]} ({listed(better)}:{NO_BREAK_SPACE}{figure})."
