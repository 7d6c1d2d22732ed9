"""The quote's arithmetic as spreadsheet formulas that come to the same minor unit.

A spreadsheet counts in binary fractions, the planner in exact ones. A tie such as 2.665 is a hair
off in binary and would fall to the wrong side, so an amount is first rounded to a millionth of the
minor unit, and then to the unit. Each formula is worked out here in binary as well; where it would
not come to the planner's exact figure, that figure stands in the cell instead of a formula.
"""

from dataclasses import dataclass
from fractions import Fraction

from planner.house import House, Rounding
from planner.money import minor_digits

GUARD_DIGITS = 6


@dataclass(frozen=True, slots=True)
class Rounded:
    """How amounts of one currency are rounded in a formula."""

    digits: int
    rounding: Rounding

    @classmethod
    def of(cls, currency: str, house: House) -> "Rounded":
        """The rounding of a quote in this currency by the house's terms."""
        return cls(minor_digits(currency), house.rounding)

    def formula(self, amount: str) -> str:
        """The formula, without its "=", that rounds the amount which another formula gives.

        >>> Rounded(2, Rounding.HALF_UP).formula("A1/(1-B1)")
        'ROUND(ROUND((A1/(1-B1))*100,6),0)/100'
        >>> Rounded(0, Rounding.HALF_EVEN).formula("A1")
        '(ROUND(ROUND((A1)*1,6),0)-IF(MOD(ROUND((A1)*1,6),2)=0.5,1,0))/1'
        """
        scale = 10**self.digits
        minor = f"ROUND(({amount})*{scale},{GUARD_DIGITS})"
        if self.rounding is Rounding.HALF_UP:
            return f"ROUND({minor},0)/{scale}"
        return f"(ROUND({minor},0)-IF(MOD({minor},2)=0.5,1,0))/{scale}"

    def comes_to(self, amount: float, minor: int) -> bool:
        """Whether the formula gives this many minor units for an amount that was worked out in binary."""
        guarded = Fraction(round(amount * 10**self.digits, GUARD_DIGITS)).limit_denominator(10**GUARD_DIGITS)
        if self.rounding is Rounding.HALF_EVEN:
            return round(guarded) == minor
        return int(guarded + Fraction(1, 2)) == minor
