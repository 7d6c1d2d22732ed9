"""What the choices cost without tax, in minor units (R3, R18, "Price")."""

from collections import defaultdict

from planner.catalogue.records import Loudspeaker
from planner.house import Task
from tests.oracle.instance import Instance
from tests.oracle.leads import Line, Make
from tests.oracle.linear import Sum, total
from tests.oracle.purchase import bought
from tests.oracle.splits import pattern
from tests.oracle.tails import Tails
from tests.oracle.terms import task_price
from tests.oracle.whole.choices import Choices
from tests.oracle.whole.terms import floor_price, one_price


def subtotal(c: Choices) -> Sum:
    """The price to be made least."""
    costs = _Costs(c)
    costs.devices()
    costs.splitters()
    costs.leads()
    return costs.sum()


class _Costs:
    """Gathers what is used of each sku, and what work there is."""

    def __init__(self, c: Choices) -> None:
        self._c = c
        self._used: dict[str, list[Sum]] = defaultdict(list)
        self._spent: list[Sum] = []

    def sum(self) -> Sum:
        return total((*self._spent, *(self._bought(sku, total(uses)) for sku, uses in self._used.items())))

    def devices(self) -> None:
        """Processors at their whole price, all others as so many, each with its fitting."""
        c = self._c
        self._spent += [configuration.cost * chosen for configuration, chosen in c.configurations]
        for (_, sku), chosen in c.dsp.items():
            self._fitted(sku, chosen, Task.DSP)
        for amplifier, number, _ in c.amplifiers:
            self._fitted(amplifier.sku, number, Task.AMPLIFIER)
        for member in c.members:
            task = Task.LOUDSPEAKER if isinstance(member.item, Loudspeaker) else Task.SUBWOOFER
            self._fitted(member.item.sku, len(member.feeds) * member.chosen, task)

    def splitters(self) -> None:
        """R8: N legs take N - 1 two-way splitters of one pattern."""
        c = self._c
        wanted: dict[object, list[Sum]] = defaultdict(list)
        for split in c.splits:
            wanted[split.pattern].append((split.legs - 1) * split.number)
        for kind, numbers in wanted.items():
            skus = [splitter.sku for splitter in c.splitters if pattern(splitter) == kind]
            counts = [c.programme.whole(None) for _ in skus]
            c.programme.equal(total(counts), total(numbers))
            for sku, count in zip(skus, counts, strict=True):
                self._used[sku].append(count)

    def leads(self) -> None:
        """R3: each line in the cheapest way where all its parts have one price, else in a way to be chosen."""
        tails = Tails()
        for line, count in _lines(self._c).items():
            self._spent.append(task_price(self._c.instance, Task.LEAD) * count)
            makes = worth_a_thought(self._c.instance, self._c.leads.makes(line))
            numbers = [count] if len(makes) == 1 else [self._c.programme.whole(None) for _ in makes]
            self._c.programme.equal(total(numbers), count)
            for make, number in zip(makes, numbers, strict=True):
                self._spent.append(make.ends_made_up * task_price(self._c.instance, Task.TERMINATION) * number)
                for sku, pieces in make.parts:
                    self._used[sku].append(pieces * number)
                tails.add(make, number)
        for sku, cut in tails.leads_cut(self._c.programme):
            self._used[sku].append(cut)

    def _fitted(self, sku: str, number: Sum, task: Task) -> None:
        self._used[sku].append(number)
        self._spent.append(task_price(self._c.instance, task) * number)

    def _bought(self, sku: str, used: Sum) -> Sum:
        """R18: one price where there is but one, else so many of each offer."""
        price = one_price(self._c.instance, sku)
        return bought(self._c.programme, self._c.instance, sku, used) if price is None else price * used


def worth_a_thought(instance: Instance, makes: tuple[Make, ...]) -> list[Make]:
    """The cheapest way to make a line of parts of one price, and the ways that may yet be cheaper."""
    known: dict[Make, int] = {}
    others: dict[Make, int] = {}
    for make in makes:
        prices = [(one_price(instance, sku), pieces) for sku, pieces in make.parts]
        work = make.ends_made_up * task_price(instance, Task.TERMINATION)
        if make.tail is None and all(price is not None for price, _ in prices):
            known[make] = work + sum((price or 0) * pieces for price, pieces in prices)
        else:
            floors = [(floor_price(instance, sku) or 0) * pieces for sku, pieces in make.parts]
            others[make] = work + sum(floors)  # a tail may be the other half of a lead cut anyway
    best = min(known, key=lambda make: (known[make], make.parts), default=None)
    if best is None:
        return list(others)
    return [best, *(make for make, floor in others.items() if floor < known[best])]


def _lines(c: Choices) -> dict[Line, Sum]:
    """How many lines there are of each kind."""
    lines: dict[Line, list[Sum]] = defaultdict(list)
    for hook in c.hooks:
        for line in hook.lines:
            lines[line].append(hook.chosen)
    for entry in c.entries:
        lines[entry.line].append(entry.number)
    for link in c.links:
        lines[link.line].append(link.chosen)
    return {line: total(uses) for line, uses in lines.items()}
