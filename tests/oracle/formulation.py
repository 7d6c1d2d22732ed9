"""One scenario as a mixed-integer programme, and bounds on the measures of its designs."""

from collections.abc import Iterable

from planner.catalogue.records import PortRole
from planner.contacts import SPEAKER_LEVEL
from tests.oracle import rules
from tests.oracle.choices import Choices, Hook, chosen
from tests.oracle.instance import Bounds, Instance
from tests.oracle.leads import Leads
from tests.oracle.linear import Programme, Sum, total
from tests.oracle.points import spare
from tests.oracle.purchase import make_lines, subtotal
from tests.oracle.scenario import Feed, Scenario


class Formulation:
    """The least price of one scenario under bounds."""

    def __init__(self, instance: Instance, scenario: Scenario, leads: Leads) -> None:
        self._c = Choices(instance, scenario, leads)
        rules.every_feed_is_driven_once(self._c)
        rules.every_jack_takes_one_plug(self._c)
        rules.every_point_has_one_use(self._c)
        rules.splitters_of_one_split_are_alike(self._c)
        rules.like_jacks_are_used_in_order(self._c)
        rules.drives_are_allowed(self._c)
        rules.outputs_in_use_are_processed(self._c)
        rules.dsp_outputs_derive_from_inputs(self._c)
        rules.crossovers_are_made_in_one_device(self._c)
        rules.boxes_in_use_serve(self._c)
        rules.rack_units_fit(self._c)
        rules.control_groups_suffice(self._c)
        self._place = rules.chains_are_paths(self._c)
        self._made = make_lines(self._c)
        self._subtotal = subtotal(self._c, self._made)
        self._through = self._subwoofers_through_boxes()

    def least_subtotal(self, bounds: Bounds, below: int | None = None) -> int | None:
        """The least price without tax under the bounds and the brief's own limits.

        None where there is no design, or none cheaper than `below`.
        """
        limits, bounded = self._c.limits, self._c.programme.copy()
        self._bound_independent(bounded, max(bounds.least_independent, limits.least_independent_subwoofers))
        self._bound_spare(bounded, max(bounds.least_spare, limits.spare_outputs))
        for lost in (bounds.most_lost, limits.most_subwoofers_lost):
            if lost is not None:
                self._bound_lost(bounded, lost)
        if bounds.most_conversions is not None:
            bounded.at_most(self._conversions(), bounds.most_conversions)
        if bounds.most_joints is not None:
            bounded.at_most(self._joints(bounded), bounds.most_joints)
        if below is not None:
            bounded.at_most(self._subtotal, below - 1)
        return bounded.least(self._subtotal)

    def _subwoofers_through_boxes(self) -> dict[tuple[Feed, int], Sum]:
        """1 where a subwoofer's signal passes a DSP unit, by chain or not."""
        c = self._c
        through = {(feed, box): c.programme.binary() for feed in c.subwoofers for box in range(len(c.boxes))}
        for (feed, box), passes in through.items():
            c.programme.at_least(passes, chosen(h for h in c.hooks if h.feed is feed and h.point.box == box))
            for link in c.links:
                if link.sink is feed:
                    c.programme.at_least(passes, through[link.source, box] + link.chosen - 1)
        return through

    def _bound_independent(self, bounded: Programme, least: int) -> None:
        """M2: alone on a control point that offers what R10 asks."""
        c, alone = self._c, []
        for point in c.points:
            if point.controls.independent(c.limits.filters_per_subwoofer):
                for feed in c.subwoofers:
                    here = bounded.binary()
                    bounded.at_most(here, rules.hooks_of(c, point, feed))
                    bounded.at_most(here, c.single[point])
                    bounded.at_most(here, 1 - c.linked_from(feed))
                    alone.append(here)
        bounded.at_least(total(alone), least)

    def _bound_spare(self, bounded: Programme, least: int) -> None:
        """M3."""
        c = self._c
        spares: list[Sum] = []
        for output in c.processor_outputs:
            if output.group.connector not in SPEAKER_LEVEL:
                here = bounded.whole(spare(c.instance, output.group, used_points=0))
                if output.group.role is not PortRole.FIXED_MAIN:
                    bounded.at_most(here, total(1 - c.in_use(point) for point in output.points))
                spares.append(here)
        bounded.at_least(total(spares), least)
        bounded.at_least(rules.processed_left(c), least)
        bounded.at_least(c.limits.spare_ceiling, least)

    def _bound_lost(self, bounded: Programme, most: int) -> None:
        """M5: behind a box, behind the splitters on a jack, in a chain, or one subwoofer alone."""
        c = self._c
        bounded.at_most(min(1, len(c.subwoofers)), most)
        for box in range(len(c.boxes)):
            bounded.at_most(total(self._through[feed, box] for feed in c.subwoofers), most)
        for number in range(len(c.amplifiers)):
            bounded.at_most(_subs(hook for hook in c.hooks if hook.amplifier == number), most)
        for point in c.points:
            for jack in point.jacks:
                bounded.at_most(_subs(h for h in c.hooks_on[point] if h.jack == jack and h.leg), most)
        for place in self._place.values():
            bounded.at_most(place, most - 1)

    def _conversions(self) -> Sum:
        """M6."""
        lines = total(count for line, count in self._made.lines.items() if line.converts)
        return lines + total(split.tree.conversions * split.chosen for split in self._c.splits)

    def _joints(self, bounded: Programme) -> Sum:
        """M4: mated contacts, splitters, DSP units and amplifiers on the way to subwoofers."""
        c = self._c
        bass = {feed.key for feed in c.subwoofers}
        joints = total(2 * count for line, count in self._made.lines.items() if line.to_sub)
        joints += total(self._made.adapters_to_subs)
        joints += total(2 * len(s.tree.splitters) * s.chosen for s in c.splits if s.key in bass)
        for box in range(len(c.boxes)):
            serves = bounded.binary()
            joints += serves
            for feed in c.subwoofers:
                bounded.at_least(serves, self._through[feed, box])
        for number in range(len(c.amplifiers)):
            serves = bounded.binary()
            joints += serves
            for hook in c.hooks:
                if hook.feed.is_subwoofer and hook.amplifier == number:
                    bounded.at_least(serves, hook.chosen)
        return joints


def _subs(hooks: Iterable[Hook]) -> Sum:
    return chosen(hook for hook in hooks if hook.feed.is_subwoofer)
