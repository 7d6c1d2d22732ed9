"""What is impossible by counting alone, told with the count."""

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.costing import PriceList
from planner.demand.build import brief_channels, build_demand
from planner.demand.gear import processor_choices
from planner.demand.kinds import plain_kinds
from planner.demand.outlets import View
from planner.demand.shelf import Shelf
from planner.house import House


def shortage(brief: Brief, catalogue: Catalogue, house: House) -> tuple[str, ...]:
    """The first requirement that the catalogue, or the brief itself, cannot meet; empty if none."""
    return _of_subwoofers(brief) or _of_models(brief, catalogue, house) or _of_channels(brief, catalogue, house)


def _of_subwoofers(brief: Brief) -> tuple[str, ...]:
    most, least, limits = sum(s.most for s in brief.subwoofers), sum(s.least for s in brief.subwoofers), brief.limits
    for wanted, what in (
        (limits.least_independent_subwoofers, "subwoofers are independently controlled"),
        (limits.least_control_groups, "control groups of subwoofers"),
    ):
        if wanted > most:
            return (f"at least {wanted} {what}", f"the brief has at most {most} subwoofers")
    if limits.most_subwoofers_lost == 0 and least:
        return ("no single failure silences a subwoofer", "a subwoofer that fails silences itself")
    return ()


def _of_models(brief: Brief, catalogue: Catalogue, house: House) -> tuple[str, ...]:
    demand = build_demand(brief, catalogue, house)
    for load in demand.sets:
        if not load.models:
            fact = "nothing that the brief allows for it can be had, has a usable input and reaches its level"
            return (f"the set {load.name!r} needs {len(load.members)} of one model", fact)
    return ()


def _of_channels(brief: Brief, catalogue: Catalogue, house: House) -> tuple[str, ...]:
    prices = PriceList(brief, catalogue, house)
    view = View(
        kinds=plain_kinds(catalogue), channels=brief_channels(brief), filters_wanted=0, most_ways=1, most_spare=0
    )
    choices = processor_choices(view, catalogue, Shelf(brief, catalogue, prices), prices)
    if not choices:
        return ("one processor renders everything", "no processor that the brief allows can be had")
    wanted = {p.channel for s in brief.loudspeakers for p in s.placements}
    wanted |= {s.channel for s in brief.subwoofers if s.least}
    most = max(choices, key=lambda choice: choice.rendered_channels)
    if len(wanted) <= most.rendered_channels:
        return ()
    return (
        f"the brief has {len(wanted)} channels, the bass signal counted once",
        f"the processor that renders most, {most.sku}, renders {most.rendered_channels} with all its cards",
    )
