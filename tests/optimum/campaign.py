"""A long comparison of brute force, mixed-integer programming and the planner, for developers.

    python -m tests.optimum.campaign tiny 0 200      brute force against the programme
    python -m tests.optimum.campaign small 0 50 --planner     the planner against the programme

Prints one line for each seed that disagrees; ends with the number of instances compared.
"""

import argparse
from random import Random

from planner.plan import options
from tests.oracle.brute import Table
from tests.oracle.instance import UNBOUNDED, Bounds, Instance
from tests.oracle.instances import seeded, small, tiny
from tests.oracle.milp import Cheapest
from tests.oracle.tally import Tally
from tests.oracle.trade_off import bounds_of, implied_price, loosest_corners, own_cell


def oracle_differences(instance: Instance, rng: Random, bounds_tried: int = 6) -> list[str]:
    """Bounds under which brute force and the programme disagree; empty where they agree."""
    table, cheapest = Table(instance), Cheapest(instance)
    tried = [UNBOUNDED]
    for found in rng.sample(sorted(table.prices), min(bounds_tried, len(table.prices))):
        tried.append(_around(found, rng))
    return [
        f"{bounds}: brute force {table.price_minor(bounds)}, programme {cheapest.price_minor(bounds)}"
        for bounds in tried
        if table.price_minor(bounds) != cheapest.price_minor(bounds)
    ]


def planner_differences(instance: Instance, time_limit_s: float = 60.0) -> list[str]:
    """Where the planner's trade-off set and the programme disagree; empty where they agree."""
    result = options(instance.brief, instance.catalogue, instance.house, time_limit_s=time_limit_s)
    if result.unproven:
        return [f"not settled: {len(result.unproven)} cells"]
    cheapest, chosen = Cheapest(instance), instance.brief.measures
    measures = [option.measures for option in result.options]
    cells = [*(own_cell(one, chosen) for one in measures), *loosest_corners(measures, chosen)]
    return [
        f"{cell}: planner {implied_price(measures, cell)}, programme {price}"
        for cell in cells
        if (price := cheapest.price_minor(bounds_of(cell))) != implied_price(measures, cell)
    ]


def _around(found: Tally, rng: Random) -> Bounds:
    """Bounds that a design just meets, or just misses in some measures."""
    return Bounds(
        least_independent=max(0, found.independent + rng.choice((-1, 0, 0, 1))),
        least_spare=max(0, found.spare + rng.choice((-1, 0, 0, 1))),
        most_lost=rng.choice((None, found.lost, found.lost, max(0, found.lost - 1))),
        most_conversions=rng.choice((None, found.conversions, max(0, found.conversions - 1))),
        most_joints=rng.choice((None, None, found.joints, found.joints - 1)),
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("size", choices=("tiny", "small"))
    parser.add_argument("first", type=int)
    parser.add_argument("last", type=int)
    parser.add_argument("--planner", action="store_true", help="compare the planner, not brute force")
    wanted = parser.parse_args()
    make = tiny if wanted.size == "tiny" else small
    for seed in range(wanted.first, wanted.last):
        instance = seeded(make, seed)
        found = planner_differences(instance) if wanted.planner else oracle_differences(instance, Random(seed))
        for difference in found:
            print(f"{instance.name}: {difference}", flush=True)
    print(f"{wanted.last - wanted.first} instances compared")


if __name__ == "__main__":
    main()
