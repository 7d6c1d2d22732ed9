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
    """R9: a subwoofer is in one chain at most, and something feeds the head of every chain."""
    for member, there in v.present.items():
        if member in v.chains_with:
            model.add(v.in_chain(member) <= there)
    headed: dict[tuple[int, int, int], list[Expr | int]] = defaultdict(list)
    class_of = {member: feed.index for feed in v.demand.feeds for member in members_of(feed)}
    for chain, used in zip(v.demand.chains, v.chain, strict=True):
        headed[class_of[chain.members[0]], len(chain.members), chain.strain].append(used)
    heading: dict[tuple[int, int, int], list[Expr | int]] = defaultdict(list)
    for flow, n in zip(v.demand.feed_flows, v.feed, strict=True):
        if flow.mode is Mode.CHAIN:
            heading[flow.feed.index, flow.size, flow.strain].append(n)
    for key in {**headed, **heading}:
        model.add(total(heading[key]) == total(headed[key]))
