"""Options side by side: their figures, and the lines of the bill in which they differ."""

from collections.abc import Sequence

from planner.catalogue.records import Catalogue
from planner.comparison.compared import WITH_PLACES, Figure, figures
from planner.comparison.words import FIGURE_WORDS
from planner.options import Option
from planner.tables.amounts import difference, figure, over_minor
from planner.tables.cells import decimals
from planner.tables.trade_off import gear_words
from planner.words import capital, drive_words

_LABOUR = "Labour"


def figure_rows(options: Sequence[Option], catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """For each figure, what it is in every one of at least one option; prices against the first."""
    currency, first = options[0].quote.currency, options[0]
    names = {item.sku: item.name for item in catalogue.items()}
    rows = {
        f"Price with tax, {currency}": tuple(figure(option.measures.price_minor, currency) for option in options),
        f"Over the first, {currency}": tuple(difference(over_minor(option, first), currency) for option in options),
        "Subwoofers": tuple(drive_words(option.drives) for option in options),  # how many, and how they are reached
        "Processor, cards, DSP units": tuple(gear_words(option.design, names) for option in options),
    }
    each = [figures(option) for option in options]
    measured = [one for one in Figure if one is not Figure.SUBWOOFERS]
    return rows | {
        capital(FIGURE_WORDS[one]): tuple(decimals(of_one[one], 1 if one in WITH_PLACES else 0) for of_one in each)
        for one in measured
    }


def bill_differences(options: Sequence[Option], catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """The lines of the bill, before tax, that are not the same in all; empty where an option has no such line."""
    names = {item.sku: item.name for item in catalogue.items()}
    sums = [_sums(option) for option in options]
    lines = dict.fromkeys(line for of_one in sums for line in of_one)
    return {
        names.get(line, line): tuple(
            figure(of_one[line], option.quote.currency) if line in of_one else ""
            for of_one, option in zip(sums, options, strict=True)
        )
        for line in lines
        if len({of_one.get(line, 0) for of_one in sums}) > 1
    }


def _sums(option: Option) -> dict[str, int]:
    """Each line of the bill in minor units: purchases by sku, labour as one."""
    sums: dict[str, int] = {}
    for line in option.design.purchases:
        sums[line.sku] = sums.get(line.sku, 0) + line.count * line.unit_price_minor
    return sums | {_LABOUR: sum(line.count * line.unit_price_minor for line in option.design.labour)}
