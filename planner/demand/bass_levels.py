"""How loud a subwoofer is sure to be, whichever of the amplifiers that may drive it does so (R13)."""

from planner.catalogue.records import Catalogue, Powering
from planner.demand.bass_targets import active_level_1m_db
from planner.demand.feeds import SpeakerSources
from planner.demand.kinds import Kinds
from planner.demand.loads import LoadSet, Member, Model
from planner.demand.passive_feeds import PassiveFeeds


class BassLevels:
    """Levels of the subwoofers of one brief."""

    def __init__(self, kinds: Kinds, passive: PassiveFeeds, catalogue: Catalogue, sources: SpeakerSources) -> None:
        self._kinds, self._passive, self._sources = kinds, passive, sources
        self._stated = {subwoofer.sku: active_level_1m_db(subwoofer) for subwoofer in catalogue.subwoofers}

    def level_1m_db(self, load: LoadSet, model: Model, member: Member) -> float | None:
        """The stated level of an active one; of a passive one the least by any channel that may drive it.

        Channels that the catalogue gives no power for are left out: a design with one is not held
        to the target.
        """
        if model.powering is Powering.ACTIVE:
            return self._stated[model.sku]
        levels = [
            level
            for port in model.terminals
            for source in (*self._sources.outlets, *self._sources.amplifiers)
            for level in self._kinds.levels_1m_db(source, self._passive.of(load, model, port))
        ]
        return min((level for level in levels if level is not None), default=None)
