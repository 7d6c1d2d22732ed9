"""R13 in words: targets missed, power beyond what a loudspeaker may take, cable that loses too much."""

import math
from collections.abc import Iterable, Iterator

from planner.brief.records import Limits, PhysicalLimit
from planner.design import Finding, UnitKind
from planner.formulas.levels import power_ratio
from planner.formulas.sound_level import power_needed_w
from planner.formulas.speaker_cable import (
    CLASS_5_OHM_PER_KM,
    cable_loss_db,
    conductor_ohm_per_m,
    loop_resistance_ohm,
)
from planner.physics.amplifier_channels import CableRun, SpeakerFeed
from planner.physics.findings import concern, named, note, over_limit
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
            weakest = headroom.weakest
            yield over_limit(
                "R13",
                headroom.set_name,
                f"{weakest.unit} reaches {weakest.level_db:.1f} dB at {weakest.seat}, {weakest.distance_m:.2f} m away:"
                f" {-headroom.headroom_db:.1f} dB short of the {headroom.target_spl_db:g} dB asked."
                f" {_louder(output_by_unit[weakest.unit], headroom)}",
                held=held,
            )


def _bass_targets_missed(levels: LevelsAtSeats, limits: Limits) -> Iterator[Finding]:
    """Short even in phase is over the limit; between the two sums it depends on the room and the settings."""
    for bass in _worst_bass(levels.bass):
        target_db = bass.target_spl_db
        if target_db is None:
            continue
        asked = f"the {target_db:g} dB asked of {bass.channel}"
        if bass.coherent_db < target_db - _SLIVER:
            yield over_limit(
                "R13",
                bass.channel,
                f"The subwoofers together reach {bass.coherent_db:.1f} dB at {bass.seat} at the most, in phase:"
                f" {target_db - bass.coherent_db:.1f} dB short of {asked}. Choose louder subwoofers, more of them, or a"
                " lower target.",
                held=PhysicalLimit.TARGET in limits.physical,
            )
        elif bass.incoherent_db < target_db - _SLIVER:
            yield concern(
                "R13",
                bass.channel,
                f"The subwoofers together reach {asked} at {bass.seat} only where they add in phase:"
                f" {bass.coherent_db:.1f} dB, and {bass.incoherent_db:.1f} dB as powers. Louder ones would be sure to.",
            )


def _louder(output: Output, headroom: Headroom) -> str:
    """What would reach the target."""
    power = output.power
    if power is None:
        return f"Choose one that plays louder than {output.sku}, or a lower target."
    wanted_w = power_needed_w(headroom.target_spl_db, power.sensitivity_1w_db, headroom.weakest.distance_m)
    handling_w = power.feed.item.handling_w
    if handling_w is not None and wanted_w > handling_w * (1 + _SLIVER):
        return (
            f"It would take {_watts(wanted_w)} at its terminals, and {output.sku} may be given {_watts(handling_w)}:"
            " choose a more sensitive loudspeaker, or a lower target."
        )
    rating_w = wanted_w / power_ratio(power.feed.loss_db or 0.0)
    return (
        f"{power.channel.device} gives it {_watts(power.available_w)}; an amplifier of {_watts(math.ceil(rating_w))}"
        f" into {power.feed.nominal_ohm:g} ohm would do, or a more sensitive loudspeaker."
    )


def _too_much_power(levels: LevelsAtSeats) -> Iterator[Finding]:
    """One finding for each set and model, with the greatest power of all."""
    overdriven: dict[tuple[str, str], list[SpeakerFeed]] = {}
    for channel in levels.channels:
        for feed in channel.feeds:
            if _is_overdriven(feed):
                overdriven.setdefault((feed.place.set_name, feed.item.sku), []).append(feed)
    for (set_name, sku), feeds in overdriven.items():
        greatest_w = max(feed.available_w or 0.0 for feed in feeds)
        yield concern(
            "R13",
            set_name,
            f"{named(feed.unit for feed in feeds)} can be given up to {_watts(greatest_w)}, and {sku} may be given"
            f" {_watts(feeds[0].item.handling_w or 0.0)}. Set a limiter, or choose a smaller amplifier or a loudspeaker"
            " that takes more.",
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
        in_all = f"In all, {len(runs)} runs of this set lose too much. " if len(runs) > 1 else ""
        yield over_limit(
            "R13",
            set_name,
            f"The cable to {worst.to}, {worst.length_m:.2f} m of {worst.area_mm2:g} mm2, loses"
            f" {-(worst.loss_db or 0.0):.2f} dB into {worst.load_ohm:.3g} ohm, more than the {most_db:g} dB"
            f" that the brief tolerates. {in_all}{_thicker(runs, most_db)}",
            held=PhysicalLimit.CABLE in limits.physical,
        )


def _thicker(runs: Iterable[CableRun], most_loss_db: float) -> str:
    areas_mm2 = [area_within(run, most_loss_db) for run in runs]
    known = [area for area in areas_mm2 if area is not None]
    if len(known) < len(areas_mm2):
        return f"No flexible conductor up to {max(CLASS_5_OHM_PER_KM):g} mm2 would do: shorten the run."
    return f"{max(known):g} mm2 would do."


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
    yield note(
        "R13",
        "levels",
        f"At most, in free field and at the worst primary seat: {'; '.join(parts)}."
        f"{internal if any(channel.internal for channel in levels.channels) else ''}",
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
