"""Options side by side: their figures, and the lines of the bill in which they differ."""

from collections.abc import Callable, Mapping, Sequence

from planner.catalogue.records import Catalogue
from planner.options import Option
from planner.tables.amounts import difference, figure, over_minor
from planner.tables.cells import NOT_KNOWN
from planner.tables.trade_off import gear_words
from planner.words import drive_words

_FIGURES: Mapping[str, Callable[[Option], object]] = {
    "Subwoofers set independently": lambda option: option.measures.independent_subs,
    "Control groups": lambda option: option.measures.control_groups,
    "Spare outputs": lambda option: option.measures.spare_outputs,
    "Lost by one failure": lambda option: option.measures.subs_lost_worst,
    "Joints and boxes": lambda option: option.measures.joints,
    "Conversions": lambda option: option.measures.conversions,
    "Earth loops": lambda option: option.measures.earth_loops,
    "Least level margin, dB": lambda option: option.measures.least_margin_db,
    "Predicted bass spread, dB": lambda option: option.measures.bass_spread_db,
}
_LABOUR = "Labour"


def figure_rows(options: Sequence[Option], catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """For each figure, what it is in every one of at least one option; prices against the first."""
    currency, first = options[0].quote.currency, options[0]
    names = {item.sku: item.name for item in catalogue.items()}
    rows = {
        f"Price with tax, {currency}": tuple(figure(option.measures.price_minor, currency) for option in options),
        f"Over the first, {currency}": tuple(difference(over_minor(option, first), currency) for option in options),
        "Subwoofers": tuple(drive_words(option.drives) for option in options),
        "Processor, cards, DSP units": tuple(gear_words(option.design, names) for option in options),
    }
    return rows | {words: tuple(_told(read(option)) for option in options) for words, read in _FIGURES.items()}


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


def _told(value: object) -> str:
    if value is None:
        return NOT_KNOWN
    return f"{value:.1f}" if isinstance(value, float) else str(value)
