"""Every reduction that the demand makes, and how to do without it."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import count
from typing import Any

import pytest

from planner.catalogue.records import Offer
from planner.demand import build, chains, feeds, flow_search, link_pruning, model_choice, outlets, shelf, splits
from planner.demand.build import Demand

# Whatever the random shops may sell.
SKUS = tuple(f"{letter}{number}" for letter in "PDAWXNY" for number in (*range(9), *(f"{n:02}" for n in range(12))))


def _all(choices: Iterable[Any], *_: Any) -> tuple[Any, ...]:
    return tuple(choices)


def _every_lead(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(link_pruning.LinkPruning, "pruned", lambda self, table: table)


def _every_processor(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(build, "undominated_processors", _all)


def _every_model(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(model_choice, "undominated_models", _all)


def _every_dsp_unit(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(build, "undominated_dsp", _all)


def _every_amplifier(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(build, "undominated_amplifiers", _all)


def _every_member_apart(patch: pytest.MonkeyPatch) -> None:
    """No two feeds are alike: each is a class of its own, with links of its own length."""
    numbers = count()

    def apart(member: Any, model: Any, shared: bool, absolute: bool, ways_in: Any, carriers_of: Any, costs: Any) -> Any:
        bus = member.channel if shared else None
        return feeds.Signature(bus, carriers_of(member.channel), ("apart", next(numbers))), 0

    patch.setattr(feeds, "_signature", apart)


def _every_inlet(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(flow_search, "_undominated", lambda rivals, weigh_joints: rivals)


def _every_split(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(splits, "_cheapest", lambda found: found)


def _every_offer(patch: pytest.MonkeyPatch) -> None:
    """Offers that can sell anything, also those behind a cheaper one without bounds."""

    def all_of(ranked: Iterable[tuple[int, Offer]]) -> tuple[tuple[int, Offer], ...]:
        return tuple((price, o) for price, o in ranked if o.stock is None or o.stock >= o.least_order)

    patch.setattr(shelf, "_useful_offers", all_of)


def _every_port_group_apart(patch: pytest.MonkeyPatch) -> None:
    """No two port groups are one outlet, of one device or of two."""
    numbers, outlet_of = count(1000), outlets.View.outlet

    def apart(self: outlets.View, group: Any, controls: Any) -> Any:
        found = outlet_of(self, group, controls)
        return None if found is None else replace(found, ordinal=next(numbers))

    patch.setattr(outlets.View, "outlet", apart)


def _every_chain(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(chains, "_undominated", lambda rivals, weigh_joints: rivals)


@dataclass(frozen=True, slots=True)
class Reduction:
    """How to do without one reduction, and the size of what it makes smaller."""

    undo: Callable[[pytest.MonkeyPatch], None]
    size: Callable[[Demand], int]


def _outlets(demand: Demand) -> int:
    return len({outlet for processor in demand.processors for outlet in processor.outlets})


REDUCTIONS: Mapping[str, Reduction] = {
    "leads": Reduction(_every_lead, lambda demand: sum(map(len, demand.links.table().values()))),
    "processors": Reduction(_every_processor, lambda demand: len(demand.processors)),
    "models": Reduction(_every_model, lambda demand: sum(len(load.models) for load in demand.sets)),
    "dsp units": Reduction(_every_dsp_unit, lambda demand: len(demand.dsp_units)),
    "amplifiers": Reduction(_every_amplifier, lambda demand: len(demand.amplifiers)),
    "feeds": Reduction(_every_member_apart, lambda demand: len(demand.feeds)),
    "inlets": Reduction(_every_inlet, lambda demand: len(demand.feed_flows)),
    "splits": Reduction(_every_split, lambda demand: len(demand.split_flows)),
    "offers": Reduction(_every_offer, lambda demand: sum(len(demand.shelf.offers(sku)) for sku in SKUS)),
    "outlets": Reduction(_every_port_group_apart, _outlets),
    "chains": Reduction(_every_chain, lambda demand: len(demand.chains)),
}
