"""Times the papers of each demo brief, apart from the search for its options.

    python -m tests.benchmarks.papers

Prints a line a brief. Never a test: times depend on the machine.
"""

import sys
import time
from collections.abc import Iterable

from planner.documents.job import job_of
from planner.documents.papers import papers
from tests.plan.demo import NAMES, demo_brief, demo_catalogue, demo_house, demo_result


def main(names: Iterable[str] = NAMES) -> int:
    """Writes the papers of the dearest option of each brief that has one."""
    for name in names:
        result = demo_result(name)
        if not result.options:
            continue
        started, cpu = time.perf_counter(), time.process_time()
        job = job_of(
            result.options[-1].id, result, brief=demo_brief(name), catalogue=demo_catalogue(), house=demo_house()
        )
        size = sum(len(paper.content) for paper in papers(job))
        print(
            f"{name:32} search {result.seconds:5.2f} s  papers {time.perf_counter() - started:5.2f} s"
            f"  CPU {time.process_time() - cpu:5.2f} s  {size / 1000:6.0f} kB",
            flush=True,
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
