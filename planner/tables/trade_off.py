"""The whole trade-off set as a table: what each option costs and what it offers."""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.brief.records import Brief, Measure
from planner.catalogue.records import Catalogue
from planner.demand.line_reach import MOST_MARGIN_DB
from planner.design import Design, Measures, UnitKind
from planner.options import Option, Result
from planner.tables.amounts import difference, figure, over_minor
from planner.tables.cells import decimals
from planner.tables.layout import Column, grid, paragraph, section
from planner.words import counted, drive_words

MOST_ROWS = 25

MARGIN_WORDS = f"least level margin, dB, weighed in whole dB up to {MOST_MARGIN_DB}"
"""What the column of M8 shows, here and in the form."""

_NAMED_KINDS = (UnitKind.PROCESSOR, UnitKind.CARD, UnitKind.DSP)

_LEGEND = (
    "Own: subwoofers set independently. Spare: outputs left over. Lost: subwoofers that the worst single"
    " failure silences. Conv: balanced-unbalanced conversions. Prices with tax."
)


@dataclass(frozen=True, slots=True)
class _Extra:
    """A column that is shown where its measure is weighed; the spread, which none weighs, where it is known."""

    measure: Measure | None
    heading: str
    cell: Callable[[Measures], str]
    legend: str


_EXTRA = (
    _Extra(
        Measure.JOINTS,
        "Joints",
        lambda measures: str(measures.joints),
        "Joints: joints and boxes between processor and subwoofers.",
    ),
    _Extra(
        Measure.EARTH_LOOPS,
        "Loops",
        lambda measures: "?" if measures.earth_loops is None else str(measures.earth_loops),
        "Loops: independent earth loops.",
    ),
    _Extra(
        Measure.LEAST_MARGIN,
        "Margin",
        lambda measures: "?" if measures.least_margin_db is None else f"{measures.least_margin_db:.1f}",
        f"Margin: {MARGIN_WORDS}.",
    ),
    _Extra(
        None,
        "Spread",
        lambda measures: decimals(measures.bass_spread_db, 2),
        "Spread: predicted bass spread over the seats, dB, at the best settings found for each option's outputs; for an"
        " idealised rectangular room, to be confirmed by measurement.",
    ),
)


def trade_off_table(result: Result, brief: Brief, catalogue: Catalogue) -> list[str]:
    """The options, cheapest first; a long set is cut, and the line below says by how many."""
    spread = any(option.measures.bass_spread_db is not None for option in result.options)
    extra = [column for column in _EXTRA if (spread if column.measure is None else column.measure in brief.measures)]
    columns = (
        Column("Option"),
        Column(result.currency, right=True),
        Column("More", right=True),
        Column("Own", right=True),
        Column("Spare", right=True),
        Column("Lost", right=True),
        Column("Conv", right=True),
        *(Column(column.heading, right=True) for column in extra),
    )
    shown = result.options[:MOST_ROWS]
    name_by_sku = {item.sku: item.name for item in catalogue.items()}
    rows = [_row(option, result.options[0], extra) for option in shown]
    lines = grid(columns, rows, notes=[_below(option, name_by_sku) for option in shown])
    hidden = len(result.options) - len(shown)
    if hidden:
        lines.extend(paragraph(f"{counted(hidden, 'more option')} in the JSON result (--json FILE)."))
    if any(not option.proven for option in shown):
        lines.extend(paragraph("* not proven to be the cheapest for what it offers."))
    legend = " ".join((_LEGEND, *(column.legend for column in extra)))
    return section("Trade-off set", [*lines, "", *paragraph(legend)])


def _below(option: Option, name_by_sku: dict[str, str]) -> str:
    """How the subwoofers are driven, and by what gear."""
    gear = gear_words(option.design, name_by_sku)
    return f"Subwoofers: {drive_words(option.drives)}. {gear}" if any(option.drives.values()) else gear


def gear_words(design: Design, name_by_sku: dict[str, str]) -> str:
    """The processor, its cards and the DSP units by name, alike ones counted."""
    count_by_sku = Counter(unit.sku for kind in _NAMED_KINDS for unit in design.units if unit.kind is kind)
    return " + ".join(
        name_by_sku[sku] if count == 1 else f"{count} x {name_by_sku[sku]}" for sku, count in count_by_sku.items()
    )


def _row(option: Option, cheapest: Option, extra: Sequence[_Extra]) -> tuple[str, ...]:
    measures, currency = option.measures, option.quote.currency
    more = over_minor(option, cheapest)
    return (
        option.id if option.proven else f"{option.id}*",
        figure(measures.price_minor, currency),
        difference(more, currency) if more else "-",
        str(measures.independent_subs),
        str(measures.spare_outputs),
        str(measures.subs_lost_worst),
        str(measures.conversions),
        *(column.cell(measures) for column in extra),
    )
