"""R13 in words: targets missed, power beyond what a loudspeaker may take, cable that loses too much."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from planner.brief.records import Limits, PhysicalLimit
from planner.design import Figure, FigureUnit, Finding, Place, PlaceKind, Severity, UnitKind
from planner.formulas.levels import power_ratio
from planner.formulas.sound_level import power_needed_w
from planner.formulas.speaker_cable import (
    CLASS_5_OHM_PER_KM,
    cable_loss_db,
    conductor_ohm_per_m,
    loop_resistance_ohm,
)
from planner.physics.amplifier_channels import CableRun, SpeakerFeed
from planner.physics.findings import devices, named, note, over_limit
from planner.physics.power import BassLevel, Headroom, LevelsAtSeats, Output

MOST_OVER_HANDLING = 1.01
"""The power may exceed the handling by the rounding of ratings, before it is worth a word."""

_SLIVER = 1e-9


def power_findings(levels: LevelsAtSeats, limits: Limits) -> tuple[Finding, ...]:
    """What R13 has to say of one design, concerns first."""
    return (
        *_targets_missed(levels, limits),
        *_bass_targets_missed(levels, limits),
        *_too_much_power(levels),
        *_cable_losses(levels, limits),
        *_not_known(levels),
        *_summary(levels),
    )


def _targets_missed(levels: LevelsAtSeats, limits: Limits) -> Iterator[Finding]:
    output_by_unit = {output.unit: output for output in levels.outputs}
    held = PhysicalLimit.TARGET in limits.physical
    for headroom in levels.headrooms:
        if headroom.headroom_db < -_SLIVER:
            yield over_limit(_target_missed(headroom, output_by_unit[headroom.weakest.unit]), held=held)


def _target_missed(headroom: Headroom, output: Output) -> Finding:
    weakest = headroom.weakest
    why, remedies = _louder(output, headroom)
    return Finding(
        rule="R13",
        severity=Severity.CONCERN,
        subject=headroom.set_name,
        heading="Target missed",
        detail=(
            f"{weakest.unit} reaches {weakest.level_db:.1f} dB at {weakest.seat}, {weakest.distance_m:.2f} m away, and"
            f" {headroom.target_spl_db:g} dB are asked.{why}"
        ),
        figures=(_level(weakest.level_db, headroom.target_spl_db),),
        places=(_set(headroom.set_name), *devices([weakest.unit]), _seat(weakest.seat)),
        remedies=remedies,
    )


def _bass_targets_missed(levels: LevelsAtSeats, limits: Limits) -> Iterator[Finding]:
    """Short even in phase is over the limit; between the two sums it depends on the room and the settings."""
    for bass in _worst_bass(levels.bass):
        target_db = bass.target_spl_db
        if target_db is None:
            continue
        reach = f"The subwoofers together reach {bass.coherent_db:.1f} dB at {bass.seat}"
        asked = f"{target_db:g} dB are asked of {bass.channel}"
        found = Finding(
            rule="R13",
            severity=Severity.CONCERN,
            subject=bass.channel,
            places=(Place(kind=PlaceKind.CHANNEL, name=bass.channel), _seat(bass.seat)),
            remedies=("louder subwoofers", "more of them", "a lower target"),
        )
        if bass.coherent_db < target_db - _SLIVER:
            short = replace(
                found,
                heading="Subwoofers miss their target",
                detail=f"{reach} at the most, in phase, and {asked}.",
                figures=(_level(bass.coherent_db, target_db),),
            )
            yield over_limit(short, held=PhysicalLimit.TARGET in limits.physical)
        elif bass.incoherent_db < target_db - _SLIVER:
            yield replace(
                found,
                heading="Subwoofers reach their target in phase only; as powers they miss it",
                detail=f"{reach} in phase, and {bass.incoherent_db:.1f} dB as powers; {asked}.",
                figures=(_level(bass.incoherent_db, target_db),),
            )


def _level(level_db: float, target_db: float) -> Figure:
    return Figure(of="sound pressure level", value=level_db, unit=FigureUnit.DB, limit=target_db)


def _set(name: str) -> Place:
    return Place(kind=PlaceKind.SET, name=name)


def _seat(name: str) -> Place:
    return Place(kind=PlaceKind.SEAT, name=name)


def _louder(output: Output, headroom: Headroom) -> tuple[str, tuple[str, ...]]:
    """Why it is not louder, and what would reach the target."""
    lower = "a lower target"
    power = output.power
    if power is None:
        return "", (f"one that plays louder than {output.sku}", lower)
    wanted_w = power_needed_w(headroom.target_spl_db, power.sensitivity_1w_db, headroom.weakest.distance_m)
    handling_w = power.feed.item.handling_w
    sensitive = "a more sensitive loudspeaker"
    if handling_w is not None and wanted_w > handling_w * (1 + _SLIVER):
        why = f" It would take {_watts(wanted_w)} at its terminals, and {output.sku} may be given {_watts(handling_w)}."
        return why, (sensitive, lower)
    rating_w = wanted_w / power_ratio(power.feed.loss_db or 0.0)
    stronger = f"an amplifier of {_watts(math.ceil(rating_w))} into {power.feed.nominal_ohm:g} ohm"
    return f" {power.channel.device} gives it {_watts(power.available_w)}.", (stronger, sensitive, lower)


def _too_much_power(levels: LevelsAtSeats) -> Iterator[Finding]:
    """One finding for each set and model, with the greatest power of all."""
    overdriven: dict[tuple[str, str], list[SpeakerFeed]] = {}
    for channel in levels.channels:
        for feed in channel.feeds:
            if _is_overdriven(feed):
                overdriven.setdefault((feed.place.set_name, feed.item.sku), []).append(feed)
    for (set_name, sku), feeds in overdriven.items():
        greatest_w, handling_w = max(feed.available_w or 0.0 for feed in feeds), feeds[0].item.handling_w or 0.0
        yield Finding(
            rule="R13",
            severity=Severity.CONCERN,
            subject=set_name,
            heading="Power above what the loudspeaker may take",
            detail=(
                f"{named(feed.unit for feed in feeds)} can be given up to {_watts(greatest_w)}, and {sku} may be given"
                f" {_watts(handling_w)}."
            ),
            figures=(Figure(of="power", value=greatest_w, unit=FigureUnit.W, limit=handling_w),),
            places=(_set(set_name), *devices(feed.unit for feed in feeds)),
            remedies=("set a limiter", "a smaller amplifier", "a loudspeaker that takes more"),
        )


def _is_overdriven(feed: SpeakerFeed) -> bool:
    return (
        feed.available_w is not None
        and feed.item.handling_w is not None
        and feed.available_w > feed.item.handling_w * MOST_OVER_HANDLING
    )


def _cable_losses(levels: LevelsAtSeats, limits: Limits) -> Iterator[Finding]:
    most_db = limits.most_cable_loss_db
    lossy: dict[str, list[CableRun]] = {}
    for channel in levels.channels:
        for feed in channel.feeds:
            if feed.run.loss_db is not None and feed.run.loss_db < -most_db - _SLIVER:
                lossy.setdefault(feed.run.set_name, []).append(feed.run)
    for set_name, runs in lossy.items():
        worst = min(runs, key=lambda run: run.loss_db or 0.0)
        loss_db = -(worst.loss_db or 0.0)
        in_all = f" In all, {len(runs)} runs of this set lose too much." if len(runs) > 1 else ""
        found = Finding(
            rule="R13",
            severity=Severity.CONCERN,
            subject=set_name,
            heading="Too much lost in the cable",
            detail=(
                f"The cable to {worst.to}, {worst.length_m:.2f} m of {worst.area_mm2:g} mm2, loses {loss_db:.2f} dB"
                f" into {worst.load_ohm:.3g} ohm, and the brief tolerates {most_db:g} dB.{in_all}"
            ),
            figures=(Figure(of="cable loss", value=loss_db, unit=FigureUnit.DB, limit=most_db),),
            places=(_set(set_name), *devices(run.to for run in runs)),
            remedies=_thicker(runs, most_db),
        )
        yield over_limit(found, held=PhysicalLimit.CABLE in limits.physical)


def _thicker(runs: Iterable[CableRun], most_loss_db: float) -> tuple[str, ...]:
    areas_mm2 = [area_within(run, most_loss_db) for run in runs]
    known = [area for area in areas_mm2 if area is not None]
    if len(known) < len(areas_mm2):
        return (f"a shorter run; no flexible conductor up to {max(CLASS_5_OHM_PER_KM):g} mm2 would do",)
    return (f"cable of {max(known):g} mm2",)


def area_within(run: CableRun, most_loss_db: float) -> float | None:
    """The least nominal area, mm², that keeps a run within a loss; None: none up to 10 mm², or the load is unknown."""
    if run.load_ohm is None:
        return None
    for area_mm2 in sorted(CLASS_5_OHM_PER_KM):
        loop_ohm = loop_resistance_ohm(conductor_ohm_per_m(area_mm2), run.length_m)
        if cable_loss_db(run.load_ohm, loop_ohm) >= -most_loss_db:
            return area_mm2
    return None


def _not_known(levels: LevelsAtSeats) -> Iterator[Finding]:
    units: dict[tuple[str, str], list[str]] = {}
    for output in levels.outputs:
        if output.unknown:
            units.setdefault((output.place.set_name, output.unknown), []).append(output.unit)
    for (set_name, unknown), names in units.items():
        yield note("R13", set_name, f"The catalogue does not give {unknown}: no level for {named(names)}.")
    bare = [feed.unit for channel in levels.channels for feed in channel.feeds if feed.run.area_mm2 is None]
    if bare:
        yield note(
            "R13",
            "cable",
            f"The catalogue does not give the copper area of the cable to {named(bare)}: no loss counted.",
        )
    unbounded = {
        feed.item.sku: None
        for channel in levels.channels
        for feed in channel.feeds
        if feed.item.handling_w is None
    }  # fmt: skip
    if unbounded:
        yield note("R13", "handling", f"The catalogue does not give the power that {named(unbounded)} may be given.")


def _summary(levels: LevelsAtSeats) -> Iterator[Finding]:
    """One sentence for all sets that are known."""
    over = {headroom.set_name: headroom for headroom in levels.headrooms}
    subwoofer_sets = {output.place.set_name for output in levels.outputs if output.place.kind is UnitKind.SUBWOOFER}
    parts = [
        f"{least.set_name} {least.level_db:.1f} dB at {least.seat}{_against(over.get(least.set_name))}"
        for least in levels.lowest
        if least.set_name not in subwoofer_sets
    ]
    parts += [_bass_words(bass) for bass in _worst_bass(levels.bass)]
    if not parts:
        return
    internal = " A receiver's own amplifiers give less than that when many play at once."
    sets = [(each.set_name, each.seat, each.level_db) for each in levels.lowest if each.set_name not in subwoofer_sets]
    sets += [(each.channel, each.seat, each.incoherent_db) for each in _worst_bass(levels.bass)]
    yield Finding(
        rule="R13",
        severity=Severity.NOTE,
        subject="levels",
        figures=tuple(Figure(of=f"{name} at {seat}", value=db, unit=FigureUnit.DB) for name, seat, db in sets),
        detail=(
            f"At most, in free field and at the worst primary seat: {'; '.join(parts)}."
            f"{internal if any(channel.internal for channel in levels.channels) else ''}"
        ),
    )


def _against(headroom: Headroom | None) -> str:
    if headroom is None:
        return ""
    gap_db = headroom.headroom_db
    return f" ({abs(gap_db):.1f} dB {'over' if gap_db > -_SLIVER else 'short of'} {headroom.target_spl_db:g} dB)"


def _worst_bass(bass: Iterable[BassLevel]) -> Iterable[BassLevel]:
    """The seat of each channel where its subwoofers are weakest."""
    worst: dict[str, BassLevel] = {}
    for level in bass:
        if level.incoherent_db < worst.setdefault(level.channel, level).incoherent_db:
            worst[level.channel] = level
    return worst.values()


def _bass_words(bass: BassLevel) -> str:
    if bass.count == 1:
        return f"the subwoofer of {bass.channel} {bass.coherent_db:.1f} dB at {bass.seat}"
    return (
        f"the {bass.count} subwoofers of {bass.channel} together {bass.incoherent_db:.1f} dB (incoherent)"
        f" to {bass.coherent_db:.1f} dB (in phase) at {bass.seat}"
    )


def _watts(power_w: float) -> str:
    return f"{power_w:.0f} W" if power_w >= 10 else f"{power_w:.2g} W"
