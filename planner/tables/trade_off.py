"""The whole trade-off set as a table: what each option costs and what it offers."""

from collections import Counter

from planner.brief.records import Brief, Measure
from planner.catalogue.records import Catalogue
from planner.design import Design, UnitKind
from planner.options import Option, Result
from planner.tables.amounts import difference, figure, over_minor
from planner.tables.cells import decimals
from planner.tables.layout import Column, grid, paragraph, section
from planner.words import counted, drive_words

MOST_ROWS = 25

_NAMED_KINDS = (UnitKind.PROCESSOR, UnitKind.CARD, UnitKind.DSP)

_LEGEND = (
    "Own: subwoofers set independently. Spare: outputs left over. Lost: subwoofers that the worst single"
    " failure silences. Conv: balanced-unbalanced conversions. Prices with tax."
)
_SPREAD = (
    "Spread: predicted bass spread over the seats, dB, at the best settings found for each option's outputs; for an"
    " idealised rectangular room, to be confirmed by measurement."
)
_JOINTS = "Joints: joints and boxes between processor and subwoofers."


def trade_off_table(result: Result, brief: Brief, catalogue: Catalogue) -> list[str]:
    """The options, cheapest first; a long set is cut, and the line below says by how many."""
    joints = Measure.JOINTS in brief.measures
    spread = any(option.measures.bass_spread_db is not None for option in result.options)
    columns = (
        Column("Option"),
        Column(result.currency, right=True),
        Column("More", right=True),
        Column("Own", right=True),
        Column("Spare", right=True),
        Column("Lost", right=True),
        Column("Conv", right=True),
        *((Column("Joints", right=True),) if joints else ()),
        *((Column("Spread", right=True),) if spread else ()),
        Column("Subwoofers", flexible=True),
    )
    shown = result.options[:MOST_ROWS]
    name_by_sku = {item.sku: item.name for item in catalogue.items()}
    rows = [_row(option, result.options[0], joints=joints, spread=spread) for option in shown]
    lines = grid(columns, rows, notes=[gear_words(option.design, name_by_sku) for option in shown])
    hidden = len(result.options) - len(shown)
    if hidden:
        lines.extend(paragraph(f"{counted(hidden, 'more option')} in the JSON result (--json FILE)."))
    if any(not option.proven for option in shown):
        lines.extend(paragraph("* not proven to be the cheapest for what it offers."))
    legend = (_LEGEND, *((_JOINTS,) if joints else ()), *((_SPREAD,) if spread else ()))
    return section("Trade-off set", [*lines, "", *paragraph(" ".join(legend))])


def gear_words(design: Design, name_by_sku: dict[str, str]) -> str:
    """The processor, its cards and the DSP units by name, alike ones counted."""
    count_by_sku = Counter(unit.sku for kind in _NAMED_KINDS for unit in design.units if unit.kind is kind)
    return " + ".join(
        name_by_sku[sku] if count == 1 else f"{count} x {name_by_sku[sku]}" for sku, count in count_by_sku.items()
    )


def _row(option: Option, cheapest: Option, *, joints: bool, spread: bool) -> tuple[str, ...]:
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
        *((str(measures.joints),) if joints else ()),
        *((decimals(measures.bass_spread_db, 2),) if spread else ()),
        drive_words(option.drives),
    )
