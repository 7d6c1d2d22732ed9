"""What is bought, and the price: R18 and M1, in whole minor units before tax."""

from collections import defaultdict
from dataclasses import dataclass

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total, weighted
from planner.allocation.variables import Variables
from planner.catalogue.records import Offer
from planner.demand.leads import Earth
from planner.demand.links import LinkKey, LinkOption
from planner.house import Task

# A link as its choices are counted: with joints weighed, apart for bass and for the rest.
LinkUse = tuple[LinkKey, bool]


@dataclass(frozen=True, slots=True)
class LinkChoice:
    """Option number `option` of a link; `bass` only where joints are weighed."""

    key: LinkKey
    bass: bool
    option: int
    lead: LinkOption


@dataclass(frozen=True, slots=True)
class OfferCount:
    """So many bought of one offer of a sku whose price depends on the number."""

    sku: str
    offer: Offer
    unit_minor: int
    count: cp_model.IntVar


class Purchases:
    """Adds what every sku costs, and what may be had of it."""

    def __init__(self, model: cp_model.CpModel, v: Variables, joints_apart: bool) -> None:
        self._model, self._v, self._demand = model, v, v.demand
        self._joints_apart = joints_apart
        self._uses: dict[str, list[Expr]] = defaultdict(list)
        self._fixed: list[Expr] = []
        self.link_choices: dict[LinkChoice, cp_model.IntVar] = {}
        self.offer_counts: list[OfferCount] = []
        self.cut_leads: dict[str, cp_model.IntVar] = {}

    def subtotal(self) -> Expr:
        """The price before tax; adds all that R18 asks for on the way."""
        self._processors()
        self._loads()
        self._dsp_and_amplifiers()
        self._links()
        self._splitters()
        self._cuts()
        for sku in sorted(self._uses):
            self._acquire(sku, total(self._uses[sku]))
        self._use_what_must_be_used()
        return total(self._fixed)

    def used(self, sku: str) -> Expr:
        """How many of a processor, card, DSP unit, amplifier, loudspeaker or subwoofer the design uses."""
        choices = zip(self._demand.processors, self._v.processor, strict=True)
        chosen = weighted(((c.sku == sku) + c.cards.count(sku), there) for c, there in choices)
        return chosen + total(self._uses.get(sku, ()))

    def isolated(self, before: Earth) -> Expr:
        """Links that have an isolator in them, before gear of one kind of earth."""
        choices = self.link_choices.items()
        return total(n for choice, n in choices if choice.lead.isolated is not None and choice.key.sink.earth is before)

    def open_joints(self) -> Expr:
        """Mated pairs of bass links that are still a choice."""
        return total(choice.lead.joints * n for choice, n in self.link_choices.items() if choice.bass)

    def _processors(self) -> None:
        for choice, chosen in zip(self._demand.processors, self._v.processor, strict=True):
            self._fixed.append(choice.price_minor * chosen)

    def _loads(self) -> None:
        for load in self._demand.sets:
            task = Task.SUBWOOFER if load.bass else Task.LOUDSPEAKER
            for model in load.models:
                there = total(self._v.present[load.name, model.sku, m.index] for m in load.members)
                self._fixed.append(self._demand.prices.labour_minor(task) * there)
                self._uses[model.sku].append(there)

    def _dsp_and_amplifiers(self) -> None:
        for choice in self._demand.dsp_units:
            units = total(self._v.unit[u, choice.sku] for u in self._v.units)
            self._fixed.append(choice.fitting_minor * units)
            self._uses[choice.sku].append(units)
        for amplifier in self._demand.amplifiers if self._v.amplifiers else ():
            units = self._v.amplifiers[amplifier.sku]
            self._fixed.append(amplifier.fitting_minor * units)
            self._uses[amplifier.sku].append(units)

    def _links(self) -> None:
        """Links of one price cost it; for the others, as many options are chosen as there are links."""
        wanted: dict[LinkUse, list[Expr]] = defaultdict(list)
        for cost, n, bass in self._v.steps():
            self._fixed.append(cost.price_minor * n)
            for key in cost.open_links:
                wanted[key, bass and self._joints_apart].append(n)
        for feed in self._demand.feeds:
            for index, extra in zip(feed.members, feed.extra_minor, strict=True):
                if extra:
                    self._fixed.append(extra * self._v.present[feed.set_name, feed.sku, index])
        for use in sorted(wanted):
            self._choose(use, wanted[use])

    def _choose(self, use: LinkUse, wanted: list[Expr]) -> None:
        most = 2 * sum(len(f.members) for f in self._demand.feeds) + 8
        chosen = []
        for number, option in enumerate(self._demand.links.options(use[0])):
            n = self._model.new_int_var(0, most, f"link {use[0]} option {number}")
            self.link_choices[LinkChoice(*use, number, option)] = n
            chosen.append(n)
            self._fixed.append(option.fixed_minor * n)
            for sku, count in option.coupled:
                self._uses[sku].append(count * n)
        self._model.add(total(chosen) == total(wanted))

    def _splitters(self) -> None:
        """Splitters whose price depends on how many are bought."""
        for split, n in zip(self._demand.split_flows, self._v.split, strict=True):
            for sku, count in split.coupled:
                self._uses[sku].append(count * n)

    def _cuts(self) -> None:
        """R3: a lead cut in half gives one tail of each end; bought leads cover the tails of both.

        Spare tails are of halves that the others leave over: no lead is cut for them.
        """
        needed: dict[str, dict[str, list[cp_model.IntVar]]] = defaultdict(lambda: {"a": [], "b": []})
        spare: dict[str, dict[str, list[cp_model.IntVar]]] = defaultdict(lambda: {"a": [], "b": []})
        for choice, n in self.link_choices.items():
            if choice.lead.tail is not None:
                sku, end = choice.lead.tail
                (spare if choice.lead.spare else needed)[sku][end].append(n)
        for sku in sorted({*needed, *spare}):
            cut = self._model.new_int_var(0, 64, f"cut {sku}")
            self._model.add_max_equality(cut, [total(tails) for tails in needed[sku].values()])
            for end, tails in spare[sku].items():
                if tails:
                    self._model.add(total(tails) + total(needed[sku][end]) <= cut)
            self.cut_leads[sku] = cut
            self._uses[sku].append(cut)

    def _acquire(self, sku: str, used: Expr) -> None:
        """What is used beyond what is owned is bought: at one price, or offer by offer."""
        shelf = self._demand.shelf
        if shelf.simple(sku):
            self._fixed.append(shelf.unit_minor(sku) * used)
            return
        bought: list[cp_model.IntVar] = []
        for price, offer in shelf.offers(sku):
            most = 4096 if offer.stock is None else offer.stock
            count = self._model.new_int_var(0, most, f"buy {sku} of {offer.supplier}")
            if offer.least_order > 1:
                some = self._model.new_bool_var(f"any {sku} of {offer.supplier}")
                self._model.add(count >= offer.least_order).only_enforce_if(some)
                self._model.add(count == 0).only_enforce_if(some.negated())
            bought.append(count)
            self._fixed.append(price * count)
            self.offer_counts.append(OfferCount(sku, offer, price, count))
        self._model.add(used <= shelf.owned(sku) + total(bought))

    def _use_what_must_be_used(self) -> None:
        """Owned gear that must be used is, every piece of it."""
        demand = self._demand
        for entry in demand.brief.owned:
            if not entry.must_use:
                continue
            self._model.add(self.used(entry.sku) >= demand.shelf.owned(entry.sku))
