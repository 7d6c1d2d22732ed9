"""Where each loudspeaker stands as the listener sees it, against the ranges of its layout."""

from planner.brief.records import Brief
from planner.layouts import BS2051, Layout, Range, find_layout
from planner.placement import Placed, placement_deviation

ANGLE_HEADINGS = (
    "Channel", "Distance, m", "Azimuth, °", "Permitted", "Elevation, °", "Permitted height", "Deviation",
)  # fmt: skip


def angle_rows(brief: Brief) -> list[tuple[str, ...]]:
    """A row for each loudspeaker of a sound brief. Azimuth is positive to the left."""
    found = find_layout(brief.layout)
    return [] if found is None else [_row(placed, found) for placed in placement_deviation(brief)]


def out_of_range(brief: Brief) -> tuple[str, ...]:
    """The channels that stand outside their ranges."""
    if find_layout(brief.layout) is None:
        return ()
    return tuple(placed.channel for placed in placement_deviation(brief) if placed.within is False)


def source_words(brief: Brief) -> str:
    """Who says what is permitted."""
    found = find_layout(brief.layout)
    return BS2051 if found is None else found.source


def _row(placed: Placed, layout: Layout) -> tuple[str, ...]:
    permitted = layout.channel(placed.channel)
    ranges = ("–", "–") if permitted is None else (_range(permitted.azimuth_range), _range(permitted.elevation_range))
    return (
        placed.channel,
        f"{placed.distance_m:.2f}",
        f"{placed.angles.azimuth_deg:.1f}",
        ranges[0],
        f"{placed.angles.elevation_deg:.1f}",
        ranges[1],
        _deviation(placed),
    )


def _range(permitted: Range) -> str:
    low, high = permitted
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _deviation(placed: Placed) -> str:
    """In words: how far, and to which side."""
    azimuth, elevation = placed.azimuth_deviation_deg, placed.elevation_deviation_deg
    if azimuth is None or elevation is None:
        return "not in this layout"
    if placed.within:
        return "within"
    parts = []
    if abs(azimuth) >= 0.05:
        parts.append(f"{abs(azimuth):.1f}° too far {'left' if azimuth > 0 else 'right'}")
    if abs(elevation) >= 0.05:
        parts.append(f"{abs(elevation):.1f}° too {'high' if elevation > 0 else 'low'}")
    return ", ".join(parts)
