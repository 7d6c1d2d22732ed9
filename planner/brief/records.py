"""The brief as frozen records: all that is asked of the system, nothing of the answer.

Room coordinates, in metres: x from the front wall towards the back, y from the left wall
towards the right, z up from the floor.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum


class Drive(StrEnum):
    """How a feed is reached."""

    DEDICATED = "dedicated"
    DSP = "dsp"
    SPLIT = "split"
    DAISY_CHAINED = "daisy_chained"


class Measure(StrEnum):
    """A measure that the trade-off set can weigh against the others (M1 to M8)."""

    PRICE = "price"
    INDEPENDENT_SUBWOOFERS = "independent_subwoofers"
    SPARE_OUTPUTS = "spare_outputs"
    JOINTS = "joints"
    SUBWOOFERS_LOST = "subwoofers_lost"
    CONVERSIONS = "conversions"
    EARTH_LOOPS = "earth_loops"
    LEAST_MARGIN = "least_margin"


class PhysicalLimit(StrEnum):
    """A limit of R11 to R15 that a design must keep; one not kept is told as a concern.

    LEVEL    every input can be driven to full output, within the tolerance (R11)
    TARGET   loudspeakers and subwoofers reach their targets with the headroom (R13)
    CABLE    no loudspeaker cable loses more than it may (R13)
    LOAD     no amplifier channel has a load below what it may drive (R14)
    DELAY    the delays for alignment fit the ranges of the devices that make them (R15)
    """

    LEVEL = "level"
    TARGET = "target"
    CABLE = "cable"
    LOAD = "load"
    DELAY = "delay"


DEFAULT_MEASURES = (
    Measure.PRICE,
    Measure.INDEPENDENT_SUBWOOFERS,
    Measure.SPARE_OUTPUTS,
    Measure.SUBWOOFERS_LOST,
    Measure.CONVERSIONS,
)


@dataclass(frozen=True, slots=True)
class Point:
    """A position in the room, metres."""

    x_m: float
    y_m: float
    z_m: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Project:
    """Who it is for, and the terms of the quote.

    `tax_percent` of None takes the house's rate. Dates in the papers come from `dated`.
    """

    name: str
    client: str
    reference: str
    dated: date
    currency: str
    tax_percent: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Reverberation:
    """The reverberation time at one frequency, such as the middle of a band that was measured."""

    hz: float
    time_s: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Room:
    """A rectangular room: length along x, width along y, height along z.

    `reverberation_bands`, lowest first, stand in place of `reverberation_time_s` where there are any.
    """

    length_m: float
    width_m: float
    height_m: float
    reverberation_time_s: float = 0.4
    temperature_c: float = 20.0
    reverberation_bands: tuple[Reverberation, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Seat:
    """A listener's head."""

    name: str
    position: Point
    primary: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Rack:
    """Where the gear stands, and how cable lengths are counted.

    A route is |dx| + |dy| + |dz| from the rack, times (1 + `route_allowance_percent`/100),
    plus `slack_m`; a lead within the rack is `internal_m` long. `units` of None: no limit.
    """

    position: Point
    units: int | None = None
    route_allowance_percent: float = 10.0
    slack_m: float = 0.5
    internal_m: float = 1.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Placement:
    """One loudspeaker: its channel, and its position unless the layout gives it."""

    channel: str
    position: Point | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class LoudspeakerSet:
    """Loudspeakers of one model. Exactly one candidate is chosen for the whole set.

    `candidates` empty: any loudspeaker in the catalogue that reaches `target_spl_db` at the
    primary seat. One candidate: a fixed model.
    """

    name: str
    placements: tuple[Placement, ...]
    candidates: tuple[str, ...] = ()
    target_spl_db: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class SubwooferSet:
    """Subwoofers of one model, from `least` to `most` of them, taken in order of position.

    `positions` holds at least `most` points. `candidates` empty: any in the catalogue.
    `target_spl_db` is for all subwoofers of its channel together, in phase, at each primary seat.
    """

    name: str
    least: int
    most: int
    positions: tuple[Point, ...]
    candidates: tuple[str, ...] = ()
    channel: str = "LFE1"
    target_spl_db: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Owned:
    """Gear that the client has: price zero. `must_use` puts every one of them to use."""

    sku: str
    count: int = 1
    must_use: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Limits:
    """What a design may not break.

    None means no limit. `spare_ceiling` is where spare outputs stop counting (M3);
    `largest_split` bounds how many feeds may share an output, by splitters, mirrored jacks or
    a chain, `most_dsp_units` the DSP units in
    all; `filters_per_subwoofer` is the equalisation asked of a control point (R10).

    `physical` are the limits of R11 to R15 that a design must keep. `level_tolerance_db` is how far
    short of full output a chain may fall, `least_margin_db` the least margin (M8) asked of
    every chain; `target_headroom_db` comes on top of every target. The three tolerances that
    have figures by default are common practice, no published source.
    """

    drives: frozenset[Drive] = frozenset(Drive)
    largest_split: int = 4
    balanced_only: bool = False
    least_independent_subwoofers: int = 0
    least_control_groups: int = 0
    spare_outputs: int = 0
    spare_ceiling: int = 4
    most_subwoofers_lost: int | None = None
    filters_per_subwoofer: int = 0
    most_dsp_units: int = 2
    budget: Decimal | None = None
    physical: frozenset[PhysicalLimit] = frozenset(PhysicalLimit)
    level_tolerance_db: float = 1.0
    target_headroom_db: float = 0.0
    most_cable_loss_db: float = 0.5
    most_noise_db: float = -80.0
    least_margin_db: float | None = None
    most_earth_loops: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class LaterStage:
    """A stage to come, so that the answer can be read against it: a layout and a count."""

    name: str
    layout: str
    subwoofers: int
    years: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Brief:
    """All that is asked. `layout` names a preset whose angles place the loudspeakers."""

    project: Project
    room: Room
    seats: tuple[Seat, ...]
    rack: Rack
    layout: str
    loudspeakers: tuple[LoudspeakerSet, ...]
    subwoofers: tuple[SubwooferSet, ...] = ()
    limits: Limits = Limits()
    measures: tuple[Measure, ...] = DEFAULT_MEASURES
    owned: tuple[Owned, ...] = ()
    excluded: tuple[str, ...] = ()
    later: tuple[LaterStage, ...] = ()
