"""Inputs for the room, the seats and the rack."""

from dataclasses import replace
from functools import partial

import streamlit as st

from planner.brief.records import Point, Rack, Reverberation, Room, Seat
from planner.lengths import LengthStyle, feet_words
from ui.widgets.keys import Keys
from ui.widgets.labels import LABELS
from ui.widgets.numbers import in_feet, length, number, optional_whole
from ui.widgets.rows import Cell, Column, Row, edit_rows

AXES = "x runs from the front wall to the back, y from the left wall to the right, z up from the floor."

_POSITION = (
    Column(name="x_m", heading="x, m", cell=Cell.NUMBER, help="From the front wall.", width=70),
    Column(name="y_m", heading="y, m", cell=Cell.NUMBER, help="From the left wall.", width=70),
    Column(name="z_m", heading="z, m", cell=Cell.NUMBER, help="Up from the floor.", width=70),
)

_PRIMARY = Column(
    name="primary",
    heading=LABELS["seats.primary"],
    cell=Cell.TICK,
    help="The layout and the level wanted are reckoned from the primary seats.",
    width=80,
)


_BANDS = (
    Column(name="hz", heading="Frequency, Hz", cell=Cell.NUMBER, help="The middle of the band.", width=120),
    Column(name="time_s", heading="Reverberation time, s", cell=Cell.NUMBER, width=160),
)


def room(seed: Room, keys: Keys) -> Room:
    """The room as it stands in the inputs."""
    measured = partial(length, style=keys.lengths)
    first, second, third = st.columns(3)
    with first:
        length_m = measured(
            LABELS["room.length_m"], seed.length_m, key=keys("room_length_m"), help="Front wall to back wall."
        )
    with second:
        width_m = measured(
            LABELS["room.width_m"], seed.width_m, key=keys("room_width_m"), help="Left wall to right wall."
        )
    with third:
        height_m = measured(LABELS["room.height_m"], seed.height_m, key=keys("room_height_m"), help="Floor to ceiling.")
    decay, temperature, _ = st.columns(3)
    with decay:
        reverberation_time_s = number(
            LABELS["room.reverberation_time_s"],
            seed.reverberation_time_s,
            key=keys("room_reverberation_time_s"),
            help="How long sound takes to fall by 60 dB; about 0.2 to 0.4 s in a furnished room.",
        )
    with temperature:
        temperature_c = number(
            LABELS["room.temperature_c"], seed.temperature_c, key=keys("room_temperature_c"), step=1.0
        )
    with st.expander(LABELS["room.reverberation_bands"], expanded=bool(seed.reverberation_bands)):
        bands = _reverberation_bands(seed, keys)
    return Room(
        length_m=length_m,
        width_m=width_m,
        height_m=height_m,
        reverberation_time_s=reverberation_time_s,
        temperature_c=temperature_c,
        reverberation_bands=bands,
    )


def _reverberation_bands(seed: Room, keys: Keys) -> tuple[Reverberation, ...]:
    rows = edit_rows(
        _BANDS,
        ({"hz": one.hz, "time_s": one.time_s} for one in seed.reverberation_bands),
        key=keys("reverberation_bands"),
        label="Reverberation bands",
    )
    st.caption("Where it is known by frequency, as measured. Without any row the one time above holds for all.")
    return tuple(Reverberation(row.number("hz"), row.number("time_s")) for row in rows)


def seats(seed: tuple[Seat, ...], keys: Keys) -> tuple[Seat, ...]:
    """The seats as they stand in the table."""
    columns = (
        Column(name="name", heading=LABELS["seats.name"], cell=Cell.TEXT),
        *position_columns(keys.lengths),
        _PRIMARY,
    )
    rows = edit_rows(
        columns,
        ({"name": seat.name, **position_cells(seat.position, keys.lengths), "primary": seat.primary} for seat in seed),
        key=keys("seats"),
        label="Seats",
    )
    return tuple(Seat(name=row.text("name"), position=position_of(row), primary=row.tick("primary")) for row in rows)


def rack(seed: Rack, keys: Keys) -> Rack:
    """The rack and the counting of cable lengths as they stand in the inputs."""
    measured = partial(length, style=keys.lengths)
    first = st.columns(3)
    with first[0]:
        x_m = measured("Rack x, m", seed.position.x_m, key=keys("rack_x_m"), help=AXES)
    with first[1]:
        y_m = measured("Rack y, m", seed.position.y_m, key=keys("rack_y_m"))
    with first[2]:
        z_m = measured("Rack z, m", seed.position.z_m, key=keys("rack_z_m"))
    second = st.columns(4)
    with second[0]:
        units = optional_whole(LABELS["rack.units"], seed.units, key=keys("rack_units"), empty="no limit")
    with second[1]:
        allowance = number(
            LABELS["rack.route_allowance_percent"],
            seed.route_allowance_percent,
            key=keys("rack_route_allowance_percent"),
            step=1.0,
            help="Added to the length of every cable route for bends and detours.",
        )
    with second[2]:
        slack_m = measured(
            LABELS["rack.slack_m"], seed.slack_m, key=keys("rack_slack_m"), help="Added at the end of each route."
        )
    with second[3]:
        internal_m = measured(LABELS["rack.internal_m"], seed.internal_m, key=keys("rack_internal_m"))
    return Rack(
        position=Point(x_m, y_m, z_m),
        units=units,
        route_allowance_percent=allowance,
        slack_m=slack_m,
        internal_m=internal_m,
    )


def position_columns(style: LengthStyle) -> tuple[Column, ...]:
    """The three columns of a position: numbers of metres, or texts of feet and inches."""
    if style is LengthStyle.METRES:
        return _POSITION
    return tuple(replace(column, heading=in_feet(column.heading), cell=Cell.TEXT, width=95) for column in _POSITION)


def position_cells(point: Point | None, style: LengthStyle) -> dict[str, float | str | None]:
    """A position as the three cells of a row; empty ones for no position."""
    if point is None:
        return {"x_m": None, "y_m": None, "z_m": None}
    cells = {"x_m": point.x_m, "y_m": point.y_m, "z_m": point.z_m}
    return dict(cells) if style is LengthStyle.METRES else {name: feet_words(m) for name, m in cells.items()}


def position_of(row: Row) -> Point:
    """The position in a row. An empty cell becomes NaN, which the planner refuses in plain words."""
    return Point(row.length_m("x_m"), row.length_m("y_m"), row.length_m("z_m"))
