"""E6 and several rooms in words."""

from collections.abc import Iterator

from planner.comparison.gear import gear_words
from planner.comparison.words import Names, more_or_less
from planner.explain.least import Settled
from planner.explain.rooms import SharedOrder
from planner.explain.stages import NowAndLater, Plan
from planner.tables.amounts import amount, figure
from planner.words import counted, listed


def stages_sentences(found: NowAndLater, currency: str, name_by_sku: Names) -> Iterator[str]:
    """What planning ahead costs today and saves in all, and what is bought twice either way."""
    yield (
        f"Money paid later counts for less by {found.discount_percent:f} % a year. Prices are today's. A later stage"
        " pays for what it buys and, as the house's terms have it, for fitting the whole system again."
    )
    if found.ahead is None or found.by_turns is None:
        yield "There is no valid plan for all stages." if found.settled else "Not settled in time."
        return
    yield f"Planned ahead: {_plan_words(found.ahead, currency)}."
    yield f"Each stage at its least when it comes: {_plan_words(found.by_turns, currency)}."
    more, saved = found.more_today_minor or 0, found.saved_minor or 0
    if saved:
        yield (
            f"Planning ahead costs {more_or_less(more, currency)} today and saves {amount(saved, currency)} in all,"
            " in today's worth."
        )
    else:
        yield "Planning ahead saves nothing: the cheapest today is part of the cheapest plan."
    for name, plan in (("planned ahead", found.ahead), ("stage by stage", found.by_turns)):
        for twice in plan.twice:
            what = gear_words((twice.line,), name_by_sku)
            yield f"Bought and later of no use, {name}: {what}, {amount(twice.paid_minor, currency)} before tax."
    if found.all_now.price_minor is not None:
        yield f"The last stage built today, at once: {amount(found.all_now.price_minor, currency)}."


def _plan_words(plan: Plan, currency: str) -> str:
    stages = tuple(
        f"{stage.name} {amount(stage.price_minor, currency)}"
        if not stage.years
        else f"{stage.name}, in {stage.years:g} years, {amount(stage.price_minor, currency)}"
        for stage in plan.stages
    )
    return f"{'; '.join(stages)}; in all {amount(plan.present_minor, currency)} in today's worth"


def order_rows(found: SharedOrder, currency: str, name_by_sku: Names) -> list[tuple[str, str, str, str, str]]:
    """Count, item, supplier, price of each and sum of every line of the order, then its sums."""
    rows = [
        (
            str(line.count),
            f"{line.sku}: {name_by_sku[line.sku]}",
            line.supplier,
            figure(line.unit_minor, currency),
            figure(line.count * line.unit_minor, currency),
        )
        for line in found.lines
    ]
    sums = (
        ("Goods", found.goods_minor),
        ("Labour", found.labour_minor),
        ("Tax", found.tax_minor),
        ("Total", found.total_minor),
    )
    return rows + [("", words, "", "", figure(minor, currency)) for words, minor in sums]


def order_sentences(found: SharedOrder, currency: str, name_by_sku: Names) -> Iterator[str]:
    """What several rooms cost in one order, and apart."""
    if found.settled is not Settled.FOUND:
        yield "There is no valid order for all rooms." if found.settled is Settled.NONE else "Not settled in time."
        return
    rooms = listed(tuple(room.name for room in found.rooms))
    yield f"{counted(len(found.rooms), 'room')} in one order, {rooms}: {amount(found.total_minor, currency)} with tax."
    apart = found.apart_minor
    if apart is None:
        yield "One of the rooms has no valid design of its own; together they have."
    elif apart == found.total_minor:
        yield "Ordered one by one they cost the same."
    else:
        yield (
            f"Ordered one by one they would cost {amount(apart, currency)},"
            f" {more_or_less(apart - found.total_minor, currency)}."
        )
    for room in found.rooms:
        if room.alone.price_minor is not None:
            yield f"{room.name} alone: {amount(room.alone.price_minor, currency)}."
