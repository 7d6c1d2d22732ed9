"""Why a price is what it is, for the client: what it is made of, and what makes the options differ.

All amounts are with tax, and add up to the prices of the options to the minor unit.
"""

from collections.abc import Iterator, Mapping, Sequence

from planner.comparison.compared import Comparison, compared
from planner.comparison.gear import GearChange, gear_words, names
from planner.comparison.price_split import Cause, Part, price_parts
from planner.comparison.words import comparison_sentence
from planner.design import Design, UnitKind
from planner.documents.compared import Column
from planner.documents.job import Job
from planner.documents.typeset import NO_BREAK_SPACE, Data
from planner.house import Task
from planner.options import Status
from planner.tables.amounts import amount, client_difference, figure
from planner.wiring.labels import lead_marks
from planner.words import capital, counted, listed

_KINDS: Mapping[Cause, tuple[UnitKind, ...]] = {
    Cause.PROCESSOR: (UnitKind.PROCESSOR, UnitKind.CARD),
    Cause.DSP: (UnitKind.DSP,),
    Cause.AMPLIFIERS: (UnitKind.AMPLIFIER,),
    Cause.LOUDSPEAKERS: (UnitKind.LOUDSPEAKER,),
    Cause.SUBWOOFERS: (UnitKind.SUBWOOFER,),
    Cause.SPLITTERS: (UnitKind.SPLITTER,),
    Cause.LEADS: (),
}

_NOUNS: Mapping[Cause, str] = {
    Cause.PROCESSOR: "processor",
    Cause.DSP: "DSP unit",
    Cause.AMPLIFIERS: "amplifier",
    Cause.LOUDSPEAKERS: "loudspeaker",
    Cause.SUBWOOFERS: "subwoofer",
    Cause.SPLITTERS: "splitter",
    Cause.LEADS: "lead",
}


def price_reasons(job: Job, columns: Sequence[Column]) -> Data:
    """What the template prints: the parts of the chosen option's price, and each other option against it."""
    parts = price_parts(job.option.design, job.catalogue, job.prices)
    total = job.option.quote.total_minor
    shares = percents([part.total_minor for part in parts])
    chosen = next(column for column in columns if column.option.id == job.option.id)
    found = [(other, _from_lower(chosen, other, job)) for other in columns if other is not chosen]
    return {
        "opening": list(_opening(job, parts, shares, [comparison for _, comparison in found])),
        "parts": [
            {
                "words": _part_words(part, job),
                "gear": figure(part.gear_minor, job.currency),
                "work": figure(part.labour_minor, job.currency),
                "tax": figure(part.tax_minor, job.currency),
                "sum": figure(part.total_minor, job.currency),
                "share": part.total_minor / total if total else 0.0,
                "percent": f"{share or 'under 1'}{NO_BREAK_SPACE}%",
            }
            for part, share in zip(parts, shares, strict=True)
        ],
        "gear": figure(job.option.quote.gear_minor, job.currency),
        "work": figure(job.option.quote.labour_minor, job.currency),
        "tax": figure(job.option.quote.tax_minor, job.currency),
        "total": figure(total, job.currency),
        "steps": [_step(chosen, other, comparison, job) for other, comparison in found],
        "one_more": list(job.why.one_more),
    }


