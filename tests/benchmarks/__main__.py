"""Times the planner on the demo briefs, beside an independent programme asked for the cheapest design.

    python -m tests.benchmarks [--sizes S,M] [--limits T,S,M] [--json FILE]

Prints a table, and a second one of what the limits of the physics cost the search; either is left
out where its list is empty. With --json writes the same as {"sizes": [{"size": "M", ...}],
"limits": [{"brief": ..., "ratio": ...}]}. Never a test: times depend on the machine. That both
ways find one price is asserted.
"""

import argparse
import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from tests.benchmarks.limits import Weighed, limits_weighed
from tests.benchmarks.measured import Measured, measured
from tests.plan.demo import demo_brief, demo_catalogue, demo_house

BRIEFS = {"S": "small-5-1-2-two-subs", "M": "cinema-7-1-4-four-mixed-subs"}
BRIEFS_OF_LIMITS = {"T": "limit-drive-for-a-studio-subwoofer", **BRIEFS}
HEADING = ("size", "options", "demand CPU s", "set s", "set CPU s", "cheapest CPU s", "programme CPU s", "ratio")
HEADING_OF_LIMITS = ("brief".ljust(34), "asked".ljust(22), "options", "set CPU s", "ratio")


def main(arguments: Sequence[str] | None = None) -> int:
    """Measures the sizes asked for."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    for name, briefs in (("--sizes", BRIEFS), ("--limits", BRIEFS_OF_LIMITS)):
        parser.add_argument(name, default=",".join(briefs), help=f"some of {','.join(briefs)}, or nothing")
    parser.add_argument("--json", type=Path, help="write the figures to this file")
    wanted = parser.parse_args(arguments)
    sizes, of_limits = _wanted(parser, wanted.sizes, BRIEFS), _wanted(parser, wanted.limits, BRIEFS_OF_LIMITS)
    measured_sizes = list(_sizes(sizes)) if sizes else []
    weighed = list(_limits(of_limits)) if of_limits else []
    if wanted.json is not None:
        tree = {
            "sizes": [entry.tree() for entry in measured_sizes],
            "limits": [entry.tree() for entry in weighed],
        }
        wanted.json.write_text(json.dumps(tree, indent=2) + "\n", encoding="utf-8")
    return 0


def _wanted(parser: argparse.ArgumentParser, text: str, briefs: Mapping[str, str]) -> list[str]:
    sizes = [size for size in text.split(",") if size]
    unknown = sorted(set(sizes) - set(briefs))
    if unknown:
        parser.error(f"no such size: {', '.join(unknown)}; there are {', '.join(briefs)}")
    return sizes


def _sizes(sizes: Sequence[str]) -> Iterator[Measured]:
    """Measures and prints size by size."""
    print(_line(HEADING, HEADING), flush=True)
    for size in sizes:
        name = BRIEFS[size]
        found = measured(size, name, demo_brief(name), demo_catalogue(), demo_house())
        print(_line(_cells(found), HEADING), flush=True)
        yield found


def _limits(sizes: Sequence[str]) -> Iterator[Weighed]:
    """Measures and prints brief by brief what the limits cost."""
    print(_line(HEADING_OF_LIMITS, HEADING_OF_LIMITS), flush=True)
    for size in sizes:
        name = BRIEFS_OF_LIMITS[size]
        for found in limits_weighed(name, demo_brief(name), demo_catalogue(), demo_house()):
            words = (found.brief, found.asked)
            figures = (str(found.options), f"{found.set_cpu_seconds:.2f}", f"{found.ratio:.2f}")
            padded = [word.ljust(len(heading)) for word, heading in zip(words, HEADING_OF_LIMITS, strict=False)]
            print(_line((*padded, *figures), HEADING_OF_LIMITS), flush=True)
            yield found


def _cells(found: Measured) -> tuple[str, ...]:
    times = (
        found.demand_cpu_seconds,
        found.set_seconds,
        found.set_cpu_seconds,
        found.cheapest_planner_cpu_seconds,
        found.cheapest_programme_cpu_seconds,
    )
    return (found.size, str(found.options), *(f"{seconds:.2f}" for seconds in times), f"{found.ratio:.1f}")


def _line(cells: Sequence[str], headings: Sequence[str]) -> str:
    return "  ".join(cell.rjust(len(heading)) for cell, heading in zip(cells, headings, strict=True))


if __name__ == "__main__":
    sys.exit(main())
