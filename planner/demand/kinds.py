"""The kind of every jack: its contact, its balance, and what of its levels or power this brief can tell.

Everything else in the demand sees jacks by their kind only. The level of a kind is 0 where
nothing is to be told apart; splitter legs and link outputs have levels in ranges of their own.
"""

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from planner.catalogue.records import Amplifier, Catalogue, DspUnit, Item, Loudspeaker, PortGroup, PortRole, Subwoofer
from planner.contacts import DIGITAL, SPEAKER_LEVEL, Contact, Direction
from planner.demand.leads import Earth, Kind
from planner.demand.line_levels import ChainStep, LineInput, LineOutput, chain_step, line_input, line_output
from planner.demand.line_reach import ALONE, DspPath, Insertion, LineReach, Steps, Way
from planner.demand.power_reach import PassiveFeed, PowerReach, Rating, level_1m_db, rating_of

_LINK = -1
_LEGS = 1000


@dataclass(frozen=True, slots=True)
class _Leg:
    """A leg of a split: the output behind it, and how it is split."""

    output: LineOutput
    way: Way


class Kinds:
    """Kinds of one brief's jacks, and what may join what by level and power.

    `loads_ohm` lists the loads that loudspeaker cables are told apart by; empty where no loss
    is limited. `tell_earths`: inputs of earthed gear are told apart.
    """

    def __init__(
        self, catalogue: Catalogue, line: LineReach | None, power: PowerReach | None, loads_ohm: Iterable[float] = (),
        *, tell_earths: bool = False,
    ) -> None:  # fmt: skip
        self._items: Mapping[str, Item] = {item.sku: item for item in catalogue.items()}
        self._line, self._power, self._tell_earths = line, power, tell_earths
        self._loads_ohm = tuple(sorted(set(loads_ohm)))
        self._known: dict[tuple[str, str], Kind] = {}
        self._outputs: dict[Kind, LineOutput] = {}
        self._inputs: dict[Kind, LineInput] = {}
        self._inputs_of: dict[Kind, dict[LineInput, None]] = {}
        self._ratings: dict[Kind, Rating] = {}
        self._of_kind: dict[Kind, dict[Rating, None]] = {}
        self._legs: dict[Kind, _Leg] = {}
        self._leg_numbers: dict[tuple[int | None, ...], int] = {}

    def of(self, port: PortGroup) -> Kind:
        """The kind of a port group's jacks."""
        place = (port.device, port.name)
        if place not in self._known:
            self._known[place] = self._kind(port, self._items.get(port.device))
        return self._known[place]

    def _kind(self, port: PortGroup, item: Item | None) -> Kind:
        if port.role is PortRole.LINK:
            return Kind(port.contact, port.balanced, _LINK)
        if port.connector in DIGITAL:
            return Kind(port.contact, port.balanced)
        if port.connector in SPEAKER_LEVEL:
            return self._speaker(port, item)
        return self._output(port) if port.direction is Direction.OUT else self._input(port, item)

    def leg(self, source: Kind, contact: Contact, balanced: bool, legs: int) -> Kind:
        """The kind of a splitter's leg, one of `legs` on a jack of kind `source`."""
        if self._line is None or not source.level:
            return Kind(contact, balanced)
        output, way = self._outputs[source], Way(legs=legs, whole=balanced)
        row = self._line.row(output, way)
        if all(grade == self._line.best for grade in row):
            return Kind(contact, balanced)
        kind = Kind(contact, balanced, self._leg_numbers.setdefault(row, len(self._leg_numbers) + _LEGS))
        self._legs.setdefault(kind, _Leg(output, way))
        return kind

    @property
    def best(self) -> int:
        """The grade that no other is above."""
        return self._line.best if self._line is not None else 0

    def grade(self, source: Kind, sink: Kind, chain: Steps = ()) -> int | None:
        """The grade of the least level margin from a line source to an input, and the chain that it heads.

        None: not admitted.
        """
        if self._line is None or not source.level or not sink.level:
            return self.best
        leg = self._source(source)
        return self._line.grade(leg.output, self._inputs[sink], replace(leg.way, chain=chain))

    def bears(self, sink: Kind, here: Insertion, elsewhere: Insertion) -> bool:
        """Whether no grade changes by an insertion before an input, whatever source there is, and another elsewhere."""
        line = self._line
        return line is None or all(line.bears(taken, here, elsewhere) for taken in self._inputs_of.get(sink, ()))

    def admits(self, source: Kind, sink: Kind) -> bool:
        """Whether a line source may drive an input to its full output."""
        return self.grade(source, sink) is not None

    def grade_through(
        self, source: Kind, paths: Iterable[tuple[PortGroup, PortGroup, DspUnit]], start: Kind, sink: Kind, chain: Steps
    ) -> int | None:
        """The grade of what a processor output lets a DSP unit bring to an input; the best where it bounds nothing.

        `paths` are the inputs and outputs of the unit that the signal may take: the worst counts.
        """
        if self._line is None or not source.level:
            return self.best
        grades = [self._grade_by(source, path, start, sink, chain) for path in paths]
        return None if None in grades else min((g for g in grades if g is not None), default=self.best)

    @property
    def gains_matter(self) -> bool:
        """Whether the greatest gain of a DSP unit may bound what it can do."""
        return self._line is not None and self._line.gains_matter

    @property
    def tells_chains_apart(self) -> bool:
        """Whether levels tell any daisy chains apart."""
        return self._line is not None and self._line.tells_chains_apart

    def chain_step(self, link: PortGroup, into: PortGroup) -> ChainStep | None:
        """A link of a daisy chain as levels see it; None where they tell no chains apart."""
        if not self.tells_chains_apart:
            return None
        return chain_step(link, line_input(into, self._items.get(into.device)))

    def chain_row(self, heads: Iterable[PortGroup], chain: Steps) -> Hashable:
        """What tells a daisy chain from another by its levels; None where nothing does."""
        if self._line is None or not chain:
            return None
        row = self._line.chain_row([line_input(port, self._items.get(port.device)) for port in heads], chain)
        return None if all(grade == self._line.best for grade in row) else row

    def drives(self, source: Kind, feed: PassiveFeed) -> bool:
        """Whether an amplifier channel may drive a pair of terminals."""
        return self._power is None or not source.level or self._power.admits(self._ratings[source], feed)

    def drives_as_much(self, other: Kind, source: Kind) -> bool:
        """Whether an amplifier channel of one kind may drive all that one of another kind may, by the same plug."""
        if (other.contact, other.balanced) != (source.contact, source.balanced):
            return False
        if self._power is None or not other.level or other.level == source.level:
            return True
        return bool(source.level) and self._power.covers(self._ratings[other], self._ratings[source])

    def levels_1m_db(self, source: Kind, feed: PassiveFeed) -> Iterator[float | None]:
        """The level by each rating of a kind that may drive the feed."""
        for rating in self._of_kind.get(source, ()):
            if self._power is None or self._power.admits(rating, feed):
                yield level_1m_db(rating, feed)

    def cable_load_ohm(self, terminals: Kind) -> float | None:
        """The load by which cables to these terminals are judged; None where they are not."""
        return self._loads_ohm[terminals.level - 1] if terminals.level else None

    def _speaker(self, port: PortGroup, item: Item | None) -> Kind:
        if port.direction is Direction.IN:
            load_ohm = cable_load_ohm(port, item)
            level = self._loads_ohm.index(load_ohm) + 1 if load_ohm in self._loads_ohm else 0
            return Kind(port.contact, False, level)
        rating = rating_of(item)
        kind = Kind(port.contact, False, self._power.rating_class(rating) if self._power is not None else 0)
        self._ratings.setdefault(kind, rating)
        self._of_kind.setdefault(kind, {})[rating] = None
        return kind

    def _output(self, port: PortGroup) -> Kind:
        output = line_output(port)
        kind = Kind(port.contact, port.balanced, self._line.output_class(output) if self._line is not None else 0)
        self._outputs.setdefault(kind, output)
        return kind

    def _input(self, port: PortGroup, item: Item | None) -> Kind:
        taken = line_input(port, item)
        level = self._line.input_class(taken) if self._line is not None else 0
        kind = Kind(port.contact, port.balanced, level, earth_behind(item) if self._tell_earths else Earth.NONE)
        self._inputs.setdefault(kind, taken)
        self._inputs_of.setdefault(kind, {})[taken] = None
        return kind

    def _source(self, source: Kind) -> _Leg:
        return self._legs[source] if source in self._legs else _Leg(self._outputs[source], ALONE)

    def _grade_by(
        self, source: Kind, path: tuple[PortGroup, PortGroup, DspUnit], start: Kind, sink: Kind, chain: Steps
    ) -> int | None:
        entry, leaving, unit = path
        line = self._line
        if line is None:
            return self.best
        way = line_path(entry, leaving, unit)
        output, taken = self._outputs[source], self._inputs[sink]
        if not line.bounded_by(output, way):
            return self.best
        leg = self._legs[start].way if start in self._legs else ALONE
        return line.grade_behind(output, way, taken, replace(leg, chain=chain))


def earth_behind(item: Item | None) -> Earth:
    """What a shield comes to at an input of a device."""
    match item:
        case Amplifier() | Loudspeaker() | Subwoofer() if item.mains.earthed:
            return Earth.END
        case DspUnit() if item.mains.earthed:
            return Earth.HUB
    return Earth.NONE


def plain_kinds(catalogue: Catalogue) -> Kinds:
    """Kinds by contact and balance alone."""
    return Kinds(catalogue, None, None)


def line_path(entry: PortGroup, leaving: PortGroup, unit: DspUnit) -> DspPath:
    """One input and one output of a DSP unit as levels are reckoned."""
    return DspPath(unit.sku, line_input(entry, unit), line_output(leaving), unit.max_gain_db)


def cable_load_ohm(port: PortGroup, item: Item | None) -> float | None:
    """What the loss of a loudspeaker cable is reckoned into: the least impedance, else the nominal one."""
    if not isinstance(item, Loudspeaker | Subwoofer):
        return None
    return item.least_impedance_ohm or port.impedance_ohm or item.impedance_ohm
