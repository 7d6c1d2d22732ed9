"""The client's proposal: options side by side, the room, the price, and what it rests on. No cost and no margin."""

from collections.abc import Iterator
from datetime import timedelta

from planner.channels import CHANNELS
from planner.documents.assumptions import assumptions, open_points
from planner.documents.bass_at_seats import BassAtSeats, bass_at_seats
from planner.documents.cautions import PREVAIL, Caution, cautions
from planner.documents.client_price import price
from planner.documents.compared import Column, columns
from planner.documents.dates import long_date
from planner.documents.job import Job
from planner.documents.letterhead import letterhead
from planner.documents.pictures import plan_picture
from planner.documents.price_reasons import price_reasons
from planner.documents.typeset import NO_BREAK_SPACE, Data, typeset
from planner.output_map import output_map
from planner.tables.amounts import amount, figure
from planner.tables.trade_off import gear_words
from planner.words import counted, listed, subwoofer_count


def proposal(job: Job) -> bytes:
    """The PDF."""
    compared = columns(job.compared)
    bass = bass_at_seats(job, compared)
    letter = next(column.letter for column in compared if column.option.id == job.option.id)
    called = f"option {letter}" if len(compared) > 1 else ""
    pictures = {"plan": plan_picture(job.option, job.brief, called)} | ({"bass": bass.picture()} if bass else {})
    return typeset("proposal", proposal_data(job, bass), job.brief.project.dated, pictures)


def proposal_data(job: Job, bass: BassAtSeats | None) -> Data:
    """All that the template prints; `bass` has a picture beside it."""
    compared = columns(job.compared)
    chosen = next(column for column in compared if column.option.id == job.option.id)
    until = job.brief.project.dated + timedelta(days=job.house.stationery.valid_days)
    return {
        **letterhead(job, "Proposal"),
        "valid_until": long_date(until),
        "valid_days": job.house.stationery.valid_days,
        "opening": list(_opening(job, compared, chosen)),
        "chosen": chosen.letter,
        "currency": job.currency,
        "tax": f"{job.house.tax_name} at {job.tax_percent.normalize():f} %",
        "columns": [_column(column, compared, job) for column in compared],
        "facts": _facts(compared),
        "reasons": price_reasons(job, compared),
        "bass": bass and bass.data(),
        "channels": _channels(job),
        "price": price(job),
        "assumptions": assumptions(job),
        "open_points": open_points(job),
        "terms": job.house.stationery.terms,
        "cautions": cautions(Caution.MAINS, Caution.OVERHEAD, Caution.HEARING),
        "prevail": PREVAIL,
    }


def _channels(job: Job) -> list[Data]:
    """The labels that stand on the plan, in plain words."""
    words_by_label = {channel.label: channel.words for channel in CHANNELS}
    carried = dict.fromkeys(line.channel for line in output_map(job.option.design))
    return [{"label": label, "words": words_by_label.get(label, "")} for label in carried]


def _opening(job: Job, compared: tuple[Column, ...], chosen: Column) -> Iterator[str]:
    brief = job.brief
    loudspeakers = sum(len(group.placements) for group in brief.loudspeakers)
    subwoofers = subwoofer_count(job.option)
    bass = counted(subwoofers, "subwoofer") if subwoofers else "no subwoofer"
    sides = (brief.room.length_m, brief.room.width_m, brief.room.height_m)
    room = f"{' × '.join(f'{side:.2f}' for side in sides)} m".replace(" ", NO_BREAK_SPACE)
    yield (
        f"This is a {brief.layout} system of {counted(loudspeakers, 'loudspeaker')} and {bass}, for"
        f" {counted(len(brief.seats), 'seat')} in a room of {room}."
    )
    price = amount(job.option.measures.price_minor, job.currency)
    if len(compared) == 1:
        yield f"We propose it at {price}, with {job.house.tax_name}."
        return
    others = listed(tuple(column.letter for column in compared if column is not chosen))
    yield (
        f"We propose option {chosen.letter}, at {price} with {job.house.tax_name}. {others}"
        f" {'stands' if len(compared) == 2 else 'stand'} beside it, so that you can see what the difference buys."
    )


def _column(column: Column, compared: tuple[Column, ...], job: Job) -> Data:
    option = column.option
    least = min(each.option.measures.price_minor for each in compared)
    most = max(each.option.measures.price_minor for each in compared)
    name_by_sku = {item.sku: item.name for item in job.catalogue.items()}
    over = option.measures.price_minor - least
    return {
        "letter": column.letter,
        "id": option.id,
        "chosen": option.id == job.option.id,
        "price": figure(option.measures.price_minor, job.currency),
        "over": f"+ {figure(over, job.currency)}" if over else "the lowest",
        "share": option.measures.price_minor / most if most else 0.0,
        "least_share": least / most if most else 0.0,
        "centre": gear_words(option.design, name_by_sku),
        "gets": column.gets,
        "gives_up": column.gives_up,
    }


def _facts(compared: tuple[Column, ...]) -> list[Data]:
    """One row a measure: its words, and the figure of each option."""
    options = [column.option for column in compared]
    rows: list[tuple[str, list[str]]] = []
    if any(subwoofer_count(option) for option in options):
        rows += [
            ("Subwoofers", [str(subwoofer_count(option)) for option in options]),
            ("… each with settings of its own", [str(option.measures.independent_subs) for option in options]),
            ("… silent at most, if one part fails", [str(option.measures.subs_lost_worst) for option in options]),
        ]
        if all(option.measures.bass_spread_db is not None for option in options):
            spreads = [f"{option.measures.bass_spread_db:.1f} dB" for option in options]
            rows.append(("Bass differs between seats by, predicted", spreads))
    rows += [
        ("Outputs left for later", [str(option.measures.spare_outputs) for option in options]),
        ("Connections of balanced to unbalanced gear", [str(option.measures.conversions) for option in options]),
    ]
    if len(options) > 1:
        rows.append(("Number in our other papers", [option.id for option in options]))
    return [{"words": words, "values": values} for words, values in rows]
