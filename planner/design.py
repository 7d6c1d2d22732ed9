"""The answer as plain data: devices, connections, purchases. No rule and no solver here."""

from dataclasses import dataclass
from enum import StrEnum

from planner.house import Task


class UnitKind(StrEnum):
    """What a unit of a design is."""

    PROCESSOR = "processor"
    CARD = "card"
    DSP = "dsp"
    AMPLIFIER = "amplifier"
    SPLITTER = "splitter"
    LOUDSPEAKER = "loudspeaker"
    SUBWOOFER = "subwoofer"


@dataclass(frozen=True, kw_only=True, slots=True)
class Unit:
    """One physical device. `id` is unique in the design, for example "DSP 1" or "Sub 2".

    `member` ties a loudspeaker or subwoofer to its place in the brief: the set's name and
    the index within it. `host` is the processor unit that a card sits in.
    """

    id: str
    sku: str
    kind: UnitKind
    member: tuple[str, int] | None = None
    host: str | None = None


@dataclass(frozen=True, slots=True, order=True)
class Jack:
    """One physical jack: unit id, port group name, and index from 1 within the group.

    A splitter's groups are "IN" and "LEG"; an amplifier's output group is as in its ports.
    A card's jacks belong to the card's own unit.
    """

    unit: str
    group: str
    index: int

    def __str__(self) -> str:
        return f"{self.unit} / {self.group} {self.index}"


class LeadMethod(StrEnum):
    """How a connection is made.

    DIRECT    the splitter plugs onto the jack itself, no lead
    STOCKED   one made lead
    ADAPTED   one made lead and one or two adapters
    MADE_UP   bulk cable with connectors fitted, or bare tails where the jack is a clamp
    CUT       one half of a made lead: its connector at one end, a bare tail at the other
    """

    DIRECT = "direct"
    STOCKED = "stocked"
    ADAPTED = "adapted"
    MADE_UP = "made_up"
    CUT = "cut"


@dataclass(frozen=True, kw_only=True, slots=True)
class LeadPart:
    """So many units of a sku in one lead: pieces, or steps of bulk cable."""

    sku: str
    count: int


@dataclass(frozen=True, kw_only=True, slots=True)
class LeadBuild:
    """What one connection is made of. `length_m` is the length wanted, not the length sold.

    Order of `parts`, from source to sink: [adapter at the source] lead [adapter at the sink],
    or [connector at the source] cable [connector at the sink]; a bare tail has no part.
    A CUT build has the lead it comes from as its only part, count 1, and `cut_end` says
    which end of that lead ("a" or "b") this tail keeps: two tails make one lead bought.
    `flipped`: a STOCKED or ADAPTED lead runs with its end B at the source.
    """

    method: LeadMethod
    parts: tuple[LeadPart, ...] = ()
    length_m: float = 0.0
    cut_end: str | None = None
    flipped: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Connection:
    """One link from an output jack to an input jack, carrying `channel`.

    `way` is the band from 1 (lowest) on a crossed loudspeaker's path below the point
    where it is split into bands, else None.
    """

    channel: str
    source: Jack
    sink: Jack
    lead: LeadBuild
    way: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Route:
    """Inside a DSP unit: this output jack derives from this input jack."""

    source: Jack
    sink: Jack


@dataclass(frozen=True, kw_only=True, slots=True)
class Purchase:
    """So many units bought of one offer, each at `unit_price_minor`, without tax.

    Owned gear has supplier "owned" and price zero, and is listed only for what is used.
    """

    sku: str
    supplier: str
    count: int
    unit_price_minor: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Labour:
    """So many of one task, each at `unit_price_minor`, without tax."""

    task: Task
    count: int
    unit_price_minor: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Design:
    """One way to answer the brief, complete to the jack."""

    units: tuple[Unit, ...]
    connections: tuple[Connection, ...]
    routes: tuple[Route, ...]
    purchases: tuple[Purchase, ...]
    labour: tuple[Labour, ...]
    currency: str


class Severity(StrEnum):
    """INVALID: the design breaks a rule. CONCERN: valid, but to be seen. NOTE: good to know."""

    INVALID = "invalid"
    CONCERN = "concern"
    NOTE = "note"


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """What a check has to say: the rule, how grave, of what, and the sentence to show."""

    rule: str
    severity: Severity
    subject: str
    message: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Measures:
    """M1 to M9 of one design. None: it cannot be told; a finding says why."""

    price_minor: int
    independent_subs: int
    control_groups: int
    spare_outputs: int
    joints: int
    subs_lost_worst: int
    conversions: int
    earth_loops: int | None = None
    least_margin_db: float | None = None
    bass_spread_db: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class LedgerLine:
    """Have, used and spare of one port group of one unit."""

    device: str
    group: str
    have: int
    used: int
    spare: int
