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
