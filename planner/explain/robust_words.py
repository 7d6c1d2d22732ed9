"""E5 in words: spans, flips, and what they mean for how long a quote can stand."""

from collections.abc import Iterator

from planner.comparison.gear import gear_words
from planner.comparison.words import Names
from planner.explain.bands import Band, BandKind, Scenario
from planner.explain.robust import Flip, Robust, Span, winner
from planner.tables.amounts import amount


def band_words(band: Band) -> str:
    """What may move, and how far."""
    return f"{_subject(band)} from {band.low_percent:+f} % to {band.high_percent:+f} %"


def scenario_words(scenario: Scenario) -> str:
    """Where a corner of the bands lies."""
    parts = [f"{_subject(m.band)} {m.percent:+f} %" for m in scenario if m.percent]
    return ", ".join(parts) or "as today"


def span_sentence(span: Span, currency: str) -> str:
    """How far the price of an option may move, and what it may cost too much."""
    words = (
        f"Option {span.option_id} costs from {amount(span.low_minor, currency)} to {amount(span.high_minor, currency)};"
    )
    if not span.regret_minor:
        return f"{words} nothing that offers as much is ever cheaper."
    return (
        f"{words} at worst {amount(span.regret_minor, currency)} more than the cheapest design that offers as much"
        f" ({scenario_words(span.worst)})."
    )


def flip_sentence(flip: Flip, name_by_sku: Names) -> str:
    """Where the cheapest design changes along one band, or that it does not."""
    to = f"{_subject(flip.band)} at {flip.end_percent:+f} %"
    if not flip.settled:
        return f"{to}: not settled in time."
    if flip.percent is None:
        return f"{to}: the same design stays the cheapest."
    if flip.gear is not None and (flip.gear.added or flip.gear.removed):
        came, went = gear_words(flip.gear.added, name_by_sku), gear_words(flip.gear.removed, name_by_sku)
        change = f"{came or 'nothing'} in place of {went or 'nothing'}"
    else:
        change = "the same devices, bought from others or with other leads"
    option = f"option {flip.option_id}" if flip.option_id else "another design"
    return f"{to}: from {flip.percent:+.2f} % on, {option} is cheaper: {change}."


def advice(found: Robust, currency: str) -> Iterator[str]:
    """What this says of the choice, and of how long the quote can stand."""
    best = winner(found)
    own = next((span for span in found.spans if span.option_id == found.option_id), None)
    if best is None or own is None:
        return
    risk = f"at most {amount(best.regret_minor, currency)} above" if best.regret_minor else "it never costs more than"
    yield f"The least risk of paying too much is with option {best.option_id}: {risk} what turns out cheapest."
    yield (
        f"Option {own.option_id} may become {amount(own.high_minor - found.now_minor, currency)} dearer within these"
        " bands: state the rates and list prices that the quote rests on with their dates, and let it stand only as"
        " long as they do, or hold that much in reserve."
    )
    turning = [(abs(flip.percent), flip) for flip in found.flips if flip.percent is not None]
    if turning:
        _, nearest = min(turning, key=lambda entry: entry[0])
        where = f"{_subject(nearest.band)} at {nearest.percent:+.2f} %"
        yield f"The choice itself turns first with {where}: plan again then."
    elif all(flip.settled for flip in found.flips):
        yield "No single one of these movements changes which design is the cheapest."


def _subject(band: Band) -> str:
    return f"the {band.name} rate" if band.kind is BandKind.RATE else f"prices of {band.name}"
