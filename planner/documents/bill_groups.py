"""What is bought, in the groups that a person would look for it in: the same on client paper and trade workbook."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from planner.catalogue.records import Catalogue, Item
from planner.comparison.price_split import Cause, cause_of
from planner.design import Design, Purchase


class Group(StrEnum):
    """The groups of a bill, in the order in which they are printed, by their words."""

    PROCESSING = "Processor and signal processing"
    AMPLIFIERS = "Amplifiers"
    LOUDSPEAKERS = "Loudspeakers"
    SUBWOOFERS = "Subwoofers"
    WIRING = "Leads, cable and connectors"


_GROUP_BY_CAUSE: Mapping[Cause, Group] = {
    Cause.PROCESSOR: Group.PROCESSING,
    Cause.DSP: Group.PROCESSING,
    Cause.AMPLIFIERS: Group.AMPLIFIERS,
    Cause.LOUDSPEAKERS: Group.LOUDSPEAKERS,
    Cause.SUBWOOFERS: Group.SUBWOOFERS,
    Cause.SPLITTERS: Group.WIRING,
    Cause.LEADS: Group.WIRING,
}


@dataclass(frozen=True, kw_only=True, slots=True)
class BillLine:
    """One purchase with the record of what is bought."""

    group: Group
    item: Item
    purchase: Purchase


def bill_lines(design: Design, catalogue: Catalogue) -> tuple[BillLine, ...]:
    """Every purchase, group by group, each group in the order of its skus and then of its prices."""
    item_by_sku = {item.sku: item for item in catalogue.items()}
    lines = [
        BillLine(group=_GROUP_BY_CAUSE[cause_of(item_by_sku[each.sku])], item=item_by_sku[each.sku], purchase=each)
        for each in design.purchases
    ]
    groups = list(Group)
    return tuple(
        sorted(lines, key=lambda line: (groups.index(line.group), line.item.sku, line.purchase.unit_price_minor))
    )
