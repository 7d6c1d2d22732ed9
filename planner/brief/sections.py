"""The parts of a brief other than its sets, each read from its table."""

import re
from collections.abc import Sequence

from planner.brief import bounds
from planner.brief.records import (
    DEFAULT_MEASURES,
    Drive,
    LaterStage,
    Limits,
    Measure,
    Owned,
    PhysicalLimit,
    Point,
    Project,
    Rack,
    Reverberation,
    Room,
    Seat,
)
from planner.brief.table import Table
from planner.layouts import Layout, find_layout, nearest_layouts

# Records that stand for their defaults only.
_ROOM = Room(length_m=1, width_m=1, height_m=1)
_RACK = Rack(position=Point(0, 0, 0))
_LIMITS = Limits()


def read_layout(table: Table) -> tuple[str, Layout | None]:
    """The layout's name as written, and the layout if it is known."""
    name = table.text("layout", '"7.1.4"')
    layout = find_layout(name)
    if name and layout is None:
        near = ", ".join(nearest_layouts(name))
        table.fault("layout", name, "a layout of ITU-R BS.2051 or a shorthand such as 5.1.2", f"Did you mean {near}?")
    return name, layout


def read_measures(root: Table) -> tuple[Measure, ...]:
    """The measures to weigh, price always among them."""
    measures = root.choices("measures", Measure, DEFAULT_MEASURES)
    if Measure.PRICE not in measures and root.sound("measures"):
        found = f"[{', '.join(measures)}]"
        root.told("measures", found, "price among the measures", 'Add "price"; options are proven cheapest.')
    return measures


def read_excluded(root: Table) -> tuple[str, ...]:
    """The skus that may occur nowhere."""
    skus = root.texts("excluded", '["SKU-1"]') if root.has("excluded") else ()
    for index, sku in enumerate(skus):
        if sku and sku in skus[:index]:
            root.fault(f"excluded[{index}]", sku, "each sku once", "Remove the repeated one.")
    return skus


def read_project(table: Table) -> Project:
    """Who it is for, and the terms of the quote."""
    project = Project(
        name=table.text("name", '"Cinema room"'),
        client=table.text("client", '"Client"', blank=True),
        reference=table.text("reference", '"2026-014"', blank=True),
        dated=table.day("dated", "2026-03-02"),
        currency=table.text("currency", '"EUR"'),
        tax_percent=table.optional_decimal("tax_percent", bounds.PERCENT, '"21"'),
    )
    if table.sound("currency") and not re.fullmatch("[A-Z]{3}", project.currency):
        expected = "a currency code of three capital letters"
        table.fault("currency", project.currency, expected, 'Write currency = "EUR", or the code that applies.')
    table.close()
    return project


def read_room(table: Table) -> Room:
    """The room."""
    room = Room(
        length_m=table.number("length_m", bounds.ROOM, "6.2"),
        width_m=table.number("width_m", bounds.ROOM, "4.1"),
        height_m=table.number("height_m", bounds.ROOM, "2.55"),
        reverberation_time_s=table.number(
            "reverberation_time_s", bounds.REVERBERATION, "0.4", _ROOM.reverberation_time_s
        ),
        temperature_c=table.number("temperature_c", bounds.TEMPERATURE, "20.0", _ROOM.temperature_c),
        reverberation_bands=_reverberation_bands(table),
    )
    table.close()
    return room


def _reverberation_bands(table: Table) -> tuple[Reverberation, ...]:
    """The bands, lowest first, each frequency once."""
    found: list[Reverberation] = []
    for band in table.tables("reverberation_bands"):
        one = Reverberation(
            hz=band.number("hz", bounds.REVERBERATION_BAND, "63.0"),
            time_s=band.number("time_s", bounds.REVERBERATION, "0.4"),
        )
        if any(one.hz == other.hz for other in found):
            band.fault("hz", one.hz, "a frequency that no earlier band has", "Write another, or remove one of the two.")
        band.close()
        found.append(one)
    return tuple(sorted(found, key=lambda one: one.hz))


def read_rack(table: Table, corner: Point) -> Rack:
    """The rack and how cable lengths are counted."""
    rack = Rack(
        position=table.point("position", corner),
        units=table.optional_whole("units", bounds.RACK_UNITS, "24"),
        route_allowance_percent=table.number(
            "route_allowance_percent", bounds.ROUTE_ALLOWANCE, "10.0", _RACK.route_allowance_percent
        ),
        slack_m=table.number("slack_m", bounds.SLACK, "0.5", _RACK.slack_m),
        internal_m=table.number("internal_m", bounds.INTERNAL_LEAD, "1.0", _RACK.internal_m),
    )
    table.close()
    return rack


