"""The brief's TOML file, read into records; every fault is found at once.

Keys are the field names of `planner.brief.records`. Positions are [x, y, z] in metres: x from
the front wall, y from the left wall, z up. Entries left out take the defaults of the records.
Amounts are exact, in quotes or bare. A whole brief (its gear is invented):

    layout = "7.1.4"
    measures = ["price", "independent_subwoofers", "subwoofers_lost"]
    excluded = ["PROC-X"]

    [project]
    name = "Cinema room"
    client = "Example client"
    reference = "2026-014"
    dated = 2026-03-02
    currency = "EUR"
    tax_percent = "21"

    [room]
    length_m = 6.2
    width_m = 4.1
    height_m = 2.55
    reverberation_time_s = 0.35
    temperature_c = 21.0
    reverberation_bands = [{ hz = 31.5, time_s = 0.6 }, { hz = 63.0, time_s = 0.4 }]  # where known by frequency

    [rack]
    position = [5.9, 0.4, 0.5]
    units = 24
    route_allowance_percent = 15.0
    slack_m = 0.5
    internal_m = 1.0

    [[seats]]
    name = "Middle"
    position = [4.0, 2.05, 1.1]
    primary = true

    [[loudspeakers]]
    name = "Front"
    channels = ["L", "C", "R"]
    positions = [[0.3, 0.9, 1.2], [], [0.3, 3.2, 1.2]]  # [] is where the layout has it
    model = "LS-1"                # or candidates = [...], or target_spl_db = 105.0

    [[loudspeakers]]
    name = "Around"
    channels = ["Lss", "Rss", "Lrs", "Rrs", "Ltf", "Rtf", "Ltr", "Rtr"]
    target_spl_db = 102.0

    [[subwoofers]]
    name = "Subwoofers"
    least = 2                     # or count = 4
    most = 4
    positions = [[0.3, 0.3, 0.2], [0.3, 3.8, 0.2], [5.9, 0.3, 0.2], [5.9, 3.8, 0.2]]
    candidates = ["SUB-1", "SUB-2"]
    channel = "LFE1"
    target_spl_db = 115.0         # all of the channel together

    [limits]
    drives = ["dedicated", "dsp", "split", "daisy_chained"]
    largest_split = 2
    balanced_only = false
    least_independent_subwoofers = 2
    least_control_groups = 2
    spare_outputs = 1
    spare_ceiling = 4
    most_subwoofers_lost = 2
    filters_per_subwoofer = 6
    most_dsp_units = 1
    budget = "24000.00"
    physical = ["level", "target", "cable", "load"]  # kept by every design; "delay" is left out
    level_tolerance_db = 0.5
    target_headroom_db = 3.0
    most_cable_loss_db = 0.4
    most_noise_db = -85.0
    least_margin_db = 3.0
    most_earth_loops = 2

    [[owned]]
    sku = "AMP-1"
    count = 2
    must_use = true

    [[later]]
    name = "Second stage"
    layout = "9.1.6"
    subwoofers = 6
    years = 2.0
"""

from pathlib import Path

from planner.brief import sections
from planner.brief.records import Brief, LoudspeakerSet, Point, SubwooferSet
from planner.brief.sets import SetReader
from planner.brief.source import entries, read_text
from planner.brief.table import Table
from planner.errors import BadInput, Fault


def read_brief(path: str | Path) -> Brief:
    """The brief in a file. Raises BadInput with every fault; messages name the file, not its folder."""
    path = Path(path)
    return parse_brief(read_text(path), path.name)


def parse_brief(text: str, name: str = "brief.toml") -> Brief:
    """The brief in a TOML text, called `name` in messages. Raises BadInput with every fault."""
    faults: list[Fault] = []
    brief = _brief(Table(entries(text, name), name, "", faults))
    if faults:
        raise BadInput(tuple(faults))
    return brief


def _brief(root: Table) -> Brief:
    """The whole brief, in the order of the file; only to be used if no fault was noted."""
    layout_name, layout = sections.read_layout(root)
    measures = sections.read_measures(root)
    excluded = sections.read_excluded(root)
    project = sections.read_project(root.table("project"))
    room = sections.read_room(root.table("room"))
    corner = Point(room.length_m, room.width_m, room.height_m)
    rack = sections.read_rack(root.table("rack"), corner)
    seats = sections.read_seats(root, corner)
    loudspeakers, subwoofers = _sets(root, SetReader(layout=layout, corner=corner))
    limits = sections.read_limits(root.table("limits", optional=True))
    owned = sections.read_owned(root, excluded)
    later = sections.read_later(root)
    root.close()
    return Brief(
        project=project,
        room=room,
        seats=seats,
        rack=rack,
        layout=layout_name,
        loudspeakers=loudspeakers,
        subwoofers=subwoofers,
        limits=limits,
        measures=measures,
        owned=owned,
        excluded=excluded,
        later=later,
    )


def _sets(root: Table, reader: SetReader) -> tuple[tuple[LoudspeakerSet, ...], tuple[SubwooferSet, ...]]:
    """The sets of both kinds; a name stands for one set only, whatever its kind."""
    loudspeaker_tables, subwoofer_tables = root.tables("loudspeakers"), root.tables("subwoofers")
    if not loudspeaker_tables and not subwoofer_tables and root.sound("loudspeakers", "subwoofers"):
        remedy = "Add [[loudspeakers]] or [[subwoofers]]."
        root.fault("loudspeakers", None, "at least one set of loudspeakers or subwoofers", remedy)
    loudspeakers = tuple(reader.loudspeakers(table) for table in loudspeaker_tables)
    subwoofers = tuple(reader.subwoofers(table) for table in subwoofer_tables)
    names = [*(found.name for found in loudspeakers), *(found.name for found in subwoofers)]
    sections.refuse_repeats((*loudspeaker_tables, *subwoofer_tables), "name", names)
    return loudspeakers, subwoofers
