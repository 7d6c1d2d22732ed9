"""The brief's TOML file, written from records: reading it again gives the same brief.

Entries are written in the order in which a designer would think of them. Numbers keep every
digit that they have; amounts are written in quotes, so that they stay exact.
"""

import json
from collections.abc import Iterable, Sequence
from decimal import Decimal
from enum import StrEnum

from planner.brief.records import (
    DEFAULT_MEASURES,
    Brief,
    Drive,
    LaterStage,
    Limits,
    LoudspeakerSet,
    Owned,
    PhysicalLimit,
    Point,
    Project,
    Rack,
    Room,
    Seat,
    SubwooferSet,
)

_HEADING = """\
# A brief. Positions are [x, y, z] in metres: x from the front wall towards the back,
# y from the left wall towards the right, z up from the floor.
"""


def write_brief(brief: Brief) -> str:
    """The TOML text of a brief, such as `planner.brief.read` describes."""
    sections = [
        [_HEADING.rstrip()],
        _whole_brief(brief),
        _project(brief.project),
        _room(brief.room),
        _rack(brief.rack),
        *map(_seat, brief.seats),
        *map(_loudspeakers, brief.loudspeakers),
        *map(_subwoofers, brief.subwoofers),
        _limits(brief.limits),
        *map(_owned, brief.owned),
        *map(_later, brief.later),
    ]
    return "\n\n".join("\n".join(lines) for lines in sections) + "\n"


def _whole_brief(brief: Brief) -> list[str]:
    lines = [f"layout = {_text(brief.layout)}"]
    if brief.measures != DEFAULT_MEASURES:
        lines.append(f"measures = {_names(brief.measures)}")
    if brief.excluded:
        lines.append(f"excluded = {_texts(brief.excluded)}")
    return lines


def _project(project: Project) -> list[str]:
    return [
        "[project]",
        f"name = {_text(project.name)}",
        f"client = {_text(project.client)}",
        f"reference = {_text(project.reference)}",
        f"dated = {project.dated.isoformat()}",
        f"currency = {_text(project.currency)}",
        *_amount("tax_percent", project.tax_percent),
    ]


def _room(room: Room) -> list[str]:
    return [
        "[room]",
        f"length_m = {_number(room.length_m)}",
        f"width_m = {_number(room.width_m)}",
        f"height_m = {_number(room.height_m)}",
        f"reverberation_time_s = {_number(room.reverberation_time_s)}",
        f"temperature_c = {_number(room.temperature_c)}",
        *_reverberation_bands(room),
    ]


def _reverberation_bands(room: Room) -> list[str]:
    if not room.reverberation_bands:
        return []
    bands = (f"    {{ hz = {_number(one.hz)}, time_s = {_number(one.time_s)} }}," for one in room.reverberation_bands)
    return ["reverberation_bands = [", *bands, "]"]


def _rack(rack: Rack) -> list[str]:
    return [
        "[rack]",
        f"position = {_point(rack.position)}",
        *_whole("units", rack.units),
        f"route_allowance_percent = {_number(rack.route_allowance_percent)}",
        f"slack_m = {_number(rack.slack_m)}",
        f"internal_m = {_number(rack.internal_m)}",
    ]


def _seat(seat: Seat) -> list[str]:
    lines = ["[[seats]]", f"name = {_text(seat.name)}", f"position = {_point(seat.position)}"]
    return [*lines, "primary = true"] if seat.primary else lines


def _loudspeakers(found: LoudspeakerSet) -> list[str]:
    lines = [
        "[[loudspeakers]]",
        f"name = {_text(found.name)}",
        f"channels = {_texts([placement.channel for placement in found.placements])}",
    ]
    if any(placement.position for placement in found.placements):
        lines.append("positions = [  # [] is where the layout has it")
        for placement in found.placements:
            place = _point(placement.position) if placement.position else "[]"
            lines.append(f"    {place},  # {placement.channel}")
        lines.append("]")
    lines.extend(_models(found.candidates))
    return [*lines, *_optional_number("target_spl_db", found.target_spl_db)]


def _subwoofers(found: SubwooferSet) -> list[str]:
    if found.least == found.most:
        counts = [f"count = {found.most}"]
    else:
        counts = [f"least = {found.least}", f"most = {found.most}"]
    return [
        "[[subwoofers]]",
        f"name = {_text(found.name)}",
        *counts,
        "positions = [",
        *(f"    {_point(position)}," for position in found.positions),
        "]",
        *_models(found.candidates),
        f"channel = {_text(found.channel)}",
        *_optional_number("target_spl_db", found.target_spl_db),
    ]


def _limits(limits: Limits) -> list[str]:
    return [
        "[limits]",
        f"drives = {_names(drive for drive in Drive if drive in limits.drives)}",
        f"largest_split = {limits.largest_split}",
        f"balanced_only = {_flag(limits.balanced_only)}",
        f"least_independent_subwoofers = {limits.least_independent_subwoofers}",
        f"least_control_groups = {limits.least_control_groups}",
        f"spare_outputs = {limits.spare_outputs}",
        f"spare_ceiling = {limits.spare_ceiling}",
        *_whole("most_subwoofers_lost", limits.most_subwoofers_lost),
        f"filters_per_subwoofer = {limits.filters_per_subwoofer}",
        f"most_dsp_units = {limits.most_dsp_units}",
        *_amount("budget", limits.budget),
        f"physical = {_names(limit for limit in PhysicalLimit if limit in limits.physical)}",
        f"level_tolerance_db = {_number(limits.level_tolerance_db)}",
        f"target_headroom_db = {_number(limits.target_headroom_db)}",
        f"most_cable_loss_db = {_number(limits.most_cable_loss_db)}",
        f"most_noise_db = {_number(limits.most_noise_db)}",
        *_optional_number("least_margin_db", limits.least_margin_db),
        *_whole("most_earth_loops", limits.most_earth_loops),
    ]


def _owned(owned: Owned) -> list[str]:
    lines = ["[[owned]]", f"sku = {_text(owned.sku)}", f"count = {owned.count}"]
    return [*lines, "must_use = true"] if owned.must_use else lines


def _later(stage: LaterStage) -> list[str]:
    return [
        "[[later]]",
        f"name = {_text(stage.name)}",
        f"layout = {_text(stage.layout)}",
        f"subwoofers = {stage.subwoofers}",
        f"years = {_number(stage.years)}",
    ]


def _models(candidates: Sequence[str]) -> list[str]:
    if len(candidates) == 1:
        return [f"model = {_text(candidates[0])}"]
    return [f"candidates = {_texts(candidates)}"] if candidates else []


def _whole(key: str, value: int | None) -> list[str]:
    return [] if value is None else [f"{key} = {value}"]


def _optional_number(key: str, value: float | None) -> list[str]:
    return [] if value is None else [f"{key} = {_number(value)}"]


def _amount(key: str, value: Decimal | None) -> list[str]:
    return [] if value is None else [f'{key} = "{value:f}"']


def _text(text: str) -> str:
    """A TOML basic string. It escapes as JSON does, and the delete character besides."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _texts(texts: Iterable[str]) -> str:
    return f"[{', '.join(map(_text, texts))}]"


def _names(members: Iterable[StrEnum]) -> str:
    return _texts(str(member) for member in members)


def _number(number: float) -> str:
    """The shortest text that reads back as the same number; whole numbers keep a decimal point."""
    return repr(float(number))


def _point(point: Point) -> str:
    return f"[{_number(point.x_m)}, {_number(point.y_m)}, {_number(point.z_m)}]"


def _flag(value: bool) -> str:
    return "true" if value else "false"
