"""What papers are written of: one chosen option among others, with all that it was planned from."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.bass.prediction import BassPrediction, NoPrediction, predicted, setup
from planner.bass.starting_values import StartingValue, values_of
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.costing import PriceList
from planner.documents.compared import MOST_COMPARED, compared_options
from planner.documents.why_told import NOTHING_ASKED, WhyTold
from planner.errors import WrongUsage
from planner.house import House
from planner.options import Option, Result
from planner.physics import Examination, examine


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """One chosen option. `compared` stand side by side in the proposal, the chosen one among them.

    `bass_by_id` has the prediction of each of those, in the order of the options, with all options beside it.
    `why` has in sentences what has been asked of price steps, gear, moving prices and later stages.
    """

    brief: Brief
    catalogue: Catalogue
    house: House
    result: Result
    option: Option
    compared: tuple[Option, ...]
    examination: Examination
    prices: PriceList
    bass_by_id: Mapping[str, BassPrediction | NoPrediction]
    starting_values: tuple[StartingValue, ...]
    why: WhyTold = NOTHING_ASKED

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
    why: WhyTold = NOTHING_ASKED,
) -> Job:
    """The papers of one option, the cheapest where none is named, with `beside` in the proposal.

    Without `beside`, what stands next to it is taken from the shortlist. Raises WrongUsage for an option that the
    result has not.
    """
    if not result.options:
        raise WrongUsage("there is no option to write papers of.")
    option = result.options[0] if option_id is None else _named(option_id, result)
    compared = compared_options(result, option) if beside is None else _side_by_side(option, beside, result)
    bass_by_id = _bass(compared, result, brief, catalogue)
    return Job(
        brief=brief,
        catalogue=catalogue,
        house=house,
        result=result,
        option=option,
        compared=compared,
        examination=examine(option.design, brief, catalogue),
        prices=PriceList(brief, catalogue, house),
        bass_by_id=bass_by_id,
        starting_values=values_of(bass_by_id[option.id], option.design, brief, catalogue),
        why=why,
    )


def _bass(
    compared: Sequence[Option], result: Result, brief: Brief, catalogue: Catalogue
) -> dict[str, BassPrediction | NoPrediction]:
    """The bass of some options, each with the settings behind its M9."""
    setups = {option.id: setup(option.design, brief, catalogue) for option in result.options}
    here = {option.id: setups[option.id] for option in compared}
    return {
        option_id: one if isinstance(one, NoPrediction) else predicted(one, [*setups.values()])
        for option_id, one in here.items()
    }


def _named(option_id: str, result: Result) -> Option:
    for option in result.options:
        if option.id == option_id:
            return option
    raise WrongUsage(f"no option {option_id}. The options are {', '.join(option.id for option in result.options)}.")


def _side_by_side(option: Option, beside: Sequence[str], result: Result) -> tuple[Option, ...]:
    """The option and those named, in the order of the result."""
    shown = {option.id, *(_named(each, result).id for each in beside)}
    if len(shown) > MOST_COMPARED:
        raise WrongUsage(f"{len(shown)} options side by side are too many for a page: at most {MOST_COMPARED}.")
    return tuple(each for each in result.options if each.id in shown)
