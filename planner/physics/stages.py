"""What a line signal passes on its way: outputs that drive, leads and splitters, inputs that receive.

`None` means that the catalogue does not say; nothing is put in its place.
"""

from dataclasses import dataclass

from planner.catalogue.records import OutputStage, PortRole
from planner.contacts import Contact
from planner.design import Connection, Jack

_LONGEST_M = 1e6


@dataclass(frozen=True, kw_only=True, slots=True)
class Driver:
    """An output jack with the electronics behind it.

    `impedance_ohm` is between its contacts, hot and cold where it is balanced. `noise_dbu` is
    what its device adds, at this output. `gain_range_db` is the least and the greatest gain
    that can be set from the input before it; None at the head of a chain. `passive`: an
    isolator's, with no electronics behind it, and the impedance of what drives it counted there.
    """

    jack: Jack
    sku: str
    role: PortRole
    contact: Contact
    balanced: bool
    output_stage: OutputStage
    max_level_dbu: float | None
    impedance_ohm: float | None
    noise_dbu: float | None
    gain_range_db: tuple[float, float] | None = None
    passive: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Receiver:
    """A line input. `full_output_v` is the voltage at which its device gives all that it can.

    `noise_dbu` is the noise of a power amplifier referred to this input; `has_noise` says
    whether the catalogue has a place for it. The noise of an active loudspeaker is not counted.
    """

    jack: Jack
    sku: str
    contact: Contact
    balanced: bool
    max_level_dbu: float | None
    impedance_ohm: float | None
    full_output_v: float | None
    noise_dbu: float | None = None
    has_noise: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Run:
    """One connection with its lead: `length_m` as it will hang there, 0 where a splitter plugs on.

    `balanced`: two cores and a shield, or a splitter that keeps the two.
    """

    connection: Connection
    sku: str | None
    length_m: float
    capacitance_pf_per_m: float | None
    balanced: bool

    @property
    def capacitance_pf(self) -> float | None:
        """The capacitance of the whole lead; None too for a length that no lead has."""
        if self.length_m == 0:
            return 0.0
        if self.capacitance_pf_per_m is None or not 0 < self.length_m <= _LONGEST_M:
            return None
        return self.capacitance_pf_per_m * self.length_m


@dataclass(frozen=True, kw_only=True, slots=True)
class Branch:
    """The way from an output jack to one input, and the leads and splitters on it.

    `balanced`: hot and cold both reach the input; else the input hears one contact against
    the shield, whatever its own connector. `links` are the link outputs on the way that are
    read as wired straight through.
    """

    runs: tuple[Run, ...]
    receiver: Receiver
    balanced: bool
    links: tuple[Jack, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Hop:
    """One output jack, the input that the chain goes on at, and all inputs on that jack.

    `branches` are the inputs that load the output, `taken` among them.
    """

    driver: Driver
    taken: Branch
    branches: tuple[Branch, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class LineChain:
    """The line-level chain of one feed, from a processor output to the last line input.

    `feed` is the jack of the loudspeaker or subwoofer; where that is passive, the last line
    input is that of its amplifier. `treble`: the feed takes the band up to 20 kHz.
    """

    channel: str
    way: int | None
    feed: Jack
    treble: bool
    hops: tuple[Hop, ...]

    @property
    def sink(self) -> Receiver:
        """The last line input."""
        return self.hops[-1].taken.receiver

    def __str__(self) -> str:
        way = f" way {self.way}" if self.way is not None else ""
        return f"{self.channel}{way} to {self.sink.jack}"
