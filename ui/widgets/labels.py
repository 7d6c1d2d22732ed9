"""What the inputs of the brief are called on screen, by their place in the brief's file.

The inputs and the list of faults take their words from here, so that a fault names its input.
"""

import re
from collections.abc import Mapping

SECTIONS: Mapping[str, str] = {
    "project": "Project",
    "room": "Room",
    "seats": "Seats",
    "rack": "Rack",
    "layout": "Layout",
    "loudspeakers": "Loudspeakers, set",
    "subwoofers": "Subwoofers, set",
    "limits": "Limits",
    "measures": "Measures to weigh",
    "owned": "Gear that the client has",
    "excluded": "Gear to leave out",
    "later": "Stages to come",
}

LABELS: Mapping[str, str] = {
    "project.name": "Project",
    "project.client": "Client",
    "project.reference": "Reference",
    "project.dated": "Date of the quote",
    "project.currency": "Quoting currency",
    "project.tax_percent": "Tax, %",
    "room.length_m": "Length, m",
    "room.width_m": "Width, m",
    "room.height_m": "Height, m",
    "room.reverberation_time_s": "Reverberation time, s",
    "room.reverberation_bands": "Reverberation time by frequency",
    "room.temperature_c": "Temperature, °C",
    "seats.name": "Seat",
    "seats.position": "x, y, z",
    "seats.primary": "Primary",
    "rack.position": "Rack x, y, z",
    "rack.units": "Rack units",
    "rack.route_allowance_percent": "Route allowance, %",
    "rack.slack_m": "Slack, m",
    "rack.internal_m": "Leads in the rack, m",
    "layout": "Layout",
    "loudspeakers.name": "Set",
    "loudspeakers.channels": "Channel",
    "loudspeakers.positions": "x, y, z",
    "loudspeakers.model": "Models",
    "loudspeakers.candidates": "Models",
    "loudspeakers.target_spl_db": "Level, dB SPL",
    "subwoofers.name": "Set",
    "subwoofers.count": "At least, at most",
    "subwoofers.least": "At least",
    "subwoofers.most": "At most",
    "subwoofers.positions": "x, y, z",
    "subwoofers.model": "Models",
    "subwoofers.candidates": "Models",
    "subwoofers.channel": "Channel",
    "subwoofers.target_spl_db": "Level together, dB SPL",
    "limits.drives": "Ways to reach a loudspeaker or subwoofer",
    "limits.least_independent_subwoofers": "Set independently, at least",
    "limits.least_control_groups": "Control groups, at least",
    "limits.filters_per_subwoofer": "Filters for each",
    "limits.most_subwoofers_lost": "Lost by one failure, at most",
    "limits.spare_outputs": "Spare outputs wanted",
    "limits.spare_ceiling": "Spare outputs counted",
    "limits.largest_split": "Legs of a split, at most",
    "limits.most_dsp_units": "DSP units, at most",
    "limits.budget": "Budget with tax",
    "limits.balanced_only": "Balanced lines only",
    "limits.physical": "Kept by every design",
    "limits.level_tolerance_db": "Short of full output, at most, dB",
    "limits.target_headroom_db": "Headroom over the targets, dB",
    "limits.most_cable_loss_db": "Loss in a loudspeaker cable, at most, dB",
    "limits.most_noise_db": "Noise re full output, at most, dB",
    "limits.least_margin_db": "Level margin, at least, dB",
    "limits.most_earth_loops": "Earth loops, at most",
    "measures": "Measures to weigh",
    "owned.sku": "Gear",
    "owned.count": "How many",
    "owned.must_use": "Must be used",
    "excluded": "Gear to leave out",
    "later.name": "Stage",
    "later.layout": "Layout",
    "later.subwoofers": "Subwoofers",
    "later.years": "In years",
}

_PLACE = re.compile(r"(\w+)(?:\[(\d+)\])?(?:\.(\w+)(?:\[(\d+)\])?)?")


def place_words(where: str) -> str:
    """A place in the brief's file in the words of the screen, or as it stands if it is none.

    >>> place_words("brief room.length_m")
    'Room: Length, m'
    >>> place_words("brief loudspeakers[0].channels[2]")
    'Loudspeakers, set 1: Channel 3'
    """
    place = where.partition(" ")[2]
    found = _PLACE.fullmatch(place)
    if found is None or found[1] not in SECTIONS:
        return where
    section, row, entry, element = found.groups()
    words = SECTIONS[section] + _ordinal(row)
    if entry is None:
        return words
    return f"{words}: {LABELS.get(f'{section}.{entry}', entry)}{_ordinal(element)}"


def _ordinal(index: str | None) -> str:
    """People count from one."""
    return "" if index is None else f" {int(index) + 1}"
