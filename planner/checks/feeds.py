"""R1 and R2: every feed driven once, by its channel; every jack takes one plug."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.catalogue.records import Item, Loudspeaker, Powering
from planner.checks.case import Case
from planner.checks.findings import broken, counted
from planner.checks.view import RENDERERS, SPEAKERS, Link
from planner.contacts import Direction
from planner.design import Finding, Unit


@dataclass(frozen=True, kw_only=True, slots=True)
class Feed:
    """One input to be driven: a whole unit (`way` None), or one way of it, by any of `groups`."""

    unit: Unit
    way: int | None
    groups: tuple[str, ...]

    def __str__(self) -> str:
        return self.unit.id if self.way is None else f"{self.unit.id}, way {self.way}"


def is_crossed(item: Item) -> bool:
    """Whether the item takes one feed for each way."""
    return isinstance(item, Loudspeaker) and item.powering is Powering.CROSSED


def feeds_of(case: Case, unit: Unit) -> tuple[Feed, ...]:
    """The feeds of one loudspeaker or subwoofer; ways count from 1, the lowest."""
    inputs = tuple(
        socket.name
        for socket in case.known.sockets(unit.sku).values()
        if socket.direction is Direction.IN
    )  # fmt: skip
    if is_crossed(case.view.item(unit)):
        return tuple(Feed(unit=unit, way=way, groups=(name,)) for way, name in enumerate(inputs, 1))
    return (Feed(unit=unit, way=None, groups=inputs),)


def driven_once(case: Case) -> Iterator[Finding]:
    """R1, the count: no feed without a signal, none with two."""
    for kind in SPEAKERS:
        for unit in case.view.units_of[kind]:
            entering = case.view.links_entering.get(unit.id, ())
            for feed in feeds_of(case, unit):
                links = [link for link in entering if link.sink.name in feed.groups]
                yield from _count(case, feed, links)
                for link in links:
                    yield from _right_signal(case, feed, link)


def _count(case: Case, feed: Feed, links: list[Link]) -> Iterator[Finding]:
    if not links:
        yield broken("R1", str(feed), f"Nothing drives {feed}: it needs one lead from an output.")
    elif len(links) > 1:
        sources = " and ".join(str(link.connection.source) for link in links)
        yield broken("R1", str(feed), f"{feed} is driven {len(links)} times, by {sources}; once is right.")
    elif links[0] not in case.graph.alive:
        yield broken("R1", str(feed), f"{feed} hangs on {links[0].connection.source}, which no signal reaches.")


def _right_signal(case: Case, feed: Feed, link: Link) -> Iterator[Finding]:
    place, carried = case.view.place(feed.unit), link.connection
    if place is not None and carried.channel != place.channel:
        yield broken("R1", str(feed), f"{feed} plays {place.channel}, but its lead carries {carried.channel}.")
    if carried.way != feed.way:
        got = "the whole channel" if carried.way is None else f"way {carried.way}"
        yield broken("R1", str(feed), f"{feed} is fed {got}, which is not meant for it.")


def leads_somewhere(case: Case) -> Iterator[Finding]:
    """R1, seen from the outputs: what is plugged in must reach a feed or a DSP unit."""
    for point in case.points:
        if not point.feeds and not point.dsp_inputs:
            yield broken("R1", str(point), f"{point} is plugged in, but reaches no loudspeaker, subwoofer or DSP unit.")
    for link in case.view.links:
        if link.sink_unit.kind in RENDERERS:
            yield broken("R1", str(link), f"{link.connection.sink} is an input of the processor; no feed is there.")


def one_plug_a_jack(case: Case) -> Iterator[Finding]:
    """R2: no jack takes two plugs."""
    for links_by_jack in (case.view.links_from, case.view.links_to):
        for jack, links in links_by_jack.items():
            if len(links) > 1:
                yield broken("R2", str(jack), f"{counted(len(links), 'plug')} are to go into {jack}; it takes one.")
