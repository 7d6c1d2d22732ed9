"""What can vary: one count for every flow, and the gear that the flows need."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeVar

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total, weighted
from planner.demand.build import Demand
from planner.demand.feeds import FeedClass
from planner.demand.flows import Cost, DspFlow, Mode
from planner.demand.gear import AmplifierChoice
from planner.demand.leads import Kind
from planner.demand.outlets import Outlet
from planner.demand.starvation import Starved

Member = tuple[str, str, int]  # set name, model sku, index in the set
Key = TypeVar("Key")
Source = tuple[Outlet, int | None]  # an outlet, and the DSP unit's number or None


@dataclass(frozen=True, slots=True)
class AmplifierUse:
    """Channels of one amplifier model used by one input kind, and those that feed subwoofers."""

    amplifier: AmplifierChoice
    inlet: Kind
    channels: cp_model.IntVar
    bass_channels: Expr


class Variables:
    """All decisions of one demand. Each tuple or mapping follows the demand's own order."""

    def __init__(self, model: cp_model.CpModel, demand: Demand) -> None:
        self.demand = demand
        self._model = model
        self.processor = [model.new_bool_var(f"processor {p.sku} {p.cards}") for p in demand.processors]
        self.model_of = {
            (s.name, m.sku): model.new_bool_var(f"{s.name} is {m.sku}") for s in demand.sets for m in s.models
        }
        self.present = self._present()
        self.feed = [self._count(f"flow {i}", len(f.feed.members)) for i, f in enumerate(demand.feed_flows)]
        most = sum(len(s.members) for s in demand.sets)
        feeds = sum(len(f.members) for f in demand.feeds)
        self.drive = [self._count(f"drive {i}", len(f.feed.members)) for i, f in enumerate(demand.drive_flows)]
        self.amplifier_in = [self._count(f"amplifier in {i}", feeds) for i, _ in enumerate(demand.amplifier_flows)]
        self.dsp_in = [self._count(f"dsp in {i}", most) for i, _ in enumerate(demand.dsp_flows)]
        self.split = [self._count(f"split {i}", most // f.legs) for i, f in enumerate(demand.split_flows)]
        self.chain = [model.new_bool_var(f"chain {i}") for i, _ in enumerate(demand.chains)]
        self.units = demand.units
        self.unit = {
            (u, d.sku): model.new_bool_var(f"dsp {u} is {d.sku}") for u in self.units for d in demand.dsp_units
        }
        self.amplifiers = self._amplifiers()
        self.amplifier_uses = self._amplifier_uses()
        self.mirror_group = self._mirror_groups()
        self.set_members = {s.name: s.members for s in demand.sets}
        self._entered: dict[int, cp_model.IntVar] = {}
        self._index()

    def _count(self, name: str, most: int) -> cp_model.IntVar:
        return self._model.new_int_var(0, most, name)

    def _present(self) -> dict[Member, cp_model.IntVar]:
        """Whether each member is there, as each model that may serve it."""
        return {
            (s.name, m.sku, member.index): self._model.new_bool_var(f"{s.name} {member.index} as {m.sku}")
            for s in self.demand.sets
            for m in s.models
            for member in s.members
        }

    def _amplifiers(self) -> dict[str, cp_model.IntVar]:
        most = sum(len(f.members) for f in self.demand.feeds if not f.active)
        return {a.sku: self._count(f"amplifier {a.sku}", most) for a in self.demand.amplifiers} if most else {}

    def _amplifier_uses(self) -> list[AmplifierUse]:
        """One for each amplifier and each of its input kinds that some flow can use."""
        wanted = {(f.inlet, f.out) for f in self.demand.amplifier_flows}
        bass = {(f.inlet, f.out) for f in self.demand.amplifier_flows if f.bass}
        most = sum(len(f.members) for f in self.demand.feeds)
        uses = []
        for amplifier in self.demand.amplifiers if self.amplifiers else ():
            for kind in sorted(amplifier.inlets):
                via = (kind, amplifier.terminals)
                if via in wanted:
                    name = f"{amplifier.sku} by {kind.contact}"
                    uses.append(
                        AmplifierUse(
                            amplifier,
                            kind,
                            self._count(f"channels of {name}", most),
                            self._count(f"bass channels of {name}", most) if via in bass else total(()),
                        )
                    )
        return uses

    def _mirror_groups(self) -> dict[tuple[Outlet, str], cp_model.IntVar]:
        """Mirrored groups that feed several, by the channel they carry."""
        mirrored = {f.outlet for f in self.demand.feed_flows if f.outlet.jacks > 1}
        return {
            (outlet, channel): self._count(f"mirrored {channel}", 1)
            for outlet in sorted(mirrored)
            for channel in sorted(self.demand.bass_channels)
        }

    def _index(self) -> None:
        """Sums that many rules need, looked up instead of searched for."""
        self.into: Mapping[int, list[int]] = _grouped(
            (flow.feed.index, i) for i, flow in enumerate(self.demand.feed_flows)
        )
        self.out_of: Mapping[Source, list[int]] = _grouped(
            ((flow.outlet, flow.unit), i) for i, flow in enumerate(self.demand.feed_flows)
        )
        self.dsp_out_of: Mapping[Outlet, list[int]] = _grouped(
            (flow.outlet, i) for i, flow in enumerate(self.demand.dsp_flows)
        )
        self.split_of: Mapping[Source, list[int]] = _grouped(
            ((flow.outlet, flow.unit), i) for i, flow in enumerate(self.demand.split_flows)
        )
        self.chains_with: Mapping[Member, list[int]] = _grouped(
            (member, i) for i, chain in enumerate(self.demand.chains) for member in chain.members
        )

    def starved_feeds(self) -> Iterator[tuple[Starved, cp_model.IntVar]]:
        """What a DSP unit may not be driven far enough for, with the count of the feed's flow."""
        count = {id(flow): n for flow, n in zip(self.demand.feed_flows, self.feed, strict=True)}
        for starved in self.demand.starved:
            yield starved, count[id(starved.feed)]

    def entered(self, entry: DspFlow) -> cp_model.IntVar:
        """Whether a flow into a DSP unit is used."""
        if id(entry) not in self._entered:
            used = self._model.new_bool_var("entered")
            place = next(i for i, flow in enumerate(self.demand.dsp_flows) if flow is entry)
            self._model.add(self.dsp_in[place] == 0).only_enforce_if(used.negated())
            self._entered[id(entry)] = used
        return self._entered[id(entry)]

    def steps(self) -> Iterator[tuple[Cost, cp_model.IntVar, bool]]:
        """What every flow costs, how often it is used, and whether it carries bass."""
        demand, bass = self.demand, self.demand.bass_channels
        for flow, n in zip(demand.feed_flows, self.feed, strict=True):
            yield flow.cost, n, flow.feed.bass
        for drive, n in zip(demand.drive_flows, self.drive, strict=True):
            yield drive.cost, n, drive.feed.bass
        for entry, n in zip(demand.amplifier_flows, self.amplifier_in, strict=True):
            yield entry.cost, n, entry.bass
        for dsp, n in zip(demand.dsp_flows, self.dsp_in, strict=True):
            yield dsp.cost, n, dsp.bus in bass
        for split, n in zip(demand.split_flows, self.split, strict=True):
            yield split.cost, n, split.channel in bass
        for chain, n in zip(demand.chains, self.chain, strict=True):
            yield chain.cost, n, True

    def fed_by_chain(self, member: Member) -> Expr:
        """1 where a link output feeds the member: it is in a chain, and not its head."""
        chains = self.demand.chains
        return total(self.chain[i] for i in self.chains_with.get(member, ()) if chains[i].members[0] != member)

    def in_chain(self, member: Member) -> Expr:
        """1 where the member is in a chain, its head included."""
        return total(self.chain[i] for i in self.chains_with.get(member, ()))

    def points(self, source: Source, channel: str | None = None) -> Expr:
        """Control points of an outlet that are in use, of one channel only where it is given.

        A mirrored group is one point, whatever it feeds. Points that feed DSP units included.
        """
        flows, outlet = self.demand.feed_flows, source[0]
        whole = (Mode.ALONE, Mode.CHAIN)
        terms: list[Expr | int] = [
            self.feed[i]
            for i in self.out_of.get(source, ())
            if flows[i].mode in whole and channel in (None, flows[i].feed.channel)
        ]
        if outlet.jacks > 1:
            terms += [g for (o, c), g in self.mirror_group.items() if o == outlet and channel in (None, c)]
        else:
            splits = self.demand.split_flows
            terms += [self.split[i] for i in self.split_of.get(source, ()) if channel in (None, splits[i].channel)]
        if source[1] is None:
            dsp = self.demand.dsp_flows
            terms += [self.dsp_in[i] for i in self.dsp_out_of.get(outlet, ()) if channel in (None, dsp[i].bus)]
        return total(terms)

    def offered(self, outlet: Outlet) -> Expr:
        """Signals that the chosen processor can carry on an outlet."""
        processors = zip(self.demand.processors, self.processor, strict=True)
        return weighted((p.outlets.get(outlet, 0), chosen) for p, chosen in processors)


def members_of(feed: FeedClass) -> list[Member]:
    """The members of a feed class, as keys."""
    return [(feed.set_name, feed.sku, index) for index in feed.members]


def _grouped(pairs: Iterable[tuple[Key, int]]) -> dict[Key, list[int]]:
    groups: dict[Key, list[int]] = defaultdict(list)
    for key, value in pairs:
        groups[key].append(value)
    return dict(groups)
