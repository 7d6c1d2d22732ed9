"""The figures behind an option as JSON: line chains, loudness, delays, earth loops, mains.

They are worked out from the design alone, by the same examination as its findings. The schema
in `planner/result.schema.json` documents every key, under "figures". A figure that the
catalogue leaves open is null.
"""

from planner.figures_json.chains import chain_trees
from planner.figures_json.earth import earth_loop_trees
from planner.figures_json.loudness import amplifier_channel_trees, bass_level_trees, seat_level_trees
from planner.figures_json.site import delay_trees, mains_tree
from planner.physics import Examination

__all__ = ["figures_tree"]


def figures_tree(examined: Examination) -> dict[str, object]:
    """All figures of one design as plain dicts and lists."""
    at_seats = examined.levels_at_seats
    return {
        "chains": chain_trees(examined.line_chains, examined.line_noises),
        "amplifier_channels": amplifier_channel_trees(at_seats.channels, examined.loads),
        "seat_levels": seat_level_trees(at_seats),
        "bass_levels": bass_level_trees(at_seats.bass),
        "delays": delay_trees(examined.delays),
        "earth_loops": earth_loop_trees(examined.earth_loops),
        "mains": mains_tree(examined.mains),
    }
