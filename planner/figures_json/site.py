"""R15 and R16 as JSON: the delays to set, and what the rack and the mains have to bear."""

from collections.abc import Sequence

from planner.figures_json.ports import port_words
from planner.figures_json.rounding import hundredths
from planner.physics.delay import DelayLine
from planner.physics.mains import SUPPLIES_V, MainsTotals, Supply

Json = dict[str, object]


def delay_trees(lines: Sequence[DelayLine]) -> list[Json]:
    """The delay of every feed: when it arrives, what is set where, and what is left."""
    return [
        {
            "device": line.unit,
            "port": port_words(line.jack),
            "distance_m": hundredths(line.distance_m),
            "latency_ms": hundredths(line.latency_ms),
            "arrival_ms": hundredths(line.arrival_ms),
            "wanted_ms": hundredths(line.wanted_ms),
            "set_at": line.control,
            "set_by_device": line.device,
            "set_ms": hundredths(line.set_ms),
            "range_ms": hundredths(line.range_ms),
            "before_at": line.before or None,
            "before_ms": hundredths(line.before_ms),
            "short_ms": hundredths(line.short_ms),
            "early_ms": hundredths(line.early_ms),
        }
        for line in lines
    ]


def mains_tree(totals: MainsTotals) -> Json:
    """Rack units, watts and heat, by where the gear stands, and the current in all."""
    return {
        "rack_units": totals.rack_units,
        "rack": _supply(totals.rack),
        "room": _supply(totals.room),
        "whole": _supply(totals.whole),
        "rated_current": [
            {"supply_v": volts, "current_a": hundredths(totals.whole.rated_w / volts)} for volts in SUPPLIES_V
        ],
        "unstated": list(totals.unstated),
    }


def _supply(supply: Supply) -> Json:
    return {
        "idle_w": hundredths(supply.idle_w),
        "rated_w": hundredths(supply.rated_w),
        "idle_btu_per_h": hundredths(supply.idle_btu_per_h),
        "rated_btu_per_h": hundredths(supply.rated_btu_per_h),
    }
