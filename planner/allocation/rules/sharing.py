"""R4, R8, R9: outputs that several feeds share, by splitters, mirrored jacks or chains."""

from collections import defaultdict

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total
from planner.allocation.variables import Variables, members_of
from planner.demand.flows import Mode


def mirrored_jacks_carry_one_signal(model: cp_model.CpModel, v: Variables) -> None:
    """R4: a mirrored group that feeds several has jacks enough, and from two feeds up to the largest split."""
    for (outlet, channel), group in v.mirror_group.items():
        flows, splits = v.demand.feed_flows, v.demand.split_flows
        single = [
            v.feed[i]
            for i in v.out_of.get((outlet, None), ())
            if flows[i].mode is Mode.MIRROR and flows[i].feed.channel == channel
        ]
        split = [
            (v.split[i], splits[i].legs) for i in v.split_of.get((outlet, None), ()) if splits[i].channel == channel
        ]
        fed = total(single) + total(n * legs for n, legs in split)
        model.add(total(single) + total(n for n, _ in split) <= outlet.jacks * group)
        model.add(fed >= 2 * group)
        model.add(fed <= v.demand.brief.limits.largest_split * group)


def legs_need_splitters(model: cp_model.CpModel, v: Variables) -> None:
    """R8: every leg that feeds something belongs to a split of its outlet and channel."""
    legs: dict[object, list[Expr]] = defaultdict(list)
    for flow, n in zip(v.demand.feed_flows, v.feed, strict=True):
        if flow.mode is Mode.LEG:
            legs[flow.outlet, flow.unit, flow.feed.channel, flow.leg].append(n)
    offered: dict[object, list[Expr]] = defaultdict(list)
    for split, n in zip(v.demand.split_flows, v.split, strict=True):
        offered[split.outlet, split.unit, split.channel, split.leg].append(split.legs * n)
    for key in {**legs, **offered}:
        model.add(total(legs[key]) == total(offered[key]))


def chains_hang_together(model: cp_model.CpModel, v: Variables) -> None:
    """R9: a chain runs from its head by link outputs, without a loop, to its stated size."""
    if not v.demand.chain_links:
        for flow, n in zip(v.demand.feed_flows, v.feed, strict=True):
            if flow.mode is Mode.CHAIN:
                model.add(n == 0)
        return
    sizes = sorted({f.size for f in v.demand.feed_flows if f.mode is Mode.CHAIN})
    most = max(sizes, default=1)
    members = [m for f in v.demand.feeds if f.bass and f.inlets for m in members_of(f)]
    behind = {m: model.new_int_var(1, most, f"chain from {m}") for m in members}
    head = {(m, s): model.new_bool_var(f"{m} heads {s}") for m in members for s in sizes}
    for member in members:
        heads = total(head[member, s] for s in sizes)
        fed, feeds = v.fed_by_chain(member), v.feeds_chain(member)
        model.add(fed + heads <= v.present[member])
        model.add(feeds <= fed + heads)
        model.add(behind[member] <= 1 + (most - 1) * feeds)
        for size in sizes:
            model.add(behind[member] == size).only_enforce_if(head[member, size])
    for link, used in zip(v.demand.chain_links, v.chain, strict=True):
        model.add(behind[link.source] == behind[link.sink] + 1).only_enforce_if(used)
    for member in members:
        model.add(v.feeds_chain(member) <= 1)
    for feed in v.demand.feeds:
        for size in sizes if feed.bass else ():
            flows = [i for i in v.into.get(feed.index, ()) if _is_chain(v, i, size)]
            heads = total(head[m, size] for m in members_of(feed))
            model.add(total(v.feed[i] for i in flows) == heads)


def _is_chain(v: Variables, flow: int, size: int) -> bool:
    found = v.demand.feed_flows[flow]
    return found.mode is Mode.CHAIN and found.size == size