def read_seats(root: Table, corner: Point) -> tuple[Seat, ...]:
    """The seats, at least one."""
    tables = root.tables("seats")
    if not tables and root.sound("seats"):
        root.fault("seats", None, "at least one seat", "Add [[seats]] with a name and a position.")
    seats = tuple(_seat(table, corner) for table in tables)
    refuse_repeats(tables, "name", [seat.name for seat in seats])
    return seats


def _seat(table: Table, corner: Point) -> Seat:
    seat = Seat(
        name=table.text("name", '"Middle"'),
        position=table.point("position", corner),
        primary=table.flag("primary"),
    )
    table.close()
    return seat


def read_limits(table: Table) -> Limits:
    """What a design may not break."""
    limits = Limits(
        drives=frozenset(table.choices("drives", Drive, tuple(Drive))),
        largest_split=table.whole("largest_split", bounds.LARGEST_SPLIT, "4", _LIMITS.largest_split),
        balanced_only=table.flag("balanced_only"),
        least_independent_subwoofers=table.whole("least_independent_subwoofers", bounds.COUNT, "2", 0),
        least_control_groups=table.whole("least_control_groups", bounds.COUNT, "2", 0),
        spare_outputs=table.whole("spare_outputs", bounds.COUNT, "1", 0),
        spare_ceiling=table.whole("spare_ceiling", bounds.COUNT, "4", _LIMITS.spare_ceiling),
        most_subwoofers_lost=table.optional_whole("most_subwoofers_lost", bounds.COUNT, "1"),
        filters_per_subwoofer=table.whole("filters_per_subwoofer", bounds.COUNT, "6", 0),
        most_dsp_units=table.whole("most_dsp_units", bounds.COUNT, "2", _LIMITS.most_dsp_units),
        budget=table.optional_decimal("budget", bounds.BUDGET, '"24000.00"'),
        physical=frozenset(table.choices("physical", PhysicalLimit, tuple(PhysicalLimit))),
        level_tolerance_db=table.number(
            "level_tolerance_db", bounds.LEVEL_TOLERANCE, "1.0", _LIMITS.level_tolerance_db
        ),
        target_headroom_db=table.number("target_headroom_db", bounds.HEADROOM, "3.0", _LIMITS.target_headroom_db),
        most_cable_loss_db=table.number("most_cable_loss_db", bounds.CABLE_LOSS, "0.5", _LIMITS.most_cable_loss_db),
        most_noise_db=table.number("most_noise_db", bounds.NOISE, "-80.0", _LIMITS.most_noise_db),
        least_margin_db=table.optional_number("least_margin_db", bounds.MARGIN, "3.0"),
        most_earth_loops=table.optional_whole("most_earth_loops", bounds.COUNT, "0"),
    )
    if not limits.drives and table.sound("drives"):
        table.fault("drives", [], "at least one drive", 'Write drives = ["dedicated"], or more of them.')
    if limits.spare_outputs > limits.spare_ceiling and table.sound("spare_outputs", "spare_ceiling"):
        expected = f"no more than spare_ceiling, which is {limits.spare_ceiling}"
        table.fault("spare_outputs", limits.spare_outputs, expected, "Raise spare_ceiling, or ask for fewer.")
    table.close()
    return limits


def read_owned(root: Table, excluded: Sequence[str]) -> tuple[Owned, ...]:
    """The gear that the client has."""
    tables = root.tables("owned")
    owned = tuple(_owned_one(table, excluded) for table in tables)
    refuse_repeats(tables, "sku", [one.sku for one in owned])
    return owned


def _owned_one(table: Table, excluded: Sequence[str]) -> Owned:
    owned = Owned(
        sku=table.text("sku", '"SKU-1"'),
        count=table.whole("count", bounds.OWNED, "1", 1),
        must_use=table.flag("must_use"),
    )
    if owned.must_use and owned.sku in excluded:
        remedy = "Take it out of excluded, or remove must_use."
        table.fault("sku", owned.sku, "gear that must be used not to be excluded", remedy)
    table.close()
    return owned


def read_later(root: Table) -> tuple[LaterStage, ...]:
    """The stages to come."""
    tables = root.tables("later")
    stages = tuple(_later_one(table) for table in tables)
    refuse_repeats(tables, "name", [stage.name for stage in stages])
    return stages


def _later_one(table: Table) -> LaterStage:
    stage = LaterStage(
        name=table.text("name", '"Second stage"'),
        layout=read_layout(table)[0],
        subwoofers=table.whole("subwoofers", bounds.COUNT, "6"),
        years=table.number("years", bounds.YEARS, "2.0"),
    )
    table.close()
    return stage


def refuse_repeats(tables: Sequence[Table], key: str, values: Sequence[str]) -> None:
    """Note a fault for every value that an earlier table has too, in whatever capitals."""
    seen: set[str] = set()
    for table, value in zip(tables, values, strict=True):
        if value and value.casefold() in seen:
            table.fault(key, value, f"a {key} that no earlier table has", f"Write another {key}, or join the two.")
        seen.add(value.casefold())
