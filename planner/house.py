"""House settings as frozen records: labour, margin, tax, exchange rates, the house itself."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum


class Rounding(StrEnum):
    """How a tie is rounded: away from zero, or to the even neighbour."""

    HALF_UP = "half_up"
    HALF_EVEN = "half_even"


class Task(StrEnum):
    """A labour task that a design can call for; minutes are for one of it."""

    PROCESSOR = "fit_processor"
    CARD = "fit_card"
    DSP = "fit_dsp_unit"
    AMPLIFIER = "fit_amplifier"
    LOUDSPEAKER = "fit_loudspeaker"
    SUBWOOFER = "fit_subwoofer"
    LEAD = "run_lead"
    TERMINATION = "make_up_end"


@dataclass(frozen=True, kw_only=True, slots=True)
class Rate:
    """Units of the foreign currency for one unit of the house currency, on a date."""

    per_house_unit: Decimal
    dated: date


class LogoFormat(StrEnum):
    """What kind of picture a logo is."""

    PNG = "png"
    JPEG = "jpg"
    SVG = "svg"


@dataclass(frozen=True, kw_only=True, slots=True)
class Logo:
    """The firm's mark for the head of the papers: the file it was read from, and the file's content."""

    file: str
    format: LogoFormat
    content: bytes


@dataclass(frozen=True, kw_only=True, slots=True)
class Stationery:
    """How the firm's papers look, and what they say of themselves.

    A quote stands for `valid_days` from the date of the brief. `itemised`: the client sees each
    article with its price, else only the sums of groups. `terms` are lines of the firm's own,
    printed in the proposal as they stand.
    """

    logo: Logo | None = None
    valid_days: int = 30
    itemised: bool = True
    terms: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class House:
    """The firm's own terms. Exactly one of margin and mark-up is set, both in percent.

    Margin is on the tax-exclusive price: price = cost / (1 - margin). Mark-up is on cost.
    `labour_rate` is the selling price of an hour in the house currency.
    """

    name: str
    currency: str
    address: tuple[str, ...] = ()
    rates: Mapping[str, Rate] = field(default_factory=dict)
    margin_percent: Decimal | None = None
    markup_percent: Decimal | None = None
    labour_rate: Decimal = Decimal(0)
    minutes: Mapping[Task, Decimal] = field(default_factory=dict)
    tax_name: str = "tax"
    tax_percent: Decimal = Decimal(0)
    rounding: Rounding = Rounding.HALF_UP
    stationery: Stationery = Stationery()
