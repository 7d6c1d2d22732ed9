"""An answer to a demand as plain numbers: how many of each flow, and what is bought."""

from dataclasses import dataclass

from planner.demand.leads import Kind
from planner.demand.links import LinkKey


@dataclass(frozen=True, kw_only=True, slots=True)
class Claim:
    """What the model holds the measures to be, price before tax; the last three only where they are asked for.

    `loops` and `margin` (in whole dB, up to `MOST_MARGIN_DB`) may read worse than they are.
    """

    subtotal_minor: int
    independent: int
    groups: int
    spare: int
    lost: int
    conversions: int
    joints: int | None
    loops: int | None = None
    margin: int | None = None


@dataclass(frozen=True, slots=True)
class ChannelUse:
    """Channels of one amplifier model used by one input kind, and those for subwoofers."""

    amplifier: str
    inlet: Kind
    channels: int
    bass_channels: int


@dataclass(frozen=True, slots=True)
class LinkUse:
    """So many links of a key made by option number `option`; `bass` where joints are weighed."""

    key: LinkKey
    bass: bool
    option: int
    count: int


@dataclass(frozen=True, slots=True)
class Bought:
    """So many of a sku bought of one supplier at one unit price."""

    sku: str
    supplier: str
    unit_minor: int
    count: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Counts:
    """The allocation's answer. Tuples without keys follow the demand's own tuples.

    `processor` is a position in the demand's processors; `present` lists (set, model sku,
    member index); `units` (DSP unit number, sku); `amplifiers` (sku, count).
    """

    claim: Claim
    processor: int
    present: tuple[tuple[str, str, int], ...]
    feed: tuple[int, ...]
    drive: tuple[int, ...]
    amplifier_in: tuple[int, ...]
    dsp_in: tuple[int, ...]
    split: tuple[int, ...]
    chain: tuple[int, ...]
    units: tuple[tuple[int, str], ...]
    amplifiers: tuple[tuple[str, int], ...]
    amplifier_uses: tuple[ChannelUse, ...]
    links: tuple[LinkUse, ...]
    bought: tuple[Bought, ...]
