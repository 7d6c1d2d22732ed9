"""Every way a signal may pass one step: from an outlet into a feed, or into a DSP unit.

A flow is data, not a decision: the allocation gives each a count. Which flows exist encodes
R3, R4 and the way R7 to R10 are read; how many may coexist is the allocation's business.
"""

from dataclasses import dataclass
from enum import StrEnum

from planner.demand.feeds import FeedClass, Inlet
from planner.demand.leads import Kind
from planner.demand.line_levels import ChainStep
from planner.demand.links import LinkKey
from planner.demand.outlets import Outlet


class Mode(StrEnum):
    """What one control point does for the feed.

    ALONE       it feeds this one and nothing else
    CHAIN       it feeds this one, the head of a daisy chain of `size`
    LEG         one leg of a passive split feeds this one
    MIRROR      one unsplit jack of a mirrored group, with other feeds on the group
    """

    ALONE = "alone"
    CHAIN = "chain"
    LEG = "leg"
    MIRROR = "mirror"


@dataclass(frozen=True, kw_only=True, slots=True)
class Cost:
    """What a flow costs and counts for, each time it is used.

    `price_minor` holds the links of one known price; `open_links` are still a choice.
    `joints` leaves out those of open links. `margin` is the grade of the level margin (see
    `planner.demand.line_reach`), None where the flow has no input of its own.
    """

    price_minor: int = 0
    open_links: tuple[LinkKey, ...] = ()
    conversions: int = 0
    joints: int = 0
    margin: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class FeedFlow:
    """From an outlet into a feed. `unit` numbers the DSP unit, None for the processor.

    `inlets` is the one way in of an active or directly driven feed. Where an amplifier stands
    before the feed, it holds all ways in, and one of the drive flows numbered `drive` is taken.
    `leg` is what the lead starts from where the outlet is split; `strain` numbers the daisy
    chains of its size that levels tell apart.
    """

    outlet: Outlet
    unit: int | None
    feed: FeedClass
    inlets: tuple[Inlet, ...]
    mode: Mode
    size: int = 1
    strain: int = 0
    leg: Kind | None = None
    drive: int | None = None
    cost: Cost

    @property
    def start(self) -> Kind:
        """What the lead from the source starts from."""
        return self.leg or self.outlet.kind

    @property
    def amplified(self) -> bool:
        """Whether an amplifier stands before the feed."""
        return self.drive is not None

    @property
    def inlet(self) -> Inlet:
        """The way in, where there is one only."""
        (inlet,) = self.inlets
        return inlet


@dataclass(frozen=True, kw_only=True, slots=True)
class DriveFlow:
    """From an amplifier into a feed, where the signal comes from a source of kind `start`.

    Apart from the outlets behind it: from which outlet of a kind a signal comes makes no
    difference to the amplifier, nor which amplifier it is to the outlet. As many are used of one
    `drive` as feed flows of the same.
    """

    drive: int
    feed: FeedClass
    start: Kind
    inlet: Inlet
    out: Kind
    cost: Cost


@dataclass(frozen=True, kw_only=True, slots=True)
class DspFlow:
    """From a processor outlet into an input of DSP unit number `unit`.

    `bus` names the channel where several feeds share it; else `carriers` tells for which
    feed classes the signal is.
    """

    outlet: Outlet
    unit: int
    inlet: Kind
    bus: str | None
    carriers: frozenset[Outlet]
    cost: Cost


@dataclass(frozen=True, kw_only=True, slots=True)
class AmplifierFlow:
    """From a source of kind `source` into an amplifier input, for feeds of amplifiers with terminals `out`.

    Apart from the feeds behind it, since a lead within the rack is the same for all of them.
    """

    source: Kind
    inlet: Kind
    out: Kind
    bass: bool
    cost: Cost


@dataclass(frozen=True, kw_only=True, slots=True)
class SplitFlow:
    """One outlet jack split into `legs` by `splitters` (sku, count), for one bus channel."""

    outlet: Outlet
    unit: int | None
    channel: str
    leg: Kind
    legs: int
    splitters: tuple[tuple[str, int], ...]
    coupled: tuple[tuple[str, int], ...]
    cost: Cost


@dataclass(frozen=True, kw_only=True, slots=True)
class ChainLink:
    """From the link output of one subwoofer to an input of the next.

    `step` is the link as levels see it, None where no chain of the brief is told apart by them.
    """

    channel: str
    source: tuple[str, str, int]
    sink: tuple[str, str, int]
    output: str
    inlet: Inlet
    length_m: float
    step: ChainStep | None = None
    cost: Cost


@dataclass(frozen=True, kw_only=True, slots=True)
class Chain:
    """A daisy chain: its members (set, model sku, index) from the head on, and the links between.

    `cost` is that of the links; what feeds the head is a flow of its own. `steps` are the links
    as levels see them, `strain` the number of those that no output tells apart.
    """

    channel: str
    members: tuple[tuple[str, str, int], ...]
    links: tuple[ChainLink, ...]
    cost: Cost
    steps: tuple[ChainStep, ...] = ()
    strain: int = 0
