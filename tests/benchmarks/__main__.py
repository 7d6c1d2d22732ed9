"""Times the planner on briefs from small to very large.

    python -m tests.benchmarks [--sizes S,M,L,XL,XXL] [--only PART,...] [--json FILE]

Parts: ours (the whole trade-off set and the single cheapest), limits (what R11 to R15, M7 and M8 cost
the search). Each size runs in a process of its own, from nothing, and is ended where it goes on long
after its time. Never a test: times depend on the machine, and CPU seconds count all threads.
"""

import argparse
import json
import pstats
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from tests.benchmarks.apart import apart
from tests.benchmarks.layout import Column, line
from tests.benchmarks.limits import Weighed, limits_weighed
from tests.benchmarks.ours import Asking, Ours, profile
from tests.benchmarks.sizes import Size, case
from tests.plan.demo import demo_brief, demo_catalogue, demo_house

PARTS = ("ours", "limits")
BRIEFS_OF_LIMITS = {
    "T": "limit-drive-for-a-studio-subwoofer",
    "S": "small-5-1-2-two-subs",
    "M": "cinema-7-1-4-four-mixed-subs",
}
OURS = (
    Column("size"), Column("devices"), Column("feeds"), Column("options"), Column("status", 10),
    Column("demand CPU s"), Column("cheapest s"), Column("CPU s"), Column("whole set s"), Column("CPU s"),
    Column("memory MB"),
)  # fmt: skip
OF_LIMITS = (
    Column("brief", 34, left=True), Column("asked", 22, left=True), Column("options"), Column("set CPU s"),
    Column("ratio"),
)  # fmt: skip
_LINES_OF_PROFILE = 30


def main(arguments: Sequence[str] | None = None) -> int:
    """Measures what is asked for, and prints as it goes."""
    wanted = _parser().parse_args(arguments)
    if wanted.profile:
        for size in wanted.sizes:
            profile(case(size), wanted.time_limit, _show_profile)
        return 0
    tree: dict[str, Any] = {"sizes": [], "limits": []}
    if "ours" in wanted.only and wanted.sizes:
        tree["sizes"] = list(_sizes(wanted.sizes, wanted.time_limit))
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

    def some_of(known: Sequence[str]) -> Any:
        def chosen(text: str) -> list[str]:
            names = [name for name in text.split(",") if name]
            unknown = sorted(set(names) - set(known))
            if unknown:
                raise argparse.ArgumentTypeError(f"no {', '.join(unknown)}; there are {', '.join(known)}")
            return names

        return chosen

    def sizes(text: str) -> list[Size]:
        return [Size(name) for name in some_of(tuple(Size))(text)]

    parser.add_argument("--sizes", type=sizes, default=list(Size), help="some of S,M,L,XL,XXL, or nothing")
    parser.add_argument("--only", type=some_of(PARTS), default=list(PARTS), help=f"some of {','.join(PARTS)}")
    briefs = tuple(BRIEFS_OF_LIMITS)
    parser.add_argument("--limits", type=some_of(briefs), default=list(briefs), help=f"briefs: {','.join(briefs)}")
    parser.add_argument("--time-limit", type=float, default=300.0, metavar="S", help="seconds for each question")
    parser.add_argument("--profile", action="store_true", help="instead: where our whole set spends its time")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures to this file")
    return parser


def _sizes(sizes: Sequence[Size], time_limit_s: float) -> Iterator[dict[str, Any]]:
    """Measures and prints size by size."""
    print(line(OURS), flush=True)
    for size in sizes:
        asked = case(size)
        about = {"size": size.value, "devices": asked.devices, "feeds": asked.feeds}
        ours = apart(Asking(time_limit_s=time_limit_s), asked, most_s=4 * time_limit_s)
        cells = _cells(ours) if isinstance(ours, Ours) else (ours,)
        print(line(OURS, (*map(str, about.values()), *cells)), flush=True)
        yield {**about, "ours": ours.tree() if isinstance(ours, Ours) else ours}


def _cells(ours: Ours) -> tuple[str, ...]:
    times = (ours.demand.cpu_s, ours.cheapest.clock_s, ours.cheapest.cpu_s, ours.set.clock_s, ours.set.cpu_s)
    return (
        str(len(ours.measures)),
        ours.status.value,
        *(f"{seconds:.2f}" for seconds in times),
        f"{ours.memory_mb:.0f}",
    )


def _limits(sizes: Sequence[str]) -> Iterator[Weighed]:
    """Measures and prints brief by brief what the limits cost."""
    print(line(OF_LIMITS), flush=True)
    for size in sizes:
        name = BRIEFS_OF_LIMITS[size]
        for found in limits_weighed(name, demo_brief(name), demo_catalogue(), demo_house()):
            figures = (str(found.options), f"{found.set_cpu_seconds:.2f}", f"{found.ratio:.2f}")
            print(line(OF_LIMITS, (found.brief, found.asked, *figures)), flush=True)
            yield found


def _show_profile(stats: pstats.Stats) -> None:
    for order in ("cumulative", "tottime"):
        stats.sort_stats(order).print_stats(_LINES_OF_PROFILE)


if __name__ == "__main__":
    sys.exit(main())
