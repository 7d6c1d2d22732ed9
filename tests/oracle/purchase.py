"""Leads and money of one scenario: R3, R18 and the subtotal."""

from collections import defaultdict
from dataclasses import dataclass, field

from planner.house import Task
from tests.oracle.choices import Choices
from tests.oracle.instance import Instance, must_use, owned
from tests.oracle.leads import Line
from tests.oracle.linear import Programme, Sum, total
from tests.oracle.tails import Tails
from tests.oracle.terms import offer_price, task_price


@dataclass(frozen=True, eq=False, slots=True)
class Made:
    """How many lines there are of each kind, and what making them takes."""

    lines: dict[Line, Sum]
    used: dict[str, list[Sum | int]]
    adapters_to_subs: list[Sum] = field(default_factory=list)
    ends_made_up: list[Sum] = field(default_factory=list)


def make_lines(c: Choices) -> Made:
    """R3: for the lines of each kind, as many ways to make them are chosen."""
    made = Made(_lines(c), defaultdict(list))
    tails = Tails()
    for line, count in made.lines.items():
        numbers = {make: c.programme.whole(None) for make in c.leads.makes(line)}
        c.programme.equal(total(numbers.values()), count)
        for make, number in numbers.items():
            for sku, pieces in make.parts:
                made.used[sku].append(pieces * number)
            tails.add(make, number)
            if line.to_sub:
                made.adapters_to_subs.append(make.adapters * number)
            made.ends_made_up.append(make.ends_made_up * number)
    for sku, leads_cut in tails.leads_cut(c.programme):
        made.used[sku].append(leads_cut)
    return made


def _lines(c: Choices) -> dict[Line, Sum]:
    """How many lines there are of each kind."""
    lines: dict[Line, list[Sum]] = defaultdict(list)
    for hook in c.hooks:
        for line in hook.lines:
            lines[line].append(hook.chosen)
    for entry in c.inputs:
        lines[entry.line].append(entry.chosen)
    for link in c.links:
        lines[link.line].append(link.chosen)
    return {line: total(uses) for line, uses in lines.items()}


def subtotal(c: Choices, made: Made) -> Sum:
    """What the design costs without tax, in minor units."""
    for sku, count in c.scenario.units.items():
        made.used[sku].append(count)
    for device, used in c.boxes_and_amplifiers:
        made.used[device.sku].append(used)
    for split in c.splits:
        for sku in split.tree.splitters:
            made.used[sku].append(split.chosen)
    for entry in c.instance.brief.owned:
        c.programme.at_least(total(made.used[entry.sku]), must_use(c.instance, entry.sku))
    return total(bought(c.programme, c.instance, sku, total(uses)) for sku, uses in made.used.items()) + _labour(
        c, made
    )


def bought(programme: Programme, instance: Instance, sku: str, used: Sum) -> Sum:
    """R18: the cost of as many as are used beyond owned ones, within stock and least order."""
    if sku in instance.brief.excluded:
        programme.equal(used, 0)
        return Sum()
    cost, had = Sum(), Sum()
    for offer in instance.catalogue.offers.get(sku, ()):
        count = programme.whole(offer.stock)
        if offer.least_order > 1:
            ordered = programme.binary()
            programme.at_least(count, offer.least_order * ordered)
            programme.at_most(count, 1000 * ordered)
        cost += offer_price(instance, offer) * count
        had += count
    programme.at_least(had + owned(instance, sku), used)
    return cost


def _labour(c: Choices, made: Made) -> Sum:
    tasks: list[tuple[Task, Sum | int]] = [
        *c.scenario.tasks.items(),
        (Task.DSP, total(c.box_used)),
        (Task.AMPLIFIER, total(c.amplifier_used)),
        (Task.LEAD, total(made.lines.values())),
        (Task.TERMINATION, total(made.ends_made_up)),
    ]
    return total(task_price(c.instance, task) * count for task, count in tasks)
