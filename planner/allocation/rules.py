"""What must hold. `add_rules` is the table of contents; identifiers are the contract's."""

from collections import defaultdict
from itertools import pairwise

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total, weighted
from planner.allocation.variables import Variables, members_of
from planner.demand.flows import Mode
from planner.demand.outlets import Outlet


class Rules:
    """Adds the rules of a valid design to a model, each by a method of its own."""

    def __init__(self, model: cp_model.CpModel, v: Variables) -> None:
        self._model, self._v, self._demand = model, v, v.demand

    def add_rules(self) -> None:
        """All rules but those on money, which `purchases` adds."""
        self.one_processor()
        self.one_model_for_each_set()
        self.members_in_order()
        self.every_feed_is_driven_once()
        self.outlets_are_not_overbooked()
        self.mirrored_jacks_carry_one_signal()
        self.fixed_jacks_serve_their_own_channel_once()
        self.processor_renders_and_processes_enough()
        self.dsp_units_are_not_overbooked()
        self.dsp_outputs_derive_from_their_own_inputs()
        self.all_ways_come_from_one_device()
        self.legs_need_splitters()
        self.amplifier_channels_suffice()
        self.chains_hang_together()
        self.rack_holds_everything()

    def one_processor(self) -> None:
        """Exactly one processor, with its cards, renders everything."""
        self._model.add_exactly_one(self._v.processor)

    def one_model_for_each_set(self) -> None:
        """All members of a set are one chosen model."""
        for load in self._demand.sets:
            self._model.add_exactly_one(self._v.model_of[load.name, m.sku] for m in load.models)

    def members_in_order(self) -> None:
        """Members are there from the first on: the least number always, no gaps after."""
        for load in self._demand.sets:
            for model in load.models:
                chosen = self._v.model_of[load.name, model.sku]
                present = [self._v.present[load.name, model.sku, m.index] for m in load.members]
                for index, there in enumerate(present):
                    if index < load.least:
                        self._model.add(there == chosen)
                    else:
                        self._model.add(there <= (present[index - 1] if index else chosen))

    def every_feed_is_driven_once(self) -> None:
        """R1: as many flows into a class as members are there and not fed by a chain."""
        for feed in self._demand.feeds:
            flows = total(self._v.feed[i] for i in self._v.into.get(feed.index, ()))
            wanted = total(self._v.present[m] - self._v.fed_by_chain(m) for m in members_of(feed))
            self._model.add(flows == wanted)

    def outlets_are_not_overbooked(self) -> None:
        """R2, R6: control points in use do not exceed what the chosen processor offers."""
        for outlet in self._processor_outlets():
            self._model.add(self._v.points((outlet, None)) <= self._v.offered(outlet))

    def mirrored_jacks_carry_one_signal(self) -> None:
        """R4: a mirrored group that feeds several has jacks enough, two feeds at least, and no more than a split may have."""
        for (outlet, channel), group in self._v.mirror_group.items():
            flows, splits = self._demand.feed_flows, self._demand.split_flows
            single = [
                self._v.feed[i]
                for i in self._v.out_of.get((outlet, None), ())
                if flows[i].mode is Mode.MIRROR and flows[i].feed.channel == channel
            ]
            split = [
                (self._v.split[i], splits[i].legs)
                for i in self._v.split_of.get((outlet, None), ())
                if splits[i].channel == channel
            ]
            fed = total(single) + total(n * legs for n, legs in split)
            self._model.add(total(single) + total(n for n, _ in split) <= outlet.jacks * group)
            self._model.add(fed >= 2 * group)
            self._model.add(fed <= self._demand.brief.limits.largest_split * group)

    def fixed_jacks_serve_their_own_channel_once(self) -> None:
        """R4: a channel that several feeds share has one fixed jack of its own, not more."""
        buses = {f.channel for f in self._demand.feeds if f.channel is not None}
        for outlet in self._processor_outlets():
            for channel in sorted(buses & set(outlet.listed)) if outlet.fixed else ():
                self._model.add(self._v.points((outlet, None), channel) <= outlet.listed.count(channel))

    def processor_renders_and_processes_enough(self) -> None:
        """R5: distinct channels, and outputs that are set separately."""
        processors = list(zip(self._demand.processors, self._v.processor, strict=True))
        rendered = total(p.rendered_channels * y for p, y in processors)
        processed = total(p.processed_outputs * y for p, y in processors)
        self._model.add(self._distinct_channels() <= rendered)
        self._model.add(self.processor_points() <= processed)

    def processor_points(self) -> Expr:
        """Processor outputs in use, each mirrored group once."""
        return total(self._v.points((outlet, None)) for outlet in self._processor_outlets())

    def _distinct_channels(self) -> Expr:
        """Channels that the design carries; a bass channel only where a subwoofer is there."""
        sets = self._demand.sets
        certain = {m.channel for s in sets for m in s.members[: s.least]}
        terms: list[Expr | int] = [len(certain)]
        for channel in sorted({m.channel for s in sets for m in s.members} - certain):
            used = self._model.new_bool_var(f"{channel} in use")
            for load in sets:
                for index in [m.index for m in load.members if m.channel == channel][:1]:
                    there = total(self._v.present[load.name, model.sku, index] for model in load.models)
                    self._model.add(there <= used)
            terms.append(used)
        return total(terms)

    def dsp_units_are_not_overbooked(self) -> None:
        """R2, R7: one model a unit; its jacks by kind and its signals in and out suffice."""
        choices = self._demand.dsp_units
        outlets = sorted({o for d in choices for o in d.outlets})
        for unit in self._v.units:
            self._model.add_at_most_one(self._v.unit[unit, d.sku] for d in choices)
            entering: dict[object, list[cp_model.IntVar]] = defaultdict(list)
            for flow, count in zip(self._demand.dsp_flows, self._v.dsp_in, strict=True):
                if flow.unit == unit:
                    entering[flow.inlet].append(count)
            for kind in sorted({k for d in choices for k in d.inlets}):
                jacks = total(d.inlets.get(kind, 0) * self._v.unit[unit, d.sku] for d in choices)
                self._model.add(total(entering[kind]) <= jacks)
            signals_in = total(total(counts) for counts in entering.values())
            self._model.add(signals_in <= total(d.inputs * self._v.unit[unit, d.sku] for d in choices))
            for outlet in outlets:
                jacks = total(d.outlets.get(outlet, 0) * self._v.unit[unit, d.sku] for d in choices)
                self._model.add(self._v.points((outlet, unit)) <= jacks)
            self._model.add(signals_in >= total(self._v.unit[unit, d.sku] for d in choices))
            signals_out = total(self._v.points((outlet, unit)) for outlet in outlets)
            self._model.add(signals_out <= total(d.outputs * self._v.unit[unit, d.sku] for d in choices))
        self._units_in_order()

    def _units_in_order(self) -> None:
        """Equal units are numbered by their place in the catalogue: one of many equal answers."""
        rank = {d.sku: n for n, d in enumerate(self._demand.dsp_units, start=1)}
        ranks = [total(r * self._v.unit[u, sku] for sku, r in rank.items()) for u in self._v.units]
        for first, second in pairwise(ranks):
            self._model.add(first >= second)

    def dsp_outputs_derive_from_their_own_inputs(self) -> None:
        """R7: a bus channel needs an input on each unit that gives it out, one for each m outputs where routing is fixed."""
        for unit in self._v.units:
            for channel in sorted({f.bus for f in self._demand.dsp_flows if f.bus is not None}):
                entering = total(
                    n for f, n in zip(self._demand.dsp_flows, self._v.dsp_in, strict=True)
                    if f.unit == unit and f.bus == channel
                )  # fmt: skip
                outlets = sorted({o for d in self._demand.dsp_units for o in d.outlets})
                leaving = total(self._v.points((o, unit), channel) for o in outlets)
                self._model.add(entering <= leaving)
                self._bus_feeds_need_an_input(unit, channel, entering)
                for choice in self._demand.dsp_units:
                    if choice.outputs_per_input is not None:
                        is_it = self._v.unit[unit, choice.sku]
                        self._model.add(leaving <= choice.outputs_per_input * entering).only_enforce_if(is_it)

    def _bus_feeds_need_an_input(self, unit: int, channel: str, entering: Expr) -> None:
        """One bound for each feed class: tighter, where numbers may be split, than one for all of them."""
        for feed in self._demand.feeds:
            flows = [i for i in self._v.into.get(feed.index, ()) if self._demand.feed_flows[i].unit == unit]
            if feed.channel == channel and flows:
                fed = total(self._v.feed[i] for i in flows)
                self._model.add(fed <= len(feed.members) * entering)
                units = total(self._v.unit[unit, d.sku] for d in self._demand.dsp_units)
                self._model.add(fed <= len(feed.members) * units)

    def all_ways_come_from_one_device(self) -> None:
        """R7, R10: a feed of its own channel through a unit has one input there; its ways leave together."""
        for unit in self._v.units:
            leaving = self._leaving_by_family(unit)
            firsts: dict[object, list[Expr]] = defaultdict(list)
            for feed in self._demand.feeds:
                if feed.channel is not None:
                    continue
                count = leaving[feed.family, feed.way]
                if feed.way in (None, 1):
                    firsts[feed.carriers].append(count)
                else:
                    self._model.add(count == leaving[feed.family, 1])
                self._ways_fit_fixed_routing(unit, count, feed.ways)
            entering: dict[object, list[cp_model.IntVar]] = defaultdict(list)
            for flow, n in zip(self._demand.dsp_flows, self._v.dsp_in, strict=True):
                if flow.unit == unit and flow.bus is None:
                    entering[flow.carriers].append(n)
            for carriers in {**firsts, **entering}:
                self._model.add(total(entering[carriers]) == total(firsts[carriers]))

    def _leaving_by_family(self, unit: int) -> dict[tuple[int, int | None], Expr]:
        counts: dict[tuple[int, int | None], Expr] = defaultdict(lambda: total(()))
        for flow, n in zip(self._demand.feed_flows, self._v.feed, strict=True):
            if flow.unit == unit and flow.feed.channel is None:
                key = (flow.feed.family, flow.feed.way)
                counts[key] = counts[key] + n
        return counts

    def _ways_fit_fixed_routing(self, unit: int, count: Expr, ways: int) -> None:
        for choice in self._demand.dsp_units:
            if choice.outputs_per_input is not None and choice.outputs_per_input < ways:
                self._model.add(count == 0).only_enforce_if(self._v.unit[unit, choice.sku])

    def legs_need_splitters(self) -> None:
        """R8: every leg that feeds something belongs to a split of its outlet and channel."""
        legs: dict[object, list[Expr]] = defaultdict(list)
        for flow, n in zip(self._demand.feed_flows, self._v.feed, strict=True):
            if flow.mode is Mode.LEG:
                legs[flow.outlet, flow.unit, flow.feed.channel, flow.leg].append(n)
        offered: dict[object, list[Expr]] = defaultdict(list)
        for split, n in zip(self._demand.split_flows, self._v.split, strict=True):
            offered[split.outlet, split.unit, split.channel, split.leg].append(split.legs * n)
        for key in {**legs, **offered}:
            self._model.add(total(legs[key]) == total(offered[key]))

    def amplifier_channels_suffice(self) -> None:
        """R2, R6: flows into amplifier inputs are served by channels of amplifiers bought, none of which is idle."""
        entering: dict[object, list[cp_model.IntVar]] = defaultdict(list)
        for flow, n in zip(self._demand.feed_flows, self._v.feed, strict=True):
            if flow.inlet.amplifier_out is not None:
                entering[flow.start, flow.inlet.amplifier_out, flow.feed.bass].append(n)
        joined: dict[object, list[cp_model.IntVar]] = defaultdict(list)
        served: dict[tuple[object, object, bool], list[cp_model.IntVar]] = defaultdict(list)
        for entry, n in zip(self._demand.amplifier_flows, self._v.amplifier_in, strict=True):
            joined[entry.source, entry.out, entry.bass].append(n)
            served[entry.inlet, entry.out, entry.bass].append(n)
        for key in {**entering, **joined}:
            self._model.add(total(entering[key]) == total(joined[key]))
        for inlet, out in sorted({(entry.inlet, entry.out) for entry in self._demand.amplifier_flows}):
            uses = [u for u in self._v.amplifier_uses if (u.inlet, u.amplifier.terminals) == (inlet, out.contact)]
            bass, rest = served[inlet, out, True], served[inlet, out, False]
            self._model.add(total(u.channels for u in uses) == total(bass) + total(rest))
            if bass:
                self._model.add(total(u.bass_channels for u in uses) == total(bass))
        for use in self._v.amplifier_uses:
            self._model.add(use.bass_channels <= use.channels)
        for amplifier in self._demand.amplifiers if self._v.amplifiers else ():
            used = total(u.channels for u in self._v.amplifier_uses if u.amplifier is amplifier)
            self._model.add(used <= amplifier.channels * self._v.amplifiers[amplifier.sku])
            self._model.add(self._v.amplifiers[amplifier.sku] <= used)
        self._amplifiers_cover_what_is_left()

    def _amplifiers_cover_what_is_left(self) -> None:
        """Follows from the rest: amplifiers serve at least the passive feeds that internal ones cannot.

        A channel beyond that number is worth nothing towards it, which keeps the relaxation
        from buying a fraction of a large amplifier.
        """
        inside = sum(n for p in self._demand.processors for o, n in p.outlets.items() if o.speaker)
        least = {s.name: s.least for s in self._demand.sets if s.models and not any(m.line for m in s.models)}
        ways = {s.name: min(m.ways for m in s.models) for s in self._demand.sets if s.models}
        needed = sum(number * ways[name] for name, number in least.items()) - inside
        if needed > 0:
            amplifiers = [(min(a.channels, needed), self._v.amplifiers[a.sku]) for a in self._demand.amplifiers]
            self._model.add(weighted(amplifiers) >= needed)

    def chains_hang_together(self) -> None:
        """R9: a chain runs from its head by link outputs, without a loop, to its stated size."""
        if not self._demand.chain_links:
            for flow, n in zip(self._demand.feed_flows, self._v.feed, strict=True):
                if flow.mode is Mode.CHAIN:
                    self._model.add(n == 0)
            return
        sizes = sorted({f.size for f in self._demand.feed_flows if f.mode is Mode.CHAIN})
        most = max(sizes, default=1)
        members = [m for f in self._demand.feeds if f.bass and f.inlets for m in members_of(f)]
        behind = {m: self._model.new_int_var(1, most, f"chain from {m}") for m in members}
        head = {(m, s): self._model.new_bool_var(f"{m} heads {s}") for m in members for s in sizes}
        for member in members:
            heads = total(head[member, s] for s in sizes)
            fed, feeds = self._v.fed_by_chain(member), self._v.feeds_chain(member)
            self._model.add(fed + heads <= self._v.present[member])
            self._model.add(feeds <= fed + heads)
            self._model.add(behind[member] <= 1 + (most - 1) * feeds)
            for size in sizes:
                self._model.add(behind[member] == size).only_enforce_if(head[member, size])
        for link, used in zip(self._demand.chain_links, self._v.chain, strict=True):
            self._model.add(behind[link.source] == behind[link.sink] + 1).only_enforce_if(used)
        for member in members:
            self._model.add(self._v.feeds_chain(member) <= 1)
        for feed in self._demand.feeds:
            for size in sizes if feed.bass else ():
                flows = [i for i in self._v.into.get(feed.index, ()) if self._is_chain(i, size)]
                heads = total(head[m, size] for m in members_of(feed))
                self._model.add(total(self._v.feed[i] for i in flows) == heads)

    def _is_chain(self, flow: int, size: int) -> bool:
        found = self._demand.feed_flows[flow]
        return found.mode is Mode.CHAIN and found.size == size

    def rack_holds_everything(self) -> None:
        """R16: rack units of all that stands in the rack."""
        units = self._demand.brief.rack.units
        if units is None:
            return
        in_rack: list[Expr | int] = [
            p.rack_units * y for p, y in zip(self._demand.processors, self._v.processor, strict=True)
        ]
        for choice in self._demand.dsp_units:
            in_rack += [choice.rack_units * self._v.unit[u, choice.sku] for u in self._v.units]
        for amplifier in self._demand.amplifiers if self._v.amplifiers else ():
            in_rack.append(amplifier.rack_units * self._v.amplifiers[amplifier.sku])
        for load in self._demand.sets:
            for model in load.models if any(m.rack_units for m in load.models) else ():
                in_rack += [model.rack_units * self._v.present[load.name, model.sku, m.index] for m in load.members]
        self._model.add(total(in_rack) <= units)

    def _processor_outlets(self) -> list[Outlet]:
        return sorted({o for p in self._demand.processors for o in p.outlets})
