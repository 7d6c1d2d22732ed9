"""What papers are written of: one chosen option among others, with all that it was planned from."""

from dataclasses import dataclass
from decimal import Decimal

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.house import House
from planner.options import Option, Result


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """One chosen option. `compared` stand side by side in the proposal, the chosen one among them."""

    brief: Brief
    catalogue: Catalogue
    house: House
    result: Result
    option: Option
    compared: tuple[Option, ...]

    @property
    def currency(self) -> str:
        """The currency of the quote."""
        return self.option.quote.currency

    @property
    def tax_percent(self) -> Decimal:
        """The rate of tax: the brief's where it names one, else the house's."""
        agreed = self.brief.project.tax_percent
        return self.house.tax_percent if agreed is None else agreed


@dataclass(frozen=True, kw_only=True, slots=True)
class Paper:
    """One finished file."""

    name: str
    media_type: str
    content: bytes
