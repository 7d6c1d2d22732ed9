"""The programme of one instance, and the bounds that a question puts on its measures."""

from planner.brief.records import Measure, SubwooferSet
from planner.catalogue.records import Card, DspUnit, Powering, Processor
from tests.oracle.instance import UNBOUNDED, Bounds, Instance
from tests.oracle.leads import Leads
from tests.oracle.linear import Programme, Sum, total
from tests.oracle.scope import assert_in_scope
from tests.oracle.whole import rules
from tests.oracle.whole.choices import Choices
from tests.oracle.whole.costs import subtotal


def assert_straightforward(instance: Instance) -> None:
    """Refuses an instance with what this programme has no words for."""
    assert_in_scope(instance)
    brief, catalogue = instance.brief, instance.catalogue
    assert Measure.JOINTS not in brief.measures, "joints are not counted"
    assert not brief.owned, "nothing is owned"
    assert brief.limits.least_control_groups == 0, "control groups are not counted"
    assert len({subs.channel for subs in brief.subwoofers}) <= 1, "one bass channel"
    assert all(subs.least == subs.most for subs in brief.subwoofers), "so many subwoofers"
    assert all(splitter.legs == 2 for splitter in catalogue.splitters), "two-way splitters"
    speakers = {sku for a_set in brief.loudspeakers for sku in a_set.candidates}
    subwoofers = [sub for sub in catalogue.subwoofers if _may_be_chosen(sub.sku, brief.subwoofers)]
    for speaker in catalogue.loudspeakers:
        assert speaker.sku not in speakers or speaker.powering is not Powering.CROSSED, "no crossed loudspeakers"
    assert all(sub.powering is Powering.ACTIVE for sub in subwoofers), "no passive subwoofers"
    devices: tuple[Processor | Card | DspUnit, ...] = (*catalogue.processors, *catalogue.cards, *catalogue.dsp_units)
    for device in devices:
        for offer in catalogue.offers.get(device.sku, ()):
            assert offer.least_order == 1, "no least order of processors and DSP units"


def _may_be_chosen(sku: str, sets: tuple[SubwooferSet, ...]) -> bool:
    return any(not a_set.candidates or sku in a_set.candidates for a_set in sets)


class Question:
    """The least price of one instance, written once and asked under many bounds."""

    def __init__(self, instance: Instance) -> None:
        assert_straightforward(instance)
        self.instance = instance
        self._c = c = Choices(instance, Leads(instance))
        rules.one_processor(c)
        rules.every_feed_is_driven_once(c)
        rules.jacks_suffice(c)
        rules.legs_have_their_feeds(c)
        rules.mirrored_groups_share(c)
        rules.amplifier_channels_suffice(c)
        rules.dsp_units_hold(c)
        rules.rack_units_fit(c)
        self._place = rules.chains_are_paths(c)
        self._subs = [feed for feed in c.feeds if feed.is_subwoofer]
        self._bass = {feed.channel for feed in self._subs}
        self.subtotal = subtotal(c)

    def under(self, bounds: Bounds = UNBOUNDED) -> Programme:
        """The programme with bounds on the measures, and with the brief's own."""
        bounded, limits = self._c.programme.copy(), self._c.limits
        self._bound_independent(bounded, max(bounds.least_independent, limits.least_independent_subwoofers))
        self._bound_spare(bounded, max(bounds.least_spare, limits.spare_outputs))
        lost = [most for most in (bounds.most_lost, limits.most_subwoofers_lost) if most is not None]
        if lost:
            self._bound_lost(bounded, min(lost))
        if bounds.most_conversions is not None:
            bounded.at_most(self._conversions(), bounds.most_conversions)
        assert bounds.most_joints is None, "joints are not counted"
        return bounded

    def _bound_independent(self, bounded: Programme, least: int) -> None:
        """M2: alone on a control point that offers what R10 asks, and nothing chained behind it."""
        if least <= 0:
            return
        c, alone = self._c, []
        for feed in self._subs:
            settable = total(h.chosen for h in c.hooks_of[feed] if h.alone and h.source[0].settable)
            if c.links_from[feed]:
                here = bounded.binary()
                bounded.at_most(here, settable)
                bounded.at_most(here, 1 - total(link.chosen for link in c.links_from[feed]))
                settable = here
            alone.append(settable)
        bounded.at_least(total(alone), least)

    def _bound_spare(self, bounded: Programme, least: int) -> None:
        """M3."""
        if least <= 0:
            return
        c = self._c
        free = [configuration.fixed_spare * chosen for configuration, chosen in c.configurations]
        for jack, have in c.processor_jacks:
            if jack.speaker_level or jack.fixed:
                continue
            left = have - c.points((jack, None))
            if jack.others is not None:
                useful = bounded.whole(jack.others)
                bounded.at_most(useful, left)
                left = useful
            free.append(left)
        bounded.at_least(total(free), least)
        bounded.at_least(rules.processed_left(c), least)
        bounded.at_least(c.limits.spare_ceiling, least)

    def _bound_lost(self, bounded: Programme, most: int) -> None:
        """M5: behind the splitters on a jack, in a chain, behind a DSP unit, or one subwoofer alone."""
        c = self._c
        bounded.at_most(min(1, len(self._subs)), most)
        for split in c.splits:
            if split.channel in self._bass and split.legs > most:
                bounded.at_most(split.number, 0)
        for place in self._place.values():
            bounded.at_most(place, most - 1)
        for slot in c.slots:
            bounded.at_most(total(self._through(bounded, slot)), most)

    def _through(self, bounded: Programme, slot: int) -> list[Sum]:
        """1 where a subwoofer's signal passes a DSP unit, by chain or not."""
        c = self._c
        if not c.links:
            return [h.chosen for feed in self._subs for h in c.hooks_of[feed] if h.source[1] == slot]
        through = {feed: bounded.binary() for feed in self._subs}
        for feed, passes in through.items():
            bounded.at_least(passes, total(h.chosen for h in c.hooks_of[feed] if h.source[1] == slot))
            for link in c.links_into[feed]:
                bounded.at_least(passes, through[link.source] + link.chosen - 1)
        return list(through.values())

    def _conversions(self) -> Sum:
        """M6."""
        c = self._c
        hooks = total(sum(line.converts for line in hook.lines) * hook.chosen for hook in c.hooks)
        entries = total(entry.line.converts * entry.number for entry in c.entries)
        links = total(link.line.converts * link.chosen for link in c.links)
        splits = total((split.pattern[2] is not split.source[0].plug.balanced) * split.number for split in c.splits)
        return hooks + entries + links + splits
