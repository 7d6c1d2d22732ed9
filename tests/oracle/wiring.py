"""For brute force: every way to wire a company of feeds to one control point."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from planner.catalogue.records import PortGroup
from planner.contacts import mates
from tests.oracle.instance import Instance, available
from tests.oracle.leads import Leads, Line, Plug, plug
from tests.oracle.points import ControlPoint
from tests.oracle.scenario import Feed, line_level, speaker_level
from tests.oracle.splits import Pattern, pattern

AmpChannel = tuple[str, int, int]
"""An amplifier's sku, which one of that sku, and its channel."""


@dataclass(frozen=True, slots=True)
class Wires:
    """What hangs below one jack or leg.

    `ends`: the input group of each line-level lead, in the order of `lines`. `roots`: the feeds
    behind each splitter on a jack; `patterns`: those of its splitters.
    """

    lines: tuple[Line, ...] = ()
    ends: tuple[PortGroup, ...] = ()
    channels: tuple[tuple[AmpChannel, Feed], ...] = ()
    splitters: tuple[str, ...] = ()
    conversions: int = 0
    roots: tuple[int, ...] = ()
    patterns: frozenset[Pattern] = frozenset()

    def __add__(self, other: "Wires") -> "Wires":
        return Wires(
            self.lines + other.lines, self.ends + other.ends,
            self.channels + other.channels, self.splitters + other.splitters,
            self.conversions + other.conversions, self.roots + other.roots,
            self.patterns | other.patterns,
        )  # fmt: skip


@dataclass(frozen=True, eq=False, slots=True)
class Serving:
    """A control point with the feeds that it serves; `chained`: each by a link of the one before."""

    point: ControlPoint
    feeds: tuple[Feed, ...]
    wires: Wires
    chained: bool = False


