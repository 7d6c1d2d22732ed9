"""What would mend a brief without a design, as printed: what gives up least first."""

from planner.options import Relaxation, Result
from planner.tables.amounts import amount
from planner.tables.layout import paragraph, section


def relaxations(result: Result) -> list[str]:
    """The single changes with price and what is lost by each, and what time did not settle."""
    mends = [relaxation_words(each, result.currency) for each in result.relaxations]
    none = "No single change is known to mend it. The command explain tries pairs of changes too."
    lines = [line for text in mends or [none] for line in paragraph(text, indent="  ", first="- " if mends else "")]
    open_ones = [line for text in result.unproven for line in paragraph(text, indent="  ", first="- ")]
    return [
        *section("Single changes that would mend it, what gives up least first", lines),
        *(section("Not settled in the time", open_ones) if open_ones else ()),
    ]


def relaxation_words(change: Relaxation, currency: str) -> str:
    """One change, what it costs then, and what it gives up."""
    price = "a design exists, its least price was not settled in time"
    if change.price_minor is not None:
        price = amount(change.price_minor, currency)
    return f"{change.change}: {price}. Gives up {change.gives_up}."
