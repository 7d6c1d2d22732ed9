"""M1: the quote worked out afresh, and the labour that it has to hold."""

from collections import Counter
from collections.abc import Iterator, Mapping

from planner.checks.case import Case
from planner.checks.findings import broken
from planner.checks.known import OWNED
from planner.checks.prices import minor_per_major, shown, tax_minor
from planner.design import Finding, LeadMethod, Purchase, UnitKind
from planner.house import Task
from planner.options import Quote

_TASK_OF_UNIT: Mapping[UnitKind, Task] = {
    UnitKind.PROCESSOR: Task.PROCESSOR,
    UnitKind.CARD: Task.CARD,
    UnitKind.DSP: Task.DSP,
    UnitKind.AMPLIFIER: Task.AMPLIFIER,
    UnitKind.LOUDSPEAKER: Task.LOUDSPEAKER,
    UnitKind.SUBWOOFER: Task.SUBWOOFER,
}
_ENDS_MADE = {LeadMethod.MADE_UP: 2, LeadMethod.CUT: 1}


def quote(case: Case) -> Quote:
    """The price of the design as it should be: purchases at their offers, and the labour it takes."""
    gear = sum(purchase.count * _unit_price(case, purchase) for purchase in case.design.purchases)
    labour = sum(count * (case.known.task_price(task) or 0) for task, count in labour_due(case).items())
    subtotal = gear + labour
    house, agreed = case.known.house, case.known.brief.project.tax_percent
    tax = tax_minor(subtotal, house.tax_percent if agreed is None else agreed, house.rounding)
    return Quote(
        currency=case.known.currency,
        gear_minor=gear,
        labour_minor=labour,
        subtotal_minor=subtotal,
        tax_minor=tax,
        total_minor=subtotal + tax,
    )


def _unit_price(case: Case, purchase: Purchase) -> int:
    """The price that an offer comes to; where offers differ, the one stated if it is among them."""
    if purchase.supplier == OWNED:
        return 0
    prices = [price for _, price in case.known.priced_offers(purchase.sku, purchase.supplier) if price is not None]
    if purchase.unit_price_minor in prices:
        return purchase.unit_price_minor
    return prices[0] if prices else 0


def labour_due(case: Case) -> Mapping[Task, int]:
    """How many of each task: one a unit, one a lead, and the ends to be made."""
    due: Counter[Task] = Counter()
    for unit in case.design.units:
        if unit.kind in _TASK_OF_UNIT:
            due[_TASK_OF_UNIT[unit.kind]] += 1
    for connection in case.design.connections:
        method = connection.lead.method
        due[Task.LEAD] += method is not LeadMethod.DIRECT
        due[Task.TERMINATION] += _ENDS_MADE.get(method, 0)
    return +due


def labour_listed(case: Case) -> Iterator[Finding]:
    """R18: labour is counted and charged as the house does. A task that costs nothing may be left out."""
    due, listed = labour_due(case), Counter[Task]()
    for labour in case.design.labour:
        listed[labour.task] += labour.count
        price = case.known.task_price(labour.task)
        if price is None:
            yield broken(
                "R18", labour.task.value, f"Labour cannot be priced: {case.known.currency} has no exchange rate."
            )
        elif labour.unit_price_minor != price:
            stated, right = (shown(each, case.known.currency) for each in (labour.unit_price_minor, price))
            yield broken(
                "R18", labour.task.value, f"{labour.task.value} is charged at {stated}; the house takes {right}."
            )
    for task in Task:
        wanted, found = due.get(task, 0), listed[task]
        left_out_free = task not in listed and not case.known.task_price(task)
        if found != wanted and not left_out_free:
            yield broken("R18", task.value, f"{task.value} is listed {found} times; the design takes {wanted}.")


def right_currency(case: Case) -> Iterator[Finding]:
    """R18: the design is priced in the currency of the brief."""
    if case.design.currency != case.known.currency:
        yield broken(
            "R18", "currency", f"The design is in {case.design.currency}; the brief asks for {case.known.currency}."
        )


def within_budget(case: Case, total_minor: int) -> Iterator[Finding]:
    """R18: the total with tax is within the budget."""
    budget = case.known.brief.limits.budget
    if budget is not None and total_minor > budget * minor_per_major(case.known.currency):
        total = shown(total_minor, case.known.currency)
        yield broken("R18", "budget", f"The total with tax is {total}; the budget is {budget} {case.known.currency}.")