class Wiring:
    """Every way to wire, one instance at a time."""

    def __init__(self, instance: Instance, leads: Leads) -> None:
        self._instance, self._brief, self._leads = instance, instance.brief, leads
        self._splitters = [
            kind for kind in instance.catalogue.splitters
            if available(instance, kind.sku) != 0 and (kind.balanced or not instance.brief.limits.balanced_only)
        ]  # fmt: skip

    def alone(self, point: ControlPoint, feed: Feed, done: Sequence[Serving]) -> Iterator[Serving]:
        """One feed on a jack, by a lead; all jacks of a mirrored group are alike."""
        for wires in self._led(plug(point.group), feed, _taken(done)):
            yield Serving(point, (feed,), wires)

    def split(self, point: ControlPoint, feeds: tuple[Feed, ...], done: Sequence[Serving]) -> Iterator[Serving]:
        """Feeds shared out among the jacks of a control point, several on a jack by splitters."""
        if not point.speaker_level:
            for shares in _partitions(feeds, len(point.jacks)):
                for wires in self._all(plug(point.group), shares, _taken(done)):
                    if len(wires.patterns) <= 1:
                        yield Serving(point, feeds, wires)

    def chain(self, point: ControlPoint, feeds: tuple[Feed, ...], done: Sequence[Serving]) -> Iterator[Serving]:
        """The first feed on a jack, each next one on a link output of the one before it."""
        for head in self.alone(point, feeds[0], done):
            for wires in self._linked(feeds, head.wires):
                yield Serving(point, feeds, wires, chained=True)

    def _linked(self, feeds: tuple[Feed, ...], so_far: Wires) -> Iterator[Wires]:
        if len(feeds) == 1:
            yield so_far
            return
        source, sink = feeds[:2]
        for out in source.links:
            for group in () if sink.speaker_level else sink.groups:
                line = Line(plug(out), plug(group), self._leads.route_m(source.position, sink.position), True)
                if self._leads.makes(line):
                    yield from self._linked(feeds[1:], so_far + Wires((line,), (group,)))

    def _led(self, source: Plug, feed: Feed, taken: frozenset[AmpChannel]) -> Iterator[Wires]:
        """A lead to one input of the feed, or to an amplifier channel that drives it."""
        room = self._leads.route_m(self._brief.rack.position, feed.position)
        from_speaker_level = Line(source, source, room, False).speaker_level
        for group in feed.groups:
            if feed.speaker_level is from_speaker_level:
                ends = () if feed.speaker_level else (group,)
                yield from self._if_made(Wires((Line(source, plug(group), room, feed.is_subwoofer),), ends))
            elif feed.speaker_level:
                for channel, entry, exit_ in self._amplifier_channels(taken):
                    before = Line(source, plug(entry), self._leads.internal_m, feed.is_subwoofer)
                    after = Line(exit_, plug(group), room, feed.is_subwoofer)
                    yield from self._if_made(Wires((before, after), (entry,), ((channel, feed),)))

    def _if_made(self, wires: Wires) -> Iterator[Wires]:
        if all(self._leads.makes(line) or self._isolated(line) for line in wires.lines):
            yield wires

    def _isolated(self, line: Line) -> bool:
        """Whether it can be made with an isolator at least; see `tests.oracle.isolators`."""
        return not line.speaker_level and bool(self._leads.makes(replace(line, isolated=True)))

    def _amplifier_channels(self, taken: frozenset[AmpChannel]) -> Iterator[tuple[AmpChannel, PortGroup, Plug]]:
        """Each free channel of the amplifiers in use, and of one more of each sku."""
        catalogue = self._instance.catalogue
        for amplifier in catalogue.amplifiers:
            in_use = {number for sku, number, _ in taken if sku == amplifier.sku}
            for number in range(1, len(in_use) + 2):
                for channel in range(1, amplifier.channels + 1):
                    if (amplifier.sku, number, channel) in taken:
                        continue
                    for entry in line_level(catalogue.inputs(amplifier.sku)):
                        for exit_ in speaker_level(catalogue.outputs(amplifier.sku)):
                            if channel <= entry.count and channel <= exit_.count:
                                yield (amplifier.sku, number, channel), entry, plug(exit_)

    def _hung(self, source: Plug, feeds: tuple[Feed, ...], taken: frozenset[AmpChannel]) -> Iterator[Wires]:
        """A splitter on a jack or leg, and on each of two or more of its legs a share of the feeds."""
        for kind in self._splitters:
            if mates(kind.input, source.contact) and (source.balanced or not self._brief.limits.balanced_only):
                leg = Plug(kind.leg, kind.balanced)
                converts = int(kind.balanced is not source.balanced)
                plugged = Wires(splitters=(kind.sku,), conversions=converts, patterns=frozenset({pattern(kind)}))
                for shares in _partitions(feeds, kind.legs):
                    if len(shares) >= 2:
                        for wires in self._all(leg, shares, taken):
                            yield replace(plugged + wires, roots=(len(feeds),))

    def _all(self, source: Plug, shares: tuple[tuple[Feed, ...], ...], taken: frozenset[AmpChannel]) -> Iterator[Wires]:
        """Each share on a jack or leg of its own, of one kind."""
        if not shares:
            yield Wires()
            return
        first = shares[0]
        for wires in self._led(source, first[0], taken) if len(first) == 1 else self._hung(source, first, taken):
            used = frozenset(channel for channel, _ in wires.channels)
            for others in self._all(source, shares[1:], taken | used):
                yield wires + others


def _taken(done: Sequence[Serving]) -> frozenset[AmpChannel]:
    return frozenset(channel for serving in done for channel, _ in serving.wires.channels)


def _partitions(feeds: tuple[Feed, ...], most: int) -> Iterator[tuple[tuple[Feed, ...], ...]]:
    """Every way to part feeds into one to `most` shares, in no order."""
    if not feeds:
        yield ()
        return
    for shares in _partitions(feeds[1:], most):
        for index, share in enumerate(shares):
            yield (*shares[:index], (feeds[0], *share), *shares[index + 1 :])
        if len(shares) < most:
            yield ((feeds[0],), *shares)
