"""Which loudspeakers and subwoofers were chosen: every place filled, one fit model a set."""

from collections.abc import Iterator
from math import log10

from planner.brief.records import LoudspeakerSet, Point, SubwooferSet
from planner.catalogue.records import Loudspeaker, Powering
from planner.checks.case import Case
from planner.checks.findings import broken, counted
from planner.checks.view import member_key
from planner.design import Finding, Unit, UnitKind

_LEAST_DISTANCE_M = 1.0
_SQUARED_2V83 = 2.83**2


def selection(case: Case) -> Iterator[Finding]:
    """R1: every loudspeaker is there once. R18: counts and models as asked. R13: target level reached."""
    units = _units_by_set(case)
    for key, each in case.known.sets.items():
        chosen = units.get(key, [])
        yield from _once_each(each.name, chosen)
        yield from _one_model(each, chosen)
        if isinstance(each, LoudspeakerSet):
            yield from _all_there(case, each, chosen)
            yield from _target_reached(case, each, chosen)
        else:
            yield from _right_number(each, chosen)


def _units_by_set(case: Case) -> dict[tuple[UnitKind, str], list[Unit]]:
    """Units that stand at a place of the brief, whatever their sku."""
    found: dict[tuple[UnitKind, str], list[Unit]] = {}
    for unit in case.design.units:
        key = member_key(unit)
        if key is not None and key in case.known.places:
            found.setdefault(key[:2], []).append(unit)
    return found


def _index(unit: Unit) -> int:
    return unit.member[1] if unit.member is not None else -1


def _once_each(name: str, chosen: list[Unit]) -> Iterator[Finding]:
    by_index: dict[int, list[str]] = {}
    for unit in chosen:
        by_index.setdefault(_index(unit), []).append(unit.id)
    for index, ids in by_index.items():
        if len(ids) > 1:
            yield broken("R1", ids[1], f"{' and '.join(ids)} stand at the same place, {name} {index + 1}.")


def _all_there(case: Case, wanted: LoudspeakerSet, chosen: list[Unit]) -> Iterator[Finding]:
    present = {_index(unit) for unit in chosen}
    for index in range(len(wanted.placements)):
        if index not in present:
            place = case.known.places[UnitKind.LOUDSPEAKER, wanted.name, index]
            yield broken("R1", str(place), f"{place} has no loudspeaker in the design.")


def _right_number(wanted: SubwooferSet, chosen: list[Unit]) -> Iterator[Finding]:
    indices = {_index(unit) for unit in chosen}
    count = len(indices)
    if not wanted.least <= count <= wanted.most:
        asked = f"{wanted.least} to {wanted.most}" if wanted.least != wanted.most else str(wanted.least)
        yield broken(
            "R18", wanted.name, f"{wanted.name} has {counted(count, 'subwoofer')}; the brief asks for {asked}."
        )
    if indices != set(range(count)):
        taken = ", ".join(str(index + 1) for index in sorted(indices))
        yield broken("R18", wanted.name, f"{wanted.name} fills positions {taken}; the first {count} are to be used.")


def _one_model(wanted: LoudspeakerSet | SubwooferSet, chosen: list[Unit]) -> Iterator[Finding]:
    models = sorted({unit.sku for unit in chosen})
    if len(models) > 1:
        yield broken("R18", wanted.name, f"{wanted.name} mixes {' and '.join(models)}; a set is of one model.")
    for model in models:
        if wanted.candidates and model not in wanted.candidates:
            allowed = " or ".join(wanted.candidates)
            yield broken("R18", model, f"{wanted.name} uses {model}; the brief allows {allowed}.")


def _target_reached(case: Case, wanted: LoudspeakerSet, chosen: list[Unit]) -> Iterator[Finding]:
    """Only where the brief leaves the model open: every primary seat gets the target level."""
    if wanted.candidates or wanted.target_spl_db is None:
        return
    seats = [seat for seat in case.known.brief.seats if seat.primary] or case.known.brief.seats
    for unit in chosen:
        item, place = case.known.items.get(unit.sku), case.view.place(unit)
        if not isinstance(item, Loudspeaker) or place is None:
            continue
        level_at_1m_db = greatest_level_at_1m_db(item)
        if level_at_1m_db is None:
            yield broken("R13", unit.id, f"{unit.id}: the catalogue does not say how loud {unit.sku} plays.")
            continue
        for seat in seats:
            level_db = level_at_1m_db - distance_loss_db(place.position, seat.position)
            target_db = wanted.target_spl_db + case.known.brief.limits.target_headroom_db
            if level_db < target_db - 1e-9:
                asked = f"the brief asks for {target_db:g} dB"
                yield broken("R13", unit.id, f"{unit.id} reaches {level_db:.1f} dB at {seat.name}; {asked}.")


def greatest_level_at_1m_db(loudspeaker: Loudspeaker) -> float | None:
    """The greatest free-field level at 1 m, dB; None where the catalogue lacks a figure for it.

    An active loudspeaker names it. Otherwise it is the level for 1 W plus 10 log10 of the
    handling in watts; a sensitivity for 2.83 V is first brought to 1 W by
    10 log10(Z / 2.83^2).
    """
    if loudspeaker.powering is Powering.ACTIVE:
        return loudspeaker.max_spl_db
    level_db, handling_w = loudspeaker.sensitivity_db, loudspeaker.handling_w
    if level_db is None or not handling_w:
        return None
    if loudspeaker.sensitivity_at_2v83:
        if not loudspeaker.impedance_ohm:
            return None
        level_db += 10 * log10(loudspeaker.impedance_ohm / _SQUARED_2V83)
    return level_db + 10 * log10(handling_w)


def distance_loss_db(source: Point, seat: Point) -> float:
    """The free-field loss from 1 m to the seat, 20 log10 d; nearer than 1 m counts as 1 m."""
    squared = (source.x_m - seat.x_m) ** 2 + (source.y_m - seat.y_m) ** 2 + (source.z_m - seat.z_m) ** 2
    return float(20 * log10(max(squared**0.5, _LEAST_DISTANCE_M)))
