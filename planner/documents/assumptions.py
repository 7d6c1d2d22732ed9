"""What a quote rests on, and what is still to be settled, in sentences made from the brief and the findings."""

from collections.abc import Iterator, Mapping
from datetime import date

from planner.design import Severity
from planner.documents.dates import long_date
from planner.documents.job import Job
from planner.words import listed

_TOPICS: Mapping[str, str] = {
    "R11": "signal levels between devices",
    "R12": "noise",
    "R13": "loudness at the seats",
    "R14": "the load on an amplifier",
    "R15": "delays",
    "R16": "mains and heat",
    "R17": "hum from earth loops",
}


def assumptions(job: Job) -> list[str]:
    """The assumptions, each a whole sentence or two."""
    return list(_assumptions(job))


def open_points(job: Job) -> str:
    """What the checks found that is to be settled before ordering, in a sentence; empty where nothing is."""
    concerns = [finding for finding in job.option.findings if finding.severity is not Severity.NOTE]
    topics = dict.fromkeys(_TOPICS.get(finding.rule, f"rule {finding.rule}") for finding in concerns)
    if not concerns:
        return ""
    points = "One point is" if len(concerns) == 1 else f"{len(concerns)} points are"
    return f"{points} to be settled with you before gear is ordered: {listed(tuple(topics))}."


def _assumptions(job: Job) -> Iterator[str]:
    brief, room, rack = job.brief, job.brief.room, job.brief.rack
    yield (
        f"The room is rectangular, {room.length_m:.2f} m long, {room.width_m:.2f} m wide and {room.height_m:.2f} m"
        " high. Loudspeakers, subwoofers, seats and rack stand as on the plan."
    )
    yield (
        f"Lengths of cable are measured along the axes of the room, with {rack.route_allowance_percent:g} % and"
        f" {rack.slack_m:g} m to spare; a survey of the real routes may change them."
    )
    yield (
        "Loudness is predicted for open space and bass for an empty rectangular room. Both are starting points, to be"
        " confirmed by measurement when the system is set up."
    )
    owned = [unit for unit in job.option.design.purchases if unit.supplier == "owned"]
    if owned:
        names = {item.sku: item.name for item in job.catalogue.items()}
        yield f"What you have already is in working order: {'; '.join(names[each.sku] for each in owned)}."
    yield from _of_prices(job)
    yield (
        f"Mains wiring, building work and fixings into the structure are not part of this price."
        f" Temperature is taken as {room.temperature_c:g} °C where delays are worked out."
    )
    yield from (
        f"A later stage is foreseen: {each.name}, a {each.layout} system in about {each.years:g} years."
        for each in brief.later
    )


def _of_prices(job: Job) -> Iterator[str]:
    days = sorted({day for line in job.option.design.purchases for day in _priced_on(job, line.sku, line.supplier)})
    if days:
        yield f"Prices rest on our suppliers' lists of {_span(days)}."
    house = job.house
    currencies = {
        job.currency,
        *(offer for line in job.option.design.purchases for offer in _currencies(job, line.sku, line.supplier)),
    }
    rated = sorted({house.rates[each].dated for each in currencies if each in house.rates})
    if rated:
        yield f"Exchange rates are those of {_span(rated)}."


def _priced_on(job: Job, sku: str, supplier: str) -> Iterator[date]:
    return (offer.priced_on for offer in job.catalogue.offers.get(sku, ()) if offer.supplier == supplier)


def _currencies(job: Job, sku: str, supplier: str) -> Iterator[str]:
    return (offer.currency for offer in job.catalogue.offers.get(sku, ()) if offer.supplier == supplier)


def _span(days: list[date]) -> str:
    return long_date(days[0]) if days[0] == days[-1] else f"{long_date(days[0])} to {long_date(days[-1])}"
