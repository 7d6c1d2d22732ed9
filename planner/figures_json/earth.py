"""R17 as JSON: each independent earth loop, by its members, with what breaks it."""

from collections.abc import Sequence

from planner.figures_json.rounding import significant
from planner.physics.earth import EarthLoop
from planner.physics.earth_remedies import remedies

Json = dict[str, object]


def earth_loop_trees(loops: Sequence[EarthLoop]) -> list[Json]:
    """The loops of one design; M7 is how many."""
    return [_loop(loop) for loop in loops]


def _loop(loop: EarthLoop) -> Json:
    return {
        "members": list(loop.members),
        "through_safety_earth": loop.earthed,
        "side_by_side": loop.bundled,
        "unbalanced_leads": [edge.lead for edge in loop.unbalanced],
        "worst_shield_ohm": significant(loop.worst_shield_ohm),
        "hum_v": significant(loop.hum_v),
        "remedies": [{"by": remedy.by.value, "any_of": list(remedy.any_of)} for remedy in remedies(loop)],
    }
