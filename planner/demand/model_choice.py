"""Which models of a set are worth considering: dominated ones are left out."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from planner.brief.records import Brief, PhysicalLimit
from planner.catalogue.records import Catalogue, PortGroup, Powering
from planner.demand.bass_targets import active_level_1m_db
from planner.demand.feeds import SpeakerSources
from planner.demand.gear import Matters
from planner.demand.kinds import Kinds
from planner.demand.line_levels import line_output
from planner.demand.loads import LoadSet, Model, undominated_models
from planner.demand.passive_feeds import PassiveFeeds
from planner.demand.shelf import Shelf


def undominated_sets(
    sets: Iterable[LoadSet],
    brief: Brief,
    catalogue: Catalogue,
    shelf: Shelf,
    stand_in: "StandIn",
    matters: Matters,
) -> tuple[LoadSet, ...]:
    """The sets without the models that another takes the place of for no more."""
    levels = {s.sku: active_level_1m_db(s) for s in catalogue.subwoofers}
    weigh_level = PhysicalLimit.TARGET in brief.limits.physical

    def stands_in(load: LoadSet) -> Callable[[Model, Model], bool]:
        def as_good(other: Model, model: Model) -> bool:
            if matters.earths and other.earthed > model.earthed:
                return False
            if load.bass and load.target_spl_db is not None and weigh_level:
                louder = (levels[other.sku], levels[model.sku])
                if None in louder or (louder[0] or 0.0) < (louder[1] or 0.0):
                    return False
            return stand_in(load, other, model)

        return as_good

    return tuple(
        replace(load, models=undominated_models(load.models, shelf, matters.rack, stands_in(load))) for load in sets
    )


class StandIn:
    """Whether a model does in every place of a set what another does, jack for jack."""

    def __init__(self, kinds: Kinds, passive: PassiveFeeds, sources: SpeakerSources) -> None:
        self._kinds, self._passive, self._sources = kinds, passive, sources

    def __call__(self, load: LoadSet, other: Model, model: Model) -> bool:
        """Its line inputs, link outputs and terminals all have a counterpart at least as good."""
        return (
            {self._kinds.of(p) for p in other.line} >= {self._kinds.of(p) for p in model.line}
            and self._links(other) >= self._links(model)
            and self._terminals(load, other, model)
        )

    def _links(self, model: Model) -> frozenset[object]:
        """Link outputs with their levels, where levels tell daisy chains apart."""
        if not self._kinds.tells_chains_apart:
            return frozenset(self._kinds.of(port) for port in model.links)
        return frozenset((self._kinds.of(port), port.wired_through, line_output(port)) for port in model.links)

    def _terminals(self, load: LoadSet, other: Model, model: Model) -> bool:
        """Way for way where there are ways, else every alternative."""
        if model.powering is Powering.CROSSED:
            pairs = list(zip(other.terminals, model.terminals, strict=True))
            return all(self._pair(load, other, model, one, two) for one, two in pairs)
        return all(any(self._pair(load, other, model, one, two) for one in other.terminals) for two in model.terminals)

    def _pair(self, load: LoadSet, other: Model, model: Model, one: PortGroup, two: PortGroup) -> bool:
        if self._kinds.of(one) != self._kinds.of(two):
            return False
        here, there = self._passive.of(load, other, one), self._passive.of(load, model, two)
        return all(
            self._kinds.drives(source, here) or not self._kinds.drives(source, there)
            for source in (*self._sources.outlets, *self._sources.amplifiers)
        )
