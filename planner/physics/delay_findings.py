"""R15 in words: delays that no device on the way can make, and what must share one."""

from collections.abc import Iterator, Sequence

from planner.brief.records import Limits, PhysicalLimit
from planner.design import Figure, FigureUnit, Finding, Severity
from planner.physics.delay import COLDEST_C, WARMEST_C, DelayLine
from planner.physics.findings import devices, named, note, over_limit

ALIGNED_MS = 0.1
"""Within which loudspeakers count as aligned (ITU-R BS.2051-3: within 100 µs at the central seat)."""


def delay_findings(table: Sequence[DelayLine], temperature_c: float, limits: Limits) -> tuple[Finding, ...]:
    """What R15 has to say of one design, what cannot be aligned first."""
    return (
        *_out_of_range(table, PhysicalLimit.DELAY in limits.physical),
        *_sharing(table),
        *_summary(table),
        *_temperature(temperature_c),
    )


def _out_of_range(table: Sequence[DelayLine], held: bool) -> Iterator[Finding]:
    """One finding a device: the worst of its outputs in figures, the others by name."""
    short: dict[str, list[DelayLine]] = {}
    for line in table:
        if line.short_ms > ALIGNED_MS:
            short.setdefault(line.device, []).append(line)
    for device, lines in short.items():
        worst = max(lines, key=lambda line: line.short_ms)
        latest = max(table, key=lambda line: line.arrival_ms)
        before = f", and {worst.before} {worst.before_ms:.1f} ms before it" if worst.before else ""
        others = [line.unit for line in lines if line.unit != worst.unit]
        needed_ms = worst.range_ms + worst.short_ms
        found = Finding(
            rule="R15",
            severity=Severity.CONCERN,
            subject=device,
            heading="Delay out of range",
            detail=(
                f"{worst.unit} is to be delayed by {needed_ms + worst.before_ms:.1f} ms to arrive with {latest.unit};"
                f" {worst.control} gives at most {worst.range_ms:g} ms{before}."
                f"{f' Short too: {named(others)}.' if others else ''}"
            ),
            figures=(Figure(of="delay", value=needed_ms, unit=FigureUnit.MS, limit=worst.range_ms),),
            places=devices([device, *(line.unit for line in lines)]),
            remedies=("a device with a longer delay", "one of less latency on the latest way"),
        )
        yield over_limit(found, held=held)


def _sharing(table: Sequence[DelayLine]) -> Iterator[Finding]:
    shared: dict[str, list[DelayLine]] = {}
    for line in table:
        shared.setdefault(line.control, []).append(line)
    for control, lines in shared.items():
        first = max(lines, key=lambda line: line.early_ms)
        last = min(lines, key=lambda line: line.early_ms)
        apart_ms = first.early_ms - last.early_ms
        if apart_ms > ALIGNED_MS:
            yield Finding(
                rule="R15",
                severity=Severity.NOTE,
                subject=control,
                heading="One delay for several places",
                detail=(
                    f"{named(line.unit for line in lines)} share one delay: {first.unit} arrives {apart_ms:.1f} ms"
                    f" before {last.unit} at the primary seats, whatever is set."
                ),
                figures=(Figure(of="time between arrivals", value=apart_ms, unit=FigureUnit.MS),),
                places=devices(line.unit for line in lines),
            )


def _summary(table: Sequence[DelayLine]) -> Iterator[Finding]:
    if not table:
        return
    latest = max(table, key=lambda line: line.arrival_ms)
    longest = max(table, key=lambda line: line.set_ms)
    to_set = f"the delays to be set go up to {longest.set_ms:.1f} ms, at {longest.control}"
    yield Finding(
        rule="R15",
        severity=Severity.NOTE,
        subject="delays",
        detail=(
            f"{latest.unit} arrives last at the primary seats, {latest.arrival_ms:.1f} ms after the signal enters;"
            f" {to_set if longest.set_ms > ALIGNED_MS else 'none of the others needs a delay'}."
        ),
        figures=(
            Figure(of="latest arrival", value=latest.arrival_ms, unit=FigureUnit.MS),
            Figure(of="longest delay to set", value=longest.set_ms, unit=FigureUnit.MS),
        ),
        places=devices([latest.unit]),
    )


def _temperature(temperature_c: float) -> Iterator[Finding]:
    if not COLDEST_C <= temperature_c <= WARMEST_C:
        yield note(
            "R15",
            "delays",
            f"The speed of sound is known from {COLDEST_C:g} to {WARMEST_C:g} °C; the brief's {temperature_c:g} °C is"
            " beyond, and the nearer end was taken.",
        )
