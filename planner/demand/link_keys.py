"""Which links a brief could ask for at all: every source kind to every sink kind and length."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from planner.brief.records import Brief, Drive
from planner.demand.feeds import feed_link, inlets_of
from planner.demand.gear import AmplifierChoice, DspChoice
from planner.demand.leads import Kind
from planner.demand.links import LinkKey
from planner.demand.loads import LoadSet, Member, Model
from planner.demand.outlets import Outlet
from planner.demand.routes import route_m
from planner.demand.splits import Split


def link_keys(
    brief: Brief, sets: Iterable[LoadSet], outlets: Iterable[Outlet], dsp_units: Iterable[DspChoice],
    amplifiers: Iterable[AmplifierChoice], splits: Mapping[Kind, tuple[Split, ...]],
) -> Counter[LinkKey]:  # fmt: skip
    """Every link that some flow could use, with a bound on how often a design can hold it.

    A feed ends one link, or one and another into its amplifier; a DSP unit's input ends one;
    a subwoofer's link output starts one.
    """
    sets, outlets, amplifiers, dsp_units = tuple(sets), tuple(outlets), tuple(amplifiers), tuple(dsp_units)
    processor = {o.kind for o in outlets if not o.speaker}
    line = processor | {o.kind for d in dsp_units for o in d.outlets}
    line |= {split.leg for options in splits.values() for split in options}
    speaker = {o.kind for o in outlets if o.speaker}
    internal_m = brief.rack.internal_m
    keys: Counter[LinkKey] = Counter()
    entries = brief.limits.most_dsp_units * max((d.inputs for d in dsp_units), default=0)
    for key in {LinkKey(k, sink, internal_m) for k in processor for d in dsp_units for sink in d.inlets}:
        keys[key] += entries
    amplified = sum(len(s.members) * max((m.ways for m in s.models), default=1) for s in sets)
    for key in {LinkKey(k, sink, internal_m) for k in line for a in amplifiers for sink in a.inlets}:
        keys[key] += amplified
    for load in sets:
        for member in load.members:
            for key in {k for model in load.models for k in _model_keys(member, model, amplifiers, line, speaker)}:
                keys[key] += max(m.ways for m in load.models)
    if Drive.DAISY_CHAINED in brief.limits.drives:
        for _, _, key in chain_keys(brief, sets):
            keys[key] += 1
    if brief.limits.balanced_only:
        keys = Counter({k: n for k, n in keys.items() if k.speaker or (k.source.balanced and k.sink.balanced)})
    return keys


def _model_keys(
    member: Member, model: Model, amplifiers: tuple[AmplifierChoice, ...], line: set[Kind], speaker: set[Kind]
) -> Iterator[LinkKey]:
    ways = (None,) if model.ways == 1 else tuple(range(1, model.ways + 1))
    for inlet in {i for way in ways for i in inlets_of(model, way, amplifiers)}:
        for kind in speaker if inlet.speaker else line:
            yield feed_link(kind, inlet, member.from_rack_m)


ChainEnd = tuple[LoadSet, Model, Member]


def chain_keys(brief: Brief, sets: Iterable[LoadSet]) -> Iterator[tuple[ChainEnd, ChainEnd, LinkKey]]:
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
                    source_kind = Kind(link.contact, link.balanced)
                    yield source, sink, LinkKey(source_kind, Kind(port.contact, port.balanced), length_m)
