"""For brute force: the least cost of a sketch, every way to make its leads tried."""

from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import combinations_with_replacement, repeat

from planner.catalogue.records import Offer
from planner.house import Task
from tests.oracle.instance import Instance, must_use, owned
from tests.oracle.leads import Leads, Line, Make
from tests.oracle.tally import Sketch
from tests.oracle.terms import offer_price, task_price

Kind = tuple[tuple[Make, ...], bool]
"""Lines that can be made alike: the ways to make them, and whether they lead to a subwoofer."""


class Pricing:
    """Costs in minor units without tax, for one instance."""

    def __init__(self, instance: Instance, leads: Leads) -> None:
        self._instance, self._leads = instance, leads
        self._tasks = {task: task_price(instance, task) for task in Task}
        self._prices = {
            offer: offer_price(instance, offer) for offers in instance.catalogue.offers.values() for offer in offers
        }
        self._bought = cache(self._least_cost)
        self._led = cache(self._leads_cost)
        self._worth_trying = cache(self._thriftiest)

    def subtotals(self, sketch: Sketch) -> dict[int, int]:
        """The least subtotal for each number of adapters on the way to subwoofers."""
        units = sketch.scenario.units + Counter(unit.sku for unit in sketch.boxes)
        units += Counter(sku for sku, _ in sketch.amplifiers)
        units += Counter(sku for serving in sketch.servings for sku in serving.wires.splitters)
        devices = self._all_bought(units)
        must = all(units[entry.sku] >= must_use(self._instance, entry.sku) for entry in self._instance.brief.owned)
        if devices is None or not must:
            return {}
        tasks = sketch.scenario.tasks + Counter({Task.DSP: len(sketch.boxes), Task.AMPLIFIER: len(sketch.amplifiers)})
        fixed = devices + sum(self._tasks[task] * count for task, count in tasks.items())
        kinds = Counter((self._worth_trying(line), line.to_sub) for line in sketch.lines)
        return {adapters: fixed + cost for adapters, cost in self._led(frozenset(kinds.items())).items()}

    def _thriftiest(self, line: Line) -> tuple[Make, ...]:
        """The ways to make a line, but for those that take all that another takes, and more."""
        makes = self._leads.makes(line)
        return tuple(make for make in makes if not any(_takes_more(make, other) for other in makes))

    def _leads_cost(self, lines: frozenset[tuple[Kind, int]]) -> dict[int, int]:
        """The least cost of all leads and their labour for each number of adapters to subwoofers."""
        best: dict[int, int] = {}
        for makes in _ways(tuple(lines)):
            used = Counter[str]()
            for make, _ in makes:
                used.update(_pieces(make))
            needed = Counter(make.tail for make, _ in makes if make.tail and not make.spare)
            spare = Counter(make.tail for make, _ in makes if make.tail and make.spare)
            cut = {sku: max(needed[sku, "a"], needed[sku, "b"]) for sku, _ in (*needed, *spare)}
            used.update(cut)
            cost = self._all_bought(used)
            if cost is not None and all(needed[tail] + spare[tail] <= cut[tail[0]] for tail in spare):
                cost += self._tasks[Task.LEAD] * sum(make.runs for make, _ in makes)
                cost += self._tasks[Task.TERMINATION] * sum(make.ends_made_up for make, _ in makes)
                adapters = sum(make.adapters for make, to_sub in makes if to_sub)
                best[adapters] = min(cost, best.get(adapters, cost))
        return best

    def _all_bought(self, used: Counter[str]) -> int | None:
        costs = [self._bought(sku, count) for sku, count in used.items()]
        return None if None in costs else sum(cost for cost in costs if cost is not None)

    def _least_cost(self, sku: str, used: int) -> int | None:
        """The least cost of so many, beyond those owned, over every way to share the order out."""
        if sku in self._instance.brief.excluded and used:
            return None
        offers = self._instance.catalogue.offers.get(sku, ())
        return min(self._orders(offers, max(0, used - owned(self._instance, sku))), default=None)

    def _orders(self, offers: tuple[Offer, ...], wanted: int) -> Iterator[int]:
        if not offers:
            if wanted <= 0:
                yield 0
            return
        first, price = offers[0], self._prices[offers[0]]
        for count in range(max(wanted, first.least_order) + 1):
            in_order = count == 0 or count >= first.least_order
            if in_order and (first.stock is None or count <= first.stock):
                for others in self._orders(offers[1:], wanted - count):
                    yield price * count + others


def _takes_more(make: Make, other: Make) -> bool:
    """Whether `make` is `other` with further parts."""
    mine, others = Counter(_pieces(make)), Counter(_pieces(other))
    more_work = make.ends_made_up >= other.ends_made_up and make.adapters >= other.adapters
    return make.tail == other.tail and more_work and mine > others


def _pieces(make: Make) -> Iterator[str]:
    """The sku of each piece in turn; one may stand at both ends of a lead."""
    for sku, count in make.parts:
        yield from repeat(sku, count)


def _ways(lines: tuple[tuple[Kind, int], ...]) -> Iterator[tuple[tuple[Make, bool], ...]]:
    """Every choice of a way to make each line; lines of one kind in no order."""
    if not lines:
        yield ()
        return
    (makes, to_sub), number = lines[0]
    for others in _ways(lines[1:]):
        for chosen in combinations_with_replacement(makes, number):
            yield (*((make, to_sub) for make in chosen), *others)
