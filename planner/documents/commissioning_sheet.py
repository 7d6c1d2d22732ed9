"""The commissioning sheet: the order of work, what each output is set to at first, and blanks for what is measured."""

from collections.abc import Iterator

from planner.catalogue.records import Powering
from planner.design import Jack, UnitKind
from planner.documents.cautions import PREVAIL, Caution, cautions
from planner.documents.job import Job
from planner.documents.letterhead import letterhead
from planner.documents.typeset import Data, typeset
from planner.output_map import output_map
from planner.physics.delay import DelayLine
from planner.tables.detail import channel_words

NOISE_DB = 75
"""The level at which loudspeakers are matched with noise (common practice, no published source)."""


def commissioning_sheet(job: Job) -> bytes:
    """The PDF."""
    return typeset("commissioning", commissioning_data(job), job.brief.project.dated)


def commissioning_data(job: Job) -> Data:
    """All that the template prints."""
    subwoofers = _units(job, UnitKind.SUBWOOFER)
    return {
        **letterhead(job, "Commissioning"),
        "steps": list(_steps(job)),
        "loudspeakers": [_loudspeaker(line, job) for line in job.examination.delays if line.unit not in subwoofers],
        "subwoofers": list(_subwoofers(job)),
        "filters": _filters(job),
        "crossover": _crossover(job),
        "predicted": any(value.predicted for value in job.starting_values),
        "remarks": list(dict.fromkeys(value.remark for value in job.starting_values if value.remark)),
        "unit_gains": list(_unit_gains(job)),
        "seats": [{"name": seat.name, "primary": seat.primary} for seat in job.brief.seats],
        "cautions": cautions(Caution.HEARING, Caution.MAINS, Caution.OVERHEAD),
        "prevail": PREVAIL,
    }


def _steps(job: Job) -> Iterator[str]:
    """What is done, in this order; what the system has not is left out."""
    kinds = {unit.kind for unit in job.option.design.units}
    yield "The test sheet is complete: every lead has passed, polarity and hum are in order."
    yield (
        "Bring every device to its factory settings, and write down model, serial number and software version. Give"
        " each output its channel as below."
    )
    if _has_crossed(job):
        yield (
            "Set the crossovers of the actively driven loudspeakers as their maker asks, before the amplifiers are on:"
            " a high-frequency unit does not survive bass."
        )
    if UnitKind.DSP in kinds:
        yield "Set the gain within the DSP units as below, with all filters flat."
    yield "Enter distances or delays of the loudspeakers as below, and check each arrival with a measuring microphone."
    yield (
        f"Bring every loudspeaker to {NOISE_DB} dB at the main seats with noise, one at a time, by its level trim."
        " Write the trim down."
    )
    if job.starting_values:
        yield (
            "Enter gain, delay, polarity and filters of the subwoofer outputs as below. Measure each subwoofer alone at"
            " every seat, then all together, and correct what the measurement shows."
        )
        yield (
            "Measure at the crossover with one front loudspeaker: shift all subwoofers together, or all loudspeakers,"
            " until both add up most. What keeps the subwoofers in step with one another stays as it is."
        )
        yield (
            "Match the level of the bass to the loudspeakers; correct with few, broad filters, and with no boost in a"
            " dip."
        )
    yield "Play music and film at the level that will be used. Listen at every seat."
    yield "Save the settings of every device to files, leave a copy with the client, and sign below."


def _loudspeaker(line: DelayLine, job: Job) -> Data:
    carried = {each.drives: channel_words(each) for each in output_map(job.option.design)}
    notes = []
    if line.before_ms:
        notes.append(f"and {line.before_ms:.2f} ms at {line.before}")
    if line.short_ms > 0.005:
        notes.append(f"{line.short_ms:.2f} ms short of range")
    return {
        "output": line.control,
        "drives": line.unit,
        "channel": carried.get(line.jack, ""),
        "distance": f"{line.distance_m:.2f}",
        "delay": f"{line.set_ms:.2f}",
        "note": ", ".join(notes),
    }


def _subwoofers(job: Job) -> Iterator[Data]:
    for value in job.starting_values:
        yield {
            "output": value.output,
            "drives": ", ".join(value.subwoofers),
            "gain": _or_none(value.gain_db, "+.1f"),
            "delay": _or_none(value.delay_ms, ".1f"),
            "polarity": value.polarity,
        }


def _or_none(figure: float | None, pattern: str) -> str:
    """A figure, without a sign where it rounds to nothing; or that the device has no such control."""
    if figure is None:
        return "no control"
    shown = format(figure, pattern)
    return shown.lstrip("+-") if float(shown) == 0 else shown


def _filters(job: Job) -> list[Data]:
    """The filters that all subwoofer outputs share; none where no device has room for them."""
    shared = next((value.filters for value in job.starting_values if value.filters), ())
    return [{"hz": f"{one.centre_hz:g}", "gain": f"{one.gain_db:+.1f}", "q": f"{one.q:g}"} for one in shared]


def _crossover(job: Job) -> str:
    value = next(iter(job.starting_values), None)
    return f"{value.crossover_hz:g} Hz, {value.crossover}" if value is not None else ""


def _unit_gains(job: Job) -> Iterator[Data]:
    """The gain before each DSP output that leaves most room before clipping."""
    dsp_units = _units(job, UnitKind.DSP)
    gain_by_jack: dict[Jack, float | None] = {}
    for levels in job.examination.line_chains:
        outputs = levels.points[::2]
        for point, gain_db in zip(outputs, levels.gains_db, strict=True):
            if point.jack.unit in dsp_units:
                gain_by_jack.setdefault(point.jack, gain_db)
    for jack, gain_db in sorted(gain_by_jack.items()):
        yield {"output": str(jack), "gain": "not known" if gain_db is None else f"{_or_none(gain_db, '+.1f')} dB"}


def _units(job: Job, kind: UnitKind) -> frozenset[str]:
    return frozenset(unit.id for unit in job.option.design.units if unit.kind is kind)


def _has_crossed(job: Job) -> bool:
    crossed = {one.sku for one in job.catalogue.loudspeakers if one.powering is Powering.CROSSED}
    return any(unit.sku in crossed for unit in job.option.design.units)
