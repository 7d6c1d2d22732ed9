"""The named questions: each names the cheapest option that fits, or says truly why there is none."""

from dataclasses import replace

import pytest

from planner.brief.records import Brief, Drive, Measure
from planner.catalogue.records import PortRole
from planner.design import Design, Measures
from planner.options import Option, Question, Quote
from planner.plan import options
from planner.shortlist import Known, shortlist
from tests.demand.shop import HOUSE, XLR, XLR_PINS, XLR_SOCKET, Shop, brief, ins, limits, outs, speakers, subs
from tests.plan.systems import PRICE_ONLY, shop

NO_SPREAD = "No spread is predicted for this room and these seats; the findings of each option say why."
SETTLED = Known(settled=True, output_each=False)
TWO_SUBS = brief(subs("S", 3.0, 4.0), limits=limits(spare_outputs=1, filters_per_subwoofer=8))


def option(
    number: int,
    *,
    independent: int = 0,
    lost: int = 2,
    conversions: int = 2,
    spare: int = 1,
    spread_db: float | None = None,
    **drives: int,
) -> Option:
    """An option of which only measures and drives matter; numbered as they are, cheapest first."""
    measures = Measures(
        price_minor=1000 * number, independent_subs=independent, control_groups=1, spare_outputs=spare,
        joints=4, subs_lost_worst=lost, conversions=conversions, bass_spread_db=spread_db,
    )  # fmt: skip
    quote = Quote(
        currency="EUR", gear_minor=1000 * number, labour_minor=0, subtotal_minor=1000 * number, tax_minor=0,
        total_minor=1000 * number,
    )  # fmt: skip
    nothing = Design(units=(), connections=(), routes=(), purchases=(), labour=(), currency="EUR")
    return Option(
        id=str(number), design=nothing, measures=measures, quote=quote, ledger=(), findings=(), proven=True,
        drives=drives or {Drive.SPLIT.value: 2},
    )  # fmt: skip


def answers(*options: Option, asked: Brief = TWO_SUBS, known: Known = SETTLED) -> dict[Question, str]:
    """The option's id of every answer, or the reason."""
    found = shortlist(options, asked, known)
    assert [answer.question for answer in found] == list(Question)
    assert all((answer.option_id is None) == bool(answer.reason) for answer in found)
    return {answer.question: answer.option_id or answer.reason for answer in found}


def test_every_question_names_the_cheapest_option_that_fits() -> None:
    found = answers(
        option(1),
        option(2, conversions=0),
        option(3, lost=1, dsp=2),
        option(4, lost=1, independent=2, dsp=2),
        option(5, lost=1, independent=2, dedicated=2),
        option(6, lost=1, independent=2, conversions=0, dedicated=2),
    )
    assert found == {
        Question.CHEAPEST: "1",
        Question.OUTPUT_EACH: "5",
        Question.INDEPENDENT: "4",
        Question.ONE_LOST: "3",
        Question.NO_CONVERSION: "2",
        Question.SPARE: "1",
        Question.LEAST_SPREAD: NO_SPREAD,
    }


def test_the_least_spread_for_the_money_is_the_cheapest_of_those_that_are_as_good() -> None:
    dear = option(9, spread_db=1.0)
    assert answers(option(1, spread_db=3.0), option(2, spread_db=1.25), dear)[Question.LEAST_SPREAD] == "2"
    assert answers(option(1, spread_db=3.0), option(2, spread_db=1.26), dear)[Question.LEAST_SPREAD] == "9"
    assert answers(option(1), option(2, spread_db=4.0))[Question.LEAST_SPREAD] == "2"
    assert answers(option(1), option(2))[Question.LEAST_SPREAD] == NO_SPREAD


def test_outputs_of_their_own_are_for_all_subwoofers_of_an_option() -> None:
    assert answers(option(1, dedicated=1, daisy_chained=1))[Question.OUTPUT_EACH].startswith("No valid design")
    assert answers(option(1, dedicated=1))[Question.OUTPUT_EACH] == "1"  # an option with one subwoofer


def test_an_option_without_subwoofers_controls_none_of_them() -> None:
    found = answers(option(1, lost=0, conversions=0, dedicated=0))
    assert found[Question.OUTPUT_EACH].startswith("No valid design")
    assert found[Question.INDEPENDENT].startswith("No valid design")
    assert found[Question.ONE_LOST] == "1"


