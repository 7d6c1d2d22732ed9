"""Times the planner on the demo briefs, beside an independent programme asked for the cheapest design.

    python -m tests.benchmarks [--sizes S,M] [--json FILE]

Prints a table; with --json writes the same as {"sizes": [{"size": "M", ...}]}. Never a test:
times depend on the machine. That both ways find one price is asserted.
"""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

from tests.benchmarks.measured import Measured, measured
from tests.plan.demo import demo_brief, demo_catalogue, demo_house

BRIEFS = {"S": "small-5-1-2-two-subs", "M": "cinema-7-1-4-four-mixed-subs"}
HEADING = ("size", "options", "demand CPU s", "set s", "set CPU s", "cheapest CPU s", "programme CPU s", "ratio")


def main(arguments: Sequence[str] | None = None) -> int:
    """Measures the sizes asked for."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--sizes", default=",".join(BRIEFS), help=f"some of {','.join(BRIEFS)}")
    parser.add_argument("--json", type=Path, help="write the figures to this file")
    wanted = parser.parse_args(arguments)
    sizes = wanted.sizes.split(",")
    unknown = sorted(set(sizes) - set(BRIEFS))
    if unknown:
        parser.error(f"no such size: {', '.join(unknown)}; there are {', '.join(BRIEFS)}")
    print(_line(HEADING), flush=True)
    found = []
    for size in sizes:
        name = BRIEFS[size]
        found.append(measured(size, name, demo_brief(name), demo_catalogue(), demo_house()))
        print(_line(_cells(found[-1])), flush=True)
    if wanted.json is not None:
        tree = {"sizes": [entry.tree() for entry in found]}
        wanted.json.write_text(json.dumps(tree, indent=2) + "\n", encoding="utf-8")
    return 0


def _cells(found: Measured) -> tuple[str, ...]:
    times = (
        found.demand_cpu_seconds,
        found.set_seconds,
        found.set_cpu_seconds,
        found.cheapest_planner_cpu_seconds,
        found.cheapest_programme_cpu_seconds,
    )
    return (found.size, str(found.options), *(f"{seconds:.2f}" for seconds in times), f"{found.ratio:.1f}")


def _line(cells: Sequence[str]) -> str:
    return "  ".join(cell.rjust(len(heading)) for cell, heading in zip(cells, HEADING, strict=True))


if __name__ == "__main__":
    sys.exit(main())
