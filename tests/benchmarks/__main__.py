"""Times the planner on briefs from small to very large, beside general-purpose solvers.

    python -m tests.benchmarks [--sizes S,M,L,XL,XXL] [--only PART,...] [--json FILE]

Parts: ours (the whole trade-off set and the single cheapest), highs and scip (the same questions put to
these solvers, as one straightforward programme; prices are asserted equal), growth (with devices and
with feeds), start (the command from nothing to its first answer), batch (rooms of one building), limits
(what R11 to R15, M7 and M8 cost the search). Each way to answer runs in a process of its own, from
nothing, one after another, and is ended where it goes on long after its time. Never a test: times depend
on the machine. CPU seconds count all threads; ratios are taken within one run, the better solver's seconds
over ours.
"""

import argparse
import json
import pstats
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

from tests.benchmarks.compared import compared
from tests.benchmarks.growth import Grown, by_devices, by_feeds, exponent
from tests.benchmarks.limits import Weighed, limits_weighed
from tests.benchmarks.ours import profile
from tests.benchmarks.sizes import Size, case
from tests.benchmarks.start import Start, cold_start
from tests.benchmarks.tables import (
    OF_GROWTH,
    OF_LIMITS,
    OF_SIZES,
    batch_words,
    growth_cells,
    limits_cells,
    line,
    notes_of_size,
    size_cells,
    start_words,
)
from tests.benchmarks.throughput import Throughput, throughput
from tests.oracle.mathopt import Solver
from tests.plan.demo import demo_brief, demo_catalogue, demo_house

PARTS = ("ours", *Solver, "growth", "start", "batch", "limits")
BRIEFS_OF_LIMITS = {
    "T": "limit-drive-for-a-studio-subwoofer",
    "S": "small-5-1-2-two-subs",
    "M": "cinema-7-1-4-four-mixed-subs",
}
_LINES_OF_PROFILE = 30


def main(arguments: Sequence[str] | None = None) -> int:
    """Measures what is asked for, and prints as it goes."""
    wanted = _parser().parse_args(arguments)
    if wanted.profile:
        for size in wanted.sizes:
            profile(case(size), wanted.time_limit, _show_profile)
        return 0
    tree: dict[str, Any] = {"sizes": []}
    if {"ours", *Solver} & set(wanted.only) and wanted.sizes:
        tree["sizes"] = list(_sizes(wanted))
    if "growth" in wanted.only:
        tree["growth"] = {
            "devices": _growth("devices", by_devices(wanted.time_limit), lambda step: step.devices),
            "feeds": _growth("feeds", by_feeds(wanted.time_limit), lambda step: step.feeds),
        }
    if "start" in wanted.only:
        tree["start"] = _start().tree()
    if "batch" in wanted.only:
        tree["batch"] = _batch(wanted.rooms).tree()
    if "limits" in wanted.only and wanted.limits:
        tree["limits"] = [entry.tree() for entry in _limits(wanted.limits)]
    if wanted.json is not None:
        wanted.json.write_text(json.dumps(tree, indent=2) + "\n", encoding="utf-8")
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks",
        description=__doc__,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--sizes", type=_some_sizes, default=list(Size), help="some of S,M,L,XL,XXL, or nothing")
    parser.add_argument("--only", type=_some_of(PARTS), default=list(PARTS), help=f"some of {','.join(PARTS)}")
    briefs = tuple(BRIEFS_OF_LIMITS)
    parser.add_argument("--limits", type=_some_of(briefs), default=list(briefs), help=f"briefs: {','.join(briefs)}")
    parser.add_argument("--time-limit", type=float, default=300.0, metavar="S", help="seconds for each of our answers")
    parser.add_argument(
        "--solver-limit", type=float, default=120.0, metavar="S", help="seconds for each question to a solver"
    )
    parser.add_argument(
        "--questions", type=int, default=12, metavar="N", help="how many of a set's questions a solver is asked"
    )
    parser.add_argument("--rooms", type=int, default=40, metavar="N", help="how many rooms the batch has")
    parser.add_argument("--profile", action="store_true", help="instead: where our whole set spends its time")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures to this file")
    return parser


def _some_of(known: Sequence[str]) -> Callable[[str], list[str]]:
    def chosen(text: str) -> list[str]:
        names = [name for name in text.split(",") if name]
        unknown = sorted(set(names) - set(known))
        if unknown:
            raise argparse.ArgumentTypeError(f"no {', '.join(unknown)}; there are {', '.join(known)}")
        return names

    return chosen


def _some_sizes(text: str) -> list[Size]:
    return [Size(name) for name in _some_of(tuple(Size))(text)]


def _sizes(wanted: argparse.Namespace) -> Iterator[dict[str, Any]]:
    """Measures and prints size by size."""
    print(line(OF_SIZES), flush=True)
    for size in wanted.sizes:
        found = compared(
            size,
            [solver for solver in Solver if solver in wanted.only],
            time_limit_s=wanted.time_limit,
            solver_limit_s=wanted.solver_limit,
            most_questions=wanted.questions,
        )
        print(line(OF_SIZES, size_cells(found)), flush=True)
        for note in notes_of_size(found):
            print(f"      {note}", flush=True)
        yield found.tree()


def _growth(name: str, steps: Iterator[Grown], size_of: Callable[[Grown], int]) -> dict[str, Any]:
    """Measures and prints step by step, and the exponent of what was settled."""
    print(line(OF_GROWTH), flush=True)
    grown = []
    for step in steps:
        grown.append(step)
        print(line(OF_GROWTH, growth_cells(step)), flush=True)
    power = exponent([size_of(step) for step in grown], [step.cpu_s for step in grown])
    if power is not None:
        print(f"CPU seconds grow as {name} to the power {power:.2f}: ten times the {name}, {10**power:.1f} times.")
    return {"exponent": power, "steps": [step.tree() for step in grown]}


def _start() -> Start:
    found = cold_start()
    for words in start_words(found):
        print(words, flush=True)
    return found


def _batch(rooms: int) -> Throughput:
    found = throughput(rooms)
    print(batch_words(found), flush=True)
    return found


def _limits(sizes: Sequence[str]) -> Iterator[Weighed]:
    """Measures and prints brief by brief what the limits cost."""
    print(line(OF_LIMITS), flush=True)
    for size in sizes:
        name = BRIEFS_OF_LIMITS[size]
        for found in limits_weighed(name, demo_brief(name), demo_catalogue(), demo_house()):
            print(line(OF_LIMITS, limits_cells(found)), flush=True)
            yield found


def _show_profile(stats: pstats.Stats) -> None:
    for order in ("cumulative", "tottime"):
        stats.sort_stats(order).print_stats(_LINES_OF_PROFILE)


if __name__ == "__main__":
    sys.exit(main())
