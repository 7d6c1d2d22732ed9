"""One line of a batch for people: what became of a brief, with the figures of its answer.

They are read from the JSON of the result, so that a result kept from an earlier run and a new one
are told alike.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.batch.records import Outcome, Told
from planner.design import Severity
from planner.options import Question

OUTCOME_WORDS: Mapping[Outcome, str] = {
    Outcome.PROVEN: "proven",
    Outcome.PARTIAL: "time ran out",
    Outcome.INFEASIBLE: "no valid design",
    Outcome.OVERDUE: "ended, overdue",
    Outcome.BAD_INPUT: "bad input",
    Outcome.BUG: "our own bug",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Concern:
    """A finding of the cheapest option that is to be seen before quoting."""

    rule: str
    subject: str
    message: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Room:
    """One brief of a batch. Prices are in minor units of `currency`, of which 10 ** `minor_digits` make one.

    Without an answer, project and the like are empty, as are currency and prices.
    """

    brief: str
    outcome: Outcome
    words: tuple[str, ...]
    project: str = ""
    client: str = ""
    reference: str = ""
    dated: str = ""
    currency: str = ""
    minor_digits: int = 0
    options: int = 0
    price_by_question: Mapping[Question, int] = field(default_factory=dict)
    concerns: tuple[Concern, ...] = ()


def room_of(told: Told) -> Room:
    """The line of one brief."""
    brief, words = _in_letters(told.brief), tuple(map(_in_letters, told.words))
    if told.result is None:
        return Room(brief=brief, outcome=told.outcome, words=words)
    tree = json.loads(told.result)
    options = tree["options"]
    price_by_id = {option["id"]: option["price_minor"] for option in options}
    return Room(
        brief=brief,
        outcome=told.outcome,
        words=words,
        project=tree["project"]["name"],
        client=tree["project"]["client"],
        reference=tree["project"]["reference"],
        dated=tree["project"]["dated"],
        currency=tree["currency"],
        minor_digits=tree["minor_digits"],
        options=len(options),
        price_by_question={
            question: price_by_id[answer]
            for question in Question
            if (answer := tree["shortlist"][question.value]) is not None
        },
        concerns=tuple(
            Concern(rule=finding["rule"], subject=finding["subject"], message=finding["message"])
            for option in options[:1]
            for finding in option["findings"]
            if finding["severity"] != Severity.NOTE.value
        ),
    )


def _in_letters(text: str) -> str:
    """The text with a stand-in for each byte of a file's name that is no letter."""
    return text.encode("utf-8", "backslashreplace").decode("utf-8")
