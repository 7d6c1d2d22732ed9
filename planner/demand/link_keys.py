"""Which links a brief could ask for at all: every source kind to every sink kind and length."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from planner.brief.records import Brief, Drive
from planner.demand.feeds import SpeakerSources, entry_link, feed_link, inlets_of
from planner.demand.gear import AmplifierChoice, DspChoice
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind
from planner.demand.links import LinkKey
from planner.demand.loads import LoadSet, Member, Model
from planner.demand.outlets import Outlet
from planner.demand.routes import route_m
from planner.demand.splits import Split


def link_keys(
    brief: Brief, sets: Iterable[LoadSet], outlets: Iterable[Outlet], dsp_units: Iterable[DspChoice],
    amplifiers: Iterable[AmplifierChoice], splits: Mapping[Kind, tuple[Split, ...]], kinds: Kinds,
) -> Counter[LinkKey]:  # fmt: skip
    """Every link that some flow could use, with a bound on how often a design can hold it.

    Links that cannot bring their input to full output are left out (R11), so no flow can use
    them; those of daisy chains are judged with the chain. A feed ends one link, or one and
    another into its amplifier; a DSP unit's input ends one; a subwoofer's link output starts one.
    """
    sets, outlets, amplifiers, dsp_units = tuple(sets), tuple(outlets), tuple(amplifiers), tuple(dsp_units)
    sources = SpeakerSources.of(outlets, amplifiers)
    processor = {o.kind for o in outlets if not o.speaker}
    line = processor | {o.kind for d in dsp_units for o in d.outlets}
    line |= {split.leg for options in splits.values() for split in options}
    internal_m = brief.rack.internal_m
    keys: Counter[LinkKey] = Counter()
    entries = brief.limits.most_dsp_units * max((d.inputs for d in dsp_units), default=0)
    for key in {entry_link(k, sink, internal_m) for k in processor for d in dsp_units for sink in d.inlets}:
        keys[key] += entries
    amplified = sum(len(s.members) * max((m.ways for m in s.models), default=1) for s in sets)
    for key in {entry_link(k, sink, internal_m) for k in line for a in amplifiers for sink in a.inlets}:
        keys[key] += amplified
    for load in sets:
        for member in load.members:
            for key in {k for m in load.models for k in _model_keys(member, m, kinds, sources, line)}:
                keys[key] += max(m.ways for m in load.models)
    keys = Counter({key: n for key, n in keys.items() if key.speaker or kinds.admits(key.source, key.sink)})
    if Drive.DAISY_CHAINED in brief.limits.drives:
        for _, _, key in chain_keys(brief, sets, kinds):
            keys[key] += 1
    if brief.limits.balanced_only:
        keys = Counter({k: n for k, n in keys.items() if k.speaker or (k.source.balanced and k.sink.balanced)})
    return keys


def _model_keys(
    member: Member, model: Model, kinds: Kinds, sources: SpeakerSources, line: set[Kind]
) -> Iterator[LinkKey]:
    """The head of a daisy chain is never isolated."""
    ways = (None,) if model.ways == 1 else tuple(range(1, model.ways + 1))
    for inlet in {i for way in ways for i in inlets_of(model, way, kinds, sources, lambda out, port: True)}:
        for kind in line if inlet.direct is None else (inlet.direct,):
            yield from (feed_link(kind, inlet, member.from_rack_m, isolable) for isolable in (False, True))


ChainEnd = tuple[LoadSet, Model, Member]


def chain_keys(brief: Brief, sets: Iterable[LoadSet], kinds: Kinds) -> Iterator[tuple[ChainEnd, ChainEnd, LinkKey]]:
    """Every link from the link output of one subwoofer to an input of another one."""
    ends = [(s, model, member) for s in sets if s.bass for model in s.models for member in s.members]
    for source in ends:
        for sink in ends:
            same_place = source[0] is sink[0] and (source[2] is sink[2] or source[1] is not sink[1])
            if same_place or source[2].channel != sink[2].channel:
                continue
            length_m = route_m(brief.rack, source[2].position, sink[2].position)
            for link in source[1].links:
                for port in sink[1].line:
                    yield source, sink, LinkKey(kinds.of(link), kinds.of(port), length_m)