@pytest.mark.parametrize(
    ("question", "reason"),
    [
        (Question.OUTPUT_EACH, "No valid design gives every subwoofer a processor output of its own."),
        (
            Question.INDEPENDENT,
            "No valid design gives every subwoofer a control point of its own"
            " with gain, delay, polarity and 8 filters.",
        ),
        (Question.ONE_LOST, "In every valid design some single failure silences more than one subwoofer."),
        (Question.NO_CONVERSION, "Every valid design joins a balanced to an unbalanced jack somewhere."),
    ],
)
def test_a_question_without_an_answer_says_why(question: Question, reason: str) -> None:
    assert answers(option(1))[question] == reason


def test_a_design_that_another_beats_is_said_to_exist() -> None:
    found = answers(option(1), known=replace(SETTLED, output_each=True))
    assert found[Question.OUTPUT_EACH] == (
        "It can be done, but an option of the set is as good in every measure weighed and costs no more."
    )


@pytest.mark.parametrize(
    "question", [q for q in Question if q not in (Question.CHEAPEST, Question.SPARE, Question.LEAST_SPREAD)]
)
def test_nothing_is_called_impossible_when_time_ran_out(question: Question) -> None:
    found = answers(option(1), known=Known(settled=False, output_each=False))
    assert found[question] == "Time ran out before this was settled."


def test_no_option_at_all_is_no_proof_either() -> None:
    found = answers(known=Known(settled=False, output_each=None))
    assert set(found.values()) == {"Time ran out before this was settled."}


def test_only_the_question_that_was_not_settled_says_so() -> None:
    found = answers(option(1), known=Known(settled=True, output_each=None))
    assert found[Question.OUTPUT_EACH] == "Time ran out before this was settled."
    assert found[Question.ONE_LOST].startswith("In every valid design")


def test_questions_on_bass_have_no_meaning_without_subwoofers() -> None:
    found = answers(option(1, lost=0, conversions=0, dedicated=0), asked=brief(speakers("Mains", "L", "M+000", 3.0)))
    for question in (Question.OUTPUT_EACH, Question.INDEPENDENT, Question.ONE_LOST):
        assert found[question] == "The brief has no subwoofers."
    assert found[Question.SPARE] == "The brief asks for no spare outputs."
    assert found[Question.NO_CONVERSION] == "1"


def test_a_measure_that_is_not_weighed_cannot_answer_a_question() -> None:
    found = answers(option(1), asked=replace(TWO_SUBS, measures=(Measure.PRICE,)))
    for question in (Question.INDEPENDENT, Question.ONE_LOST, Question.NO_CONVERSION):
        assert found[question] == "The brief does not weigh this measure, so the set was not searched for it."
    assert found[Question.CHEAPEST] == "1"


# Through the pipeline


def linked(outputs: int) -> Shop:
    """Subwoofers with links; a lead from one to the next is cheaper than one from the processor."""
    sold = shop(outputs)
    sold.sub("linked", 300, ins("IN", XLR), outs("LINK", XLR, 1, PortRole.LINK))
    sold.lead("short", 2, XLR_SOCKET, XLR_PINS, 2.0)
    return sold


@pytest.mark.parametrize(
    ("outputs", "expected"),
    [
        (2, "It can be done, but an option of the set is as good in every measure weighed and costs no more."),
        (1, "No valid design gives every subwoofer a processor output of its own."),
    ],
)
def test_whether_each_could_have_an_output_is_asked_of_the_search(outputs: int, expected: str) -> None:
    """Only the price is weighed, so the one option is a chain: 1000 + 600 + 10 + 2, not 1620."""
    asked = brief(subs("linked", 3.0, 4.0), measures=PRICE_ONLY)
    result = options(asked, linked(outputs).catalogue(), HOUSE)
    assert [option.measures.price_minor for option in result.options] == [161200]
    reasons = {answer.question: answer.reason for answer in result.shortlist}
    assert reasons[Question.OUTPUT_EACH] == expected


@pytest.mark.parametrize(("outputs", "possible"), [(2, True), (1, False)])
def test_no_subwoofer_at_all_is_no_output_for_each(outputs: int, possible: bool) -> None:
    """The subwoofer may be left out, and the cheapest option does; a loudspeaker takes the first output."""
    asked = brief(speakers("Mains", "L", "M+000", 3.0), subs("S", 3.0, least=0), measures=PRICE_ONLY)
    result = options(asked, shop(outputs).catalogue(), HOUSE)
    assert [option.measures.price_minor for option in result.options] == [121000]
    reasons = {answer.question: answer.reason for answer in result.shortlist}
    assert reasons[Question.OUTPUT_EACH].startswith("It can be done" if possible else "No valid design")
