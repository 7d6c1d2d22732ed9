"""The shortlist: each question with its answer, its price, and what the price buys."""

from planner.options import Answer, Option, Result
from planner.tables.amounts import amount, difference, over_minor
from planner.tables.layout import paragraph, section
from planner.words import QUESTION_WORDS, buys_words, offers_words


def shortlist(result: Result) -> list[str]:
    """Every question of the shortlist and its answer, or why there is none."""
    option_by_id = {option.id: option for option in result.options}
    lines: list[str] = []
    for answer in result.shortlist:
        lines.extend(paragraph(QUESTION_WORDS[answer.question]))
        if answer.option_id is None:
            lines.extend(paragraph(f"none: {answer.reason}", indent="    "))
        else:
            lines.extend(_answer(answer, option_by_id[answer.option_id], result.options[0]))
    return section("Shortlist", lines)


def _answer(answer: Answer, option: Option, cheapest: Option) -> list[str]:
    price = f"option {option.id}: {amount(option.measures.price_minor, option.quote.currency)}"
    if option is cheapest:
        return paragraph(f"{price}; {offers_words(option)}", indent="    ")
    over = f" ({difference(over_minor(option, cheapest), option.quote.currency)} over the cheapest)"
    return paragraph(f"{price}{over}; {buys_words(option, cheapest)}", indent="    ")
