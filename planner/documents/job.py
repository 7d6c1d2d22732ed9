"""What papers are written of: one chosen option among others, with all that it was planned from."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.bass.starting_values import StartingValue, starting_values
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.documents.compared import MOST_COMPARED, compared_options
from planner.errors import WrongUsage
from planner.house import House
from planner.options import Option, Result
from planner.physics import Examination, examine


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """One chosen option. `compared` stand side by side in the proposal, the chosen one among them."""

    brief: Brief
    catalogue: Catalogue
    house: House
    result: Result
    option: Option
    compared: tuple[Option, ...]
    examination: Examination
    starting_values: tuple[StartingValue, ...]

    @property
    def currency(self) -> str:
        """The currency of the quote."""
        return self.option.quote.currency

    @property
    def tax_percent(self) -> Decimal:
        """The rate of tax: the brief's where it names one, else the house's."""
        agreed = self.brief.project.tax_percent
        return self.house.tax_percent if agreed is None else agreed


def job_of(
    option_id: str | None,
    result: Result,
    *,
    brief: Brief,
    catalogue: Catalogue,
    house: House,
    beside: Sequence[str] | None = None,
) -> Job:
    """The papers of one option, the cheapest where none is named, with `beside` in the proposal.

    Without `beside`, what stands next to it is taken from the shortlist. Raises WrongUsage for an
    option that the result has not.
    """
    option_by_id = {option.id: option for option in result.options}
    known = ", ".join(option_by_id)
    if not option_by_id:
        raise WrongUsage("there is no option to write papers of.")
    for wanted in (option_id, *(beside or ())):
        if wanted is not None and wanted not in option_by_id:
            raise WrongUsage(f"no option {wanted}. The options are {known}.")
    option = option_by_id[option_id] if option_id is not None else result.options[0]
    shown = {option.id, *beside} if beside is not None else None
    if shown is not None and len(shown) > MOST_COMPARED:
        raise WrongUsage(f"{len(shown)} options side by side are too many for a page: at most {MOST_COMPARED}.")
    return Job(
        brief=brief,
        catalogue=catalogue,
        house=house,
        result=result,
        option=option,
        compared=compared_options(result, option)
        if shown is None
        else tuple(each for each in result.options if each.id in shown),
        examination=examine(option.design, brief, catalogue),
        starting_values=starting_values(option.design, brief, catalogue),
    )
