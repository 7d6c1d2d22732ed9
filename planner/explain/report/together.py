"""E6 and several rooms as printed."""

from planner.comparison.gear import BOXES, gear, gear_words
from planner.comparison.words import Names
from planner.explain.rooms import SharedOrder
from planner.explain.stages import NowAndLater, Plan
from planner.explain.together_words import order_rows, order_sentences, stages_sentences
from planner.tables.amounts import figure
from planner.tables.layout import Column, grid, paragraph, section


def stages_section(found: NowAndLater, currency: str, name_by_sku: Names) -> list[str]:
    """The plan ahead and the plan stage by stage, with the gear of each."""
    lines = [line for text in stages_sentences(found, currency, name_by_sku) for line in paragraph(text, "  ", "- ")]
    for title, plan in (("Planned ahead", found.ahead), ("Each stage at its least", found.by_turns)):
        if plan is not None:
            lines += ["", *_plan(title, plan, currency, name_by_sku)]
    return section("Now and later", lines)


def _plan(title: str, plan: Plan, currency: str, name_by_sku: Names) -> list[str]:
    columns = (
        Column(title, flexible=True),
        Column("Years", right=True),
        Column("Factor", right=True),
        Column(currency, right=True),
    )
    rows = [
        (stage.name, f"{stage.years:g}", f"{float(stage.factor):.4f}", figure(stage.price_minor, currency))
        for stage in plan.stages
    ]
    notes = [gear_words(gear(stage.priced.design, BOXES), name_by_sku) for stage in plan.stages]
    return grid(columns, rows, notes)


def order_section(found: SharedOrder, currency: str, name_by_sku: Names) -> list[str]:
    """The order of several rooms, line by line."""
    lines = [line for text in order_sentences(found, currency, name_by_sku) for line in paragraph(text, "  ", "- ")]
    if found.lines:
        columns = (
            Column("Count", right=True),
            Column("Item", flexible=True),
            Column("Supplier", flexible=True),
            Column(f"Each, {currency}", right=True),
            Column(f"Sum, {currency}", right=True),
        )
        lines += ["", *grid(columns, order_rows(found, currency, name_by_sku))]
    return section("Several rooms in one order", lines)
