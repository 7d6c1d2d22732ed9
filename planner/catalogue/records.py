"""The catalogue as frozen records: what each piece of gear is, and what it costs where.

Specifications and prices are apart: a record never holds a price, and an `Offer` never
holds a specification. Quantities carry their unit in the name. `None` means that the
catalogue does not say.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from planner.contacts import Connector, Contact, Direction, jack


class PortRole(StrEnum):
    """What a port may carry (rule R4).

    FIXED_MAIN     each jack belongs to the channel listed for it, in order
    FIXED_SUB      bass only, each jack set separately
    MIRRORED_SUB   bass only, all jacks of the group carry one signal: one control point
    ASSIGNABLE     any channel, or any of those listed
    PLAIN          an input, or an output without a role of its own (DSP unit, amplifier)
    LINK           a subwoofer's link output
    """

    FIXED_MAIN = "fixed_main"
    FIXED_SUB = "fixed_sub"
    MIRRORED_SUB = "mirrored_sub"
    ASSIGNABLE = "assignable"
    PLAIN = "plain"
    LINK = "link"


class OutputStage(StrEnum):
    """How a line output is built, which decides how it feeds an unbalanced input."""

    UNBALANCED = "unbalanced"
    SYMMETRICAL = "symmetrical"
    SERVO = "servo"
    TRANSFORMER = "transformer"
    IMPEDANCE_BALANCED = "impedance_balanced"
    UNKNOWN = "unknown"


@dataclass(frozen=True, kw_only=True, slots=True)
class PortGroup:
    """A run of `count` identical jacks on one device.

    `max_level_dbu` is the largest level before clipping (line ports); `sensitivity_v` the
    input voltage for full output (inputs of amplifiers and active loudspeakers).
    `pin_order` is the order printed on a terminal block, for example ("+", "-", "shield"); what
    each legend means is in `planner.contacts.printed_role`.
    A link output with neither stage nor impedance is read as wired straight through.
    """

    device: str
    name: str
    direction: Direction
    role: PortRole
    connector: Connector
    balanced: bool
    count: int
    channels: tuple[str, ...] = ()
    output_stage: OutputStage = OutputStage.UNKNOWN
    max_level_dbu: float | None = None
    sensitivity_v: float | None = None
    impedance_ohm: float | None = None
    pin_order: tuple[str, ...] = ()

    @property
    def contact(self) -> Contact:
        """What the jack shows to a plug."""
        return jack(self.connector, self.direction)

    @property
    def wired_through(self) -> bool:
        """Whether it is a link output that is joined to its input, with no electronics between."""
        return self.role is PortRole.LINK and self.impedance_ohm is None and self.output_stage is OutputStage.UNKNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class Mains:
    """What a device asks of the rack and the supply. Zero rack units: not rack mounted."""

    rack_units: int = 0
    idle_w: float = 0.0
    rated_w: float = 0.0
    class_ii: bool = False

    @property
    def earthed(self) -> bool:
        """Whether there is a mains cord with a protective earth."""
        return not self.class_ii and max(self.idle_w, self.rated_w) > 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Controls:
    """What can be set at each output of a processor or DSP unit (rule R10)."""

    gain: bool
    polarity: bool
    max_delay_ms: float
    filters: int
    crossover_ways: int

    def independent(self, filters_wanted: int) -> bool:
        """Whether one output offers gain, delay, polarity and the filters asked for."""
        return self.gain and self.polarity and self.max_delay_ms > 0 and self.filters >= filters_wanted


@dataclass(frozen=True, kw_only=True, slots=True)
class Processor:
    """A processor or receiver.

    `rendered_channels` counts distinct channels, the bass once; `processed_outputs` counts
    outputs that can be set separately, internal amplifier channels included.
    """

    sku: str
    name: str
    rendered_channels: int
    processed_outputs: int
    controls: Controls
    card_slots: int = 0
    amp_power_8ohm_w: float | None = None
    amp_power_4ohm_w: float | None = None
    amp_least_load_ohm: float | None = None
    amp_gain_db: float | None = None
    latency_ms: float = 0.0
    noise_dbu: float | None = None
    mains: Mains = Mains()


@dataclass(frozen=True, kw_only=True, slots=True)
class Card:
    """An expansion card; its ports are listed under its own sku."""

    sku: str
    name: str
    fits: tuple[str, ...]
    slots: int = 1
    adds_rendered_channels: int = 0
    adds_processed_outputs: int = 0
    mains: Mains = Mains()


@dataclass(frozen=True, kw_only=True, slots=True)
class DspUnit:
    """An external DSP unit.

    `inputs` and `outputs` bound the signals in use at once, whatever the number of jacks.
    With `outputs_per_input` set, output jack k (counted from 1) derives from input jack
    ceil(k / outputs_per_input) only; with None every output can derive from any input.
    """

    sku: str
    name: str
    inputs: int
    outputs: int
    controls: Controls
    outputs_per_input: int | None = None
    latency_ms: float = 0.0
    noise_dbu: float | None = None
    max_gain_db: float = 0.0
    mains: Mains = Mains()


@dataclass(frozen=True, kw_only=True, slots=True)
class Amplifier:
    """A power amplifier. Channel k takes input jack k of one of its input groups.

    `noise_dbu` is referred to its input; that of a processor or DSP unit is at its outputs.
    """

    sku: str
    name: str
    channels: int
    power_8ohm_w: float
    power_4ohm_w: float | None = None
    bridged_power_8ohm_w: float | None = None
    least_load_ohm: float = 4.0
    least_bridged_load_ohm: float | None = None
    sensitivity_v: float | None = None
    gain_db: float | None = None
    noise_dbu: float | None = None
    mains: Mains = Mains()


class Powering(StrEnum):
    """PASSIVE: one pair of terminals. ACTIVE: one line input. CROSSED: one pair a way."""

    PASSIVE = "passive"
    ACTIVE = "active"
    CROSSED = "crossed"


@dataclass(frozen=True, kw_only=True, slots=True)
class Loudspeaker:
    """A loudspeaker. An active one names its own greatest level, a passive one its limits.

    `sensitivity_db` is at 1 m for 1 W, or for 2.83 V where `sensitivity_at_2v83` is set.
    The terminals of a CROSSED one are one input port group a way, lowest way first.
    """

    sku: str
    name: str
    powering: Powering
    ways: int = 1
    sensitivity_db: float | None = None
    sensitivity_at_2v83: bool = False
    impedance_ohm: float | None = None
    least_impedance_ohm: float | None = None
    handling_w: float | None = None
    max_spl_db: float | None = None
    mains: Mains = Mains()


@dataclass(frozen=True, kw_only=True, slots=True)
class Subwoofer:
    """A subwoofer, active or passive; its input groups are alternatives to one another."""

    sku: str
    name: str
    powering: Powering
    low_corner_hz: float
    max_spl_db: float | None = None
    sensitivity_db: float | None = None
    sensitivity_at_2v83: bool = False
    impedance_ohm: float | None = None
    least_impedance_ohm: float | None = None
    handling_w: float | None = None
    mains: Mains = Mains()


@dataclass(frozen=True, kw_only=True, slots=True)
class Lead:
    """A made lead as sold: end A to end B, one length. `balanced` means two cores and a shield."""

    sku: str
    name: str
    end_a: Contact
    end_b: Contact
    balanced: bool
    length_m: float
    capacitance_pf_per_m: float | None = None
    shield_mohm_per_m: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Adapter:
    """A rigid adapter: `end_a` faces the lead, `end_b` the equipment (or the other way round)."""

    sku: str
    name: str
    end_a: Contact
    end_b: Contact


@dataclass(frozen=True, kw_only=True, slots=True)
class Splitter:
    """A passive splitter: plugs onto an output by `input`, offers `legs` contacts `leg`."""

    sku: str
    name: str
    input: Contact
    leg: Contact
    legs: int
    balanced: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Isolator:
    """A line isolating transformer in a box: `input` and `output` are its jacks.

    `balanced` as far as a jack can be: an RCA jack never is.
    """

    sku: str
    name: str
    input: Contact
    output: Contact
    balanced: bool
    max_level_dbu: float | None = None
    loss_db: float = 0.0

    @property
    def input_balanced(self) -> bool:
        """Whether its input is balanced."""
        return self.balanced and self.input.connector is not Connector.RCA

    @property
    def output_balanced(self) -> bool:
        """Whether its output is balanced."""
        return self.balanced and self.output.connector is not Connector.RCA


class CableKind(StrEnum):
    """What a bulk cable is for."""

    LINE_BALANCED = "line_balanced"
    LINE_UNBALANCED = "line_unbalanced"
    SPEAKER = "speaker"


@dataclass(frozen=True, kw_only=True, slots=True)
class BulkCable:
    """Cable by length, sold in whole steps of `step_m`; one unit of its price is one step."""

    sku: str
    name: str
    kind: CableKind
    step_m: float
    area_mm2: float | None = None
    capacitance_pf_per_m: float | None = None
    shield_mohm_per_m: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ConnectorPart:
    """A connector to be fitted to the end of bulk cable."""

    sku: str
    name: str
    contact: Contact


Item = (
    Processor | Card | DspUnit | Amplifier | Loudspeaker | Subwoofer
    | Lead | Adapter | Splitter | Isolator | BulkCable | ConnectorPart
)  # fmt: skip


@dataclass(frozen=True, kw_only=True, slots=True)
class Offer:
    """One supplier's price of one item: `price` a unit, without tax, in `currency`.

    `stock` bounds what can be bought of it (None: no bound); `least_order` is the fewest
    that the supplier sells at once (1: no bound).
    """

    sku: str
    supplier: str
    currency: str
    price: Decimal
    priced_on: date
    stock: int | None = None
    least_order: int = 1


@dataclass(frozen=True, kw_only=True, slots=True)
class Catalogue:
    """All that can be bought. Every tuple is sorted by sku, so row order never matters.

    `ports` maps a device's sku to its port groups in catalogue order by name; `offers`
    maps a sku to its offers. A sku is unique over all kinds.
    """

    processors: tuple[Processor, ...] = ()
    cards: tuple[Card, ...] = ()
    dsp_units: tuple[DspUnit, ...] = ()
    amplifiers: tuple[Amplifier, ...] = ()
    loudspeakers: tuple[Loudspeaker, ...] = ()
    subwoofers: tuple[Subwoofer, ...] = ()
    leads: tuple[Lead, ...] = ()
    adapters: tuple[Adapter, ...] = ()
    splitters: tuple[Splitter, ...] = ()
    isolators: tuple[Isolator, ...] = ()
    bulk_cables: tuple[BulkCable, ...] = ()
    connectors: tuple[ConnectorPart, ...] = ()
    ports: Mapping[str, tuple[PortGroup, ...]] = field(default_factory=dict)
    offers: Mapping[str, tuple[Offer, ...]] = field(default_factory=dict)

    def items(self) -> tuple[Item, ...]:
        """Every record of every kind, kind by kind."""
        return (
            *self.processors, *self.cards, *self.dsp_units, *self.amplifiers,
            *self.loudspeakers, *self.subwoofers, *self.leads, *self.adapters,
            *self.splitters, *self.isolators, *self.bulk_cables, *self.connectors,
        )  # fmt: skip

    def inputs(self, sku: str) -> tuple[PortGroup, ...]:
        """The input port groups of a device."""
        return tuple(p for p in self.ports.get(sku, ()) if p.direction is Direction.IN)

    def outputs(self, sku: str) -> tuple[PortGroup, ...]:
        """The output port groups of a device, link outputs left out."""
        return tuple(
            p for p in self.ports.get(sku, ())
            if p.direction is Direction.OUT and p.role is not PortRole.LINK
        )  # fmt: skip

    def links(self, sku: str) -> tuple[PortGroup, ...]:
        """The link outputs of a subwoofer."""
        return tuple(p for p in self.ports.get(sku, ()) if p.role is PortRole.LINK)
