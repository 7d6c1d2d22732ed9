"""The whole printed answer of `explain`, section after section."""

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.comparison.gear import names
from planner.explain.explanation import Explanation, WhyNone, WhyOption
from planner.explain.report.changes import comparison_section
from planner.explain.report.conflict import conflict_sections
from planner.explain.report.devices import device_section, left_out_section
from planner.explain.report.movement import movement_section
from planner.explain.report.staircases import step_sections
from planner.explain.report.together import order_section, stages_section
from planner.tables.amounts import amount
from planner.tables.heading import heading, status_lines
from planner.tables.layout import paragraph, section


def explain_report(found: Explanation, brief: Brief, catalogue: Catalogue) -> str:
    """The answer as plain text."""
    lines = [*heading(brief), *status_lines(found.result, brief)]
    name_by_sku, currency = names(catalogue), found.result.currency
    match found.why:
        case WhyNone() as why:
            lines.extend(conflict_sections(why, currency))
        case WhyOption() as why:
            lines.extend(_explained(why))
            lines.extend(step_sections(why.steps, currency, name_by_sku))
            for comparison in why.comparisons:
                lines.extend(comparison_section(comparison, currency, name_by_sku))
            lines.extend(device_section(why.devices, why.option, currency, name_by_sku))
            lines.extend(left_out_section(why.left_out, currency, name_by_sku))
            lines.extend(movement_section(why.robust, currency, name_by_sku))
            if why.stages is not None:
                lines.extend(stages_section(why.stages, currency, name_by_sku))
            if why.order is not None:
                lines.extend(order_section(why.order, currency, name_by_sku))
    if found.unsettled:
        lines.extend(section("Not settled", [line for text in found.unsettled for line in paragraph(text, "  ", "- ")]))
    return "\n".join(lines) + "\n"


def _explained(why: WhyOption) -> list[str]:
    option = why.option
    price = amount(option.measures.price_minor, option.quote.currency)
    return ["", *paragraph(f"Explained here is option {option.id}, {price} with tax. All prices below are with tax.")]