def percents(minors: Sequence[int]) -> list[int]:
    """The parts of a sum in whole percent that add up to 100, by largest remainders.

    >>> percents([1, 1, 1]), percents([0])
    ([34, 33, 33], [0])
    """
    total = sum(minors)
    if not total:
        return [0] * len(minors)
    shares = [100 * minor // total for minor in minors]
    by_rest = sorted(range(len(minors)), key=lambda n: (-(100 * minors[n] % total), n))
    for n in by_rest[: 100 - sum(shares)]:
        shares[n] += 1
    return shares


def _from_lower(chosen: Column, other: Column, job: Job) -> Comparison:
    """From the less expensive of two options to the dearer."""
    before, after = sorted((chosen, other), key=lambda column: (column.option.quote.total_minor, column.letter))
    return compared(before.option, after.option, job.catalogue, job.prices)


def _opening(job: Job, parts: Sequence[Part], shares: Sequence[int], found: Sequence[Comparison]) -> Iterator[str]:
    largest = sorted(zip(parts, shares, strict=True), key=lambda pair: -pair[0].total_minor)[:3]
    told = tuple(
        f"{share}{NO_BREAK_SPACE}% for the {_count_words(part.cause, job.option.design).removeprefix('1 ')}"
        for part, share in largest
    )
    if len(told) > 1:
        yield f"Of {amount(job.option.quote.total_minor, job.currency)}, you pay {listed(told)}."
    if job.result.status is Status.PROVEN:
        yield "Every combination of the articles on our list was weighed: none that offers as much costs less."
    if found:
        yield from _what_differs(parts, found)


def _what_differs(parts: Sequence[Part], found: Sequence[Comparison]) -> Iterator[str]:
    moving = {part.cause for comparison in found for part in comparison.parts}
    still = tuple(_plural(part.cause) for part in parts if part.cause not in moving)
    differ = tuple(_plural(cause) for cause in Cause if cause in moving)
    if still and differ:
        yield f"The {listed(still)} cost the same in every option shown; what differs is the {listed(differ)}."


def _plural(cause: Cause) -> str:
    return _NOUNS[cause] if cause is Cause.PROCESSOR else f"{_NOUNS[cause]}s"


def _part_words(part: Part, job: Job) -> str:
    words = capital(_count_words(part.cause, job.option.design))
    if not part.gear_minor:
        words += ", yours already"
    return f"{words}, {_work_words(part.cause, job.option.design)}" if part.labour_minor else words


def _work_words(cause: Cause, design: Design) -> str:
    match cause:
        case Cause.SUBWOOFERS:
            return "placed and connected"
        case Cause.LEADS if any(line.task is Task.TERMINATION for line in design.labour):
            return "made up, laid and connected"
        case Cause.LEADS:
            return "laid and connected"
        case _:
            return "installed"


def _count_words(cause: Cause, design: Design) -> str:
    """How many of what: "13 loudspeakers", "processor and 1 card"."""
    if cause is Cause.LEADS:
        return counted(len(lead_marks(design)), _NOUNS[cause])
    count = sum(1 for unit in design.units if unit.kind is _KINDS[cause][0])
    words = _NOUNS[cause] if cause is Cause.PROCESSOR else counted(count, _NOUNS[cause])
    cards = sum(1 for unit in design.units if unit.kind is UnitKind.CARD)
    return f"{words} and {counted(cards, 'card')}" if cause is Cause.PROCESSOR and cards else words


def _step(chosen: Column, other: Column, found: Comparison, job: Job) -> Data:
    letter_by_id = {column.option.id: column.letter for column in (chosen, other)}
    return {
        "sentence": comparison_sentence(found, job.currency, letter_by_id),
        "rows": [
            {
                "words": capital(_plural(part.cause)),
                "what": list(_change_words(part.cause, found, job)),
                "sum": client_difference(part.total_minor, job.currency),
            }
            for part in found.parts
        ],
        "together": client_difference(found.over_minor, job.currency),
    }


def _change_words(cause: Cause, found: Comparison, job: Job) -> Iterator[str]:
    """What comes, and what it takes the place of."""
    if cause is Cause.LEADS:
        before, after = (len(lead_marks(option.design)) for option in (found.before, found.after))
        yield f"{after} instead of {before}" if after != before else "of other lengths or kinds"
        return
    name_by_sku = names(job.catalogue)
    change = _of_kinds(found.gear, _KINDS[cause])
    if change.added:
        yield gear_words(change.added, name_by_sku)
    if change.removed:
        yield f"{'in place of' if change.added else 'without'} {gear_words(change.removed, name_by_sku)}"


def _of_kinds(change: GearChange, kinds: tuple[UnitKind, ...]) -> GearChange:
    return GearChange(
        added=tuple(line for line in change.added if line.kind in kinds),
        removed=tuple(line for line in change.removed if line.kind in kinds),
    )
