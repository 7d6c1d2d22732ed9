"""R2, R6: amplifier channels for every amplified feed."""

from collections import defaultdict

from ortools.sat.python import cp_model

from planner.allocation.expressions import total, weighted
from planner.allocation.variables import Variables


def amplifier_channels_suffice(model: cp_model.CpModel, v: Variables) -> None:
    """R2, R6: flows into amplifier inputs are served by channels of amplifiers bought, none of which is idle."""
    _amplified_feeds_are_driven(model, v)
    entering: dict[object, list[cp_model.IntVar]] = defaultdict(list)
    for drive, n in zip(v.demand.drive_flows, v.drive, strict=True):
        entering[drive.start, drive.out, drive.feed.bass].append(n)
    joined: dict[object, list[cp_model.IntVar]] = defaultdict(list)
    served: dict[tuple[object, object, bool], list[cp_model.IntVar]] = defaultdict(list)
    for entry, n in zip(v.demand.amplifier_flows, v.amplifier_in, strict=True):
        joined[entry.source, entry.out, entry.bass].append(n)
        served[entry.inlet, entry.out, entry.bass].append(n)
    for key in {**entering, **joined}:
        model.add(total(entering[key]) == total(joined[key]))
    for inlet, out in sorted({(entry.inlet, entry.out) for entry in v.demand.amplifier_flows}):
        uses = [u for u in v.amplifier_uses if (u.inlet, u.amplifier.terminals) == (inlet, out)]
        bass, rest = served[inlet, out, True], served[inlet, out, False]
        model.add(total(u.channels for u in uses) == total(bass) + total(rest))
        if bass:
            model.add(total(u.bass_channels for u in uses) == total(bass))
    for use in v.amplifier_uses:
        model.add(use.bass_channels <= use.channels)
    for amplifier in v.demand.amplifiers if v.amplifiers else ():
        used = total(u.channels for u in v.amplifier_uses if u.amplifier is amplifier)
        model.add(used <= amplifier.channels * v.amplifiers[amplifier.sku])
        model.add(v.amplifiers[amplifier.sku] <= used)
    _amplifiers_cover_what_is_left(model, v)


def _amplified_feeds_are_driven(model: cp_model.CpModel, v: Variables) -> None:
    """R1: every flow that ends at an amplifier goes on to its feed."""
    wanted: dict[int, list[cp_model.IntVar]] = defaultdict(list)
    for flow, n in zip(v.demand.feed_flows, v.feed, strict=True):
        if flow.drive is not None:
            wanted[flow.drive].append(n)
    driven: dict[int, list[cp_model.IntVar]] = defaultdict(list)
    for drive, n in zip(v.demand.drive_flows, v.drive, strict=True):
        driven[drive.drive].append(n)
    for key in {**wanted, **driven}:
        model.add(total(wanted[key]) == total(driven[key]))


def _amplifiers_cover_what_is_left(model: cp_model.CpModel, v: Variables) -> None:
    """Follows from the rest: amplifiers serve at least the passive feeds that internal ones cannot.

    A channel beyond that number is worth nothing towards it, which keeps the relaxation
    from buying a fraction of a large amplifier.
    """
    inside = sum(n for p in v.demand.processors for o, n in p.outlets.items() if o.speaker)
    least = {s.name: s.least for s in v.demand.sets if s.models and not any(m.line for m in s.models)}
    ways = {s.name: min(m.ways for m in s.models) for s in v.demand.sets if s.models}
    needed = sum(number * ways[name] for name, number in least.items()) - inside
    if needed > 0:
        amplifiers = [(min(a.channels, needed), v.amplifiers[a.sku]) for a in v.demand.amplifiers]
        model.add(weighted(amplifiers) >= needed)
