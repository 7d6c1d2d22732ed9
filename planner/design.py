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
    ISOLATOR = "isolator"
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
    An isolator's are "IN" and "OUT". A card's jacks belong to the card's own unit.
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


class FigureUnit(StrEnum):
    """What a figure is counted in. A level in dB and a difference of levels are told by what the figure is of."""

    DB = "dB"
    MS = "ms"
    OHM = "ohm"
    W = "W"
    V = "V"
    A = "A"
    LOOPS = "loops"
    RACK_UNITS = "rack units"


@dataclass(frozen=True, kw_only=True, slots=True)
class Figure:
    """A figure behind a finding: what it is of, how much, and what it is held to; None: nothing holds it."""

    of: str
    value: float
    unit: FigureUnit
    limit: float | None = None

    @property
    def beyond(self) -> float | None:
        """How far it is on the wrong side of its limit, above 0."""
        return None if self.limit is None else abs(self.value - self.limit)

    def words(self, amount: float) -> str:
        """An amount in this figure's unit, as people read it.

        >>> loss = Figure(of="cable loss", value=0.53, unit=FigureUnit.DB, limit=0.5)
        >>> loss.words(loss.value), loss.words(-12.345), Figure(of="hum", value=0, unit=FigureUnit.V).words(316e-6)
        ('0.53 dB', '-12.3 dB', '316 µV')
        """
        match self.unit:
            case FigureUnit.LOOPS | FigureUnit.RACK_UNITS:
                return f"{amount:.0f} {self.unit.value[:-1] if amount == 1 else self.unit.value}"
            case FigureUnit.V if 0 < abs(amount) < 1e-3:
                return f"{amount * 1e6:.3g} µV"
            case FigureUnit.OHM | FigureUnit.V:
                return f"{amount:.3g} {self.unit.value}"
            case FigureUnit.W:
                return f"{amount:.0f} W" if abs(amount) >= 10 else f"{amount:.2g} W"
            case _:
                return (
                    f"{amount:.1f} {self.unit.value}" if abs(amount) >= 1 else f"{round(amount, 2):g} {self.unit.value}"
                )


class PlaceKind(StrEnum):
    """What a place is. A LEAD is told by the two jacks that it joins."""

    DEVICE = "device"
    JACK = "jack"
    LEAD = "lead"
    SET = "set"
    CHANNEL = "channel"
    SEAT = "seat"


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where something is found: its name, and the jacks by which a jack or a lead is found in the design."""

    kind: PlaceKind
    name: str
    jacks: tuple[Jack, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """What a check has to say: the rule, how grave, of what, and then the parts of the sentence to show.

    `heading` says what is wrong in a few words, `detail` more of it in sentences. The first of
    `figures` that has a limit says by how much. `remedies` are whole alternatives, the likeliest
    first; `caution` is what must not be done about it.
    """

    rule: str
    severity: Severity
    subject: str
    heading: str = ""
    detail: str = ""
    figures: tuple[Figure, ...] = ()
    places: tuple[Place, ...] = ()
    remedies: tuple[str, ...] = ()
    caution: str = ""

    @property
    def excess(self) -> Figure | None:
        """The figure that breaks its limit."""
        return next((figure for figure in self.figures if figure.limit is not None), None)

    @property
    def message(self) -> str:
        """The whole sentence to show: what and by how much, more of it, what would help, what must not be done.

        >>> Finding(rule="R14", severity=Severity.CONCERN, subject="Amp", heading="Load too low", detail="4 ohm.",
        ...         remedies=("one amplifier", "another"), figures=(
        ...             Figure(of="load", value=4, unit=FigureUnit.OHM, limit=6),)).message
        'Load too low by 2 ohm. 4 ohm. Remedy: one amplifier; or another.'
        """
        by = "" if self.excess is None else f" by {self.excess.words(self.excess.beyond or 0.0)}"
        head = f"{self.heading}{by}." if self.heading else ""
        remedy = f"Remedy: {'; or '.join(self.remedies)}." if self.remedies else ""
        return " ".join(part for part in (head, self.detail, remedy, self.caution) if part)


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
