"""R8 and R9: what may share an output, by splitting or by daisy-chaining."""

from collections.abc import Iterator

from planner.catalogue.records import PortRole, Splitter
from planner.checks.case import Case
from planner.checks.findings import broken, counted
from planner.checks.view import RENDERERS, SPEAKERS, Link
from planner.design import Finding, Jack, UnitKind

_SPLITTABLE = frozenset({*RENDERERS, UnitKind.DSP, UnitKind.SPLITTER})


def splits_are_sound(case: Case) -> Iterator[Finding]:
    """R8: who may be in a split, and how many."""
    largest = case.known.brief.limits.largest_split
    for point in case.points:
        legs = len(point.heads) + len(point.dsp_inputs)
        if legs < 2:
            continue
        if point.dsp_inputs:
            yield broken("R8", str(point), f"{point} feeds a DSP unit; nothing else may share that output.")
        if point.chained:
            yield broken("R8", str(point), f"{point} is split; no daisy chain may begin at a leg.")
        if len(point.heads) > largest:
            yield broken("R8", str(point), f"{point} is split to {len(point.heads)} feeds; the brief allows {largest}.")
        channels = sorted({link.connection.channel for link in point.heads})
        if len(channels) > 1:
            yield broken(
                "R8", str(point), f"{point} is split across {' and '.join(channels)}; a split is of one channel."
            )
        if any(link.connection.way is not None for link in point.heads):
            yield broken("R8", str(point), f"{point} is split between ways; the way of a loudspeaker is never split.")


def splitters_keep_the_signal(case: Case) -> Iterator[Finding]:
    """R8: every leg carries what the splitter is plugged onto, a plain output or another leg."""
    for link in case.view.links:
        if link.sink_unit.kind is not UnitKind.SPLITTER:
            continue
        if link.source_unit.kind not in _SPLITTABLE:
            yield broken(
                "R8",
                str(link),
                f"A splitter goes onto an output of a processor or DSP unit, not {link.source_unit.id}.",
            )
        for leg in case.graph.following[link]:
            if (leg.connection.channel, leg.connection.way) != (link.connection.channel, link.connection.way):
                yield broken(
                    "R8",
                    str(leg),
                    f"{leg.connection.source} carries {link.connection.channel}, not {leg.connection.channel}.",
                )


def fewest_splitters(case: Case) -> Iterator[Finding]:
    """R8: N legs take N - 1 two-way splitters; no splitter could be left out, and all of a split are alike."""
    for point in case.points:
        trees = [_tree(case, link) for link in point.links]
        alike = {
            (splitter.input, splitter.leg, splitter.balanced)
            for splitters, _ in trees
            for splitter in splitters.values()
        }  # fmt: skip
        if len(alike) > 1:
            yield broken(
                "R8", str(point), f"The splitters on {point} differ in contacts or balance; all of a split are alike."
            )
        for link, (splitters, legs) in zip(point.links, trees, strict=True):
            yield from _none_to_spare(link.connection.source, list(splitters.values()), legs)
    for unit in case.view.units_of[UnitKind.SPLITTER]:
        if not case.view.links_entering.get(unit.id):
            yield broken("R8", unit.id, f"{unit.id} is plugged onto nothing.")


def _tree(case: Case, first: Link) -> tuple[dict[str, Splitter], int]:
    """The splitters that hang on one jack, and the legs that go on to something else."""
    splitters: dict[str, Splitter] = {}
    legs = 0
    waiting = [first]
    while waiting:
        link = waiting.pop()
        item = case.view.item(link.sink_unit)
        if not isinstance(item, Splitter):
            legs += 1
        elif link.sink_unit.id not in splitters:
            splitters[link.sink_unit.id] = item
            waiting.extend(case.graph.following[link])
    return splitters, legs


def _none_to_spare(jack: Jack, splitters: list[Splitter], legs: int) -> Iterator[Finding]:
    if not splitters:
        return
    added = [splitter.legs - 1 for splitter in splitters]
    if sum(added) - min(added) >= legs - 1:
        fewer = "none" if legs < 2 else f"fewer than {len(splitters)}"
        yield broken(
            "R8",
            str(jack),
            f"{counted(len(splitters), 'splitter')} on {jack} for {counted(legs, 'leg')}; {fewer} will do.",
        )


def chains_are_sound(case: Case) -> Iterator[Finding]:
    """R9: a daisy chain runs from link output to subwoofer, one after the other, with one channel."""
    for link in case.view.links:
        if link.source_unit.kind in SPEAKERS:
            yield from _one_step(case, link)
    for unit in case.view.units_of[UnitKind.SUBWOOFER]:
        onward = case.view.links_leaving.get(unit.id, ())
        if len(onward) > 1:
            yield broken("R9", unit.id, f"{unit.id} links on to {len(onward)} others; in a chain each feeds one.")
    yield from _no_chain_is_too_long(case)


def _no_chain_is_too_long(case: Case) -> Iterator[Finding]:
    """As many as may share an output, counted from each head along the links."""
    largest = case.known.brief.limits.largest_split
    onward = {link.source_unit.id: link.sink_unit.id for link in case.view.links if link.source.role is PortRole.LINK}
    for head in sorted(set(onward) - set(onward.values())):
        members = [head]
        while members[-1] in onward and len(members) <= len(onward):
            members.append(onward[members[-1]])
        if len(members) > max(largest, 1):
            yield broken(
                "R9", head, f"{len(members)} subwoofers are chained from {head}; at most {largest} may share an output."
            )


def _one_step(case: Case, link: Link) -> Iterator[Finding]:
    if link.source_unit.kind is not UnitKind.SUBWOOFER or link.source.role is not PortRole.LINK:
        yield broken("R9", str(link), f"{link.connection.source} is no link output of a subwoofer.")
    if link.sink_unit.kind is not UnitKind.SUBWOOFER:
        yield broken("R9", str(link), f"A daisy chain joins subwoofers only; {link.sink_unit.id} is none.")
    if link not in case.graph.alive:
        yield broken("R9", str(link), f"The chain at {link.connection.source} has no head that a signal reaches.")
    carried = {before.connection.channel for before in case.view.links_entering.get(link.source_unit.id, ())}
    if carried and link.connection.channel not in carried:
        yield broken("R9", str(link), f"A chain is of one channel; {link.connection.channel} is none that comes in.")
