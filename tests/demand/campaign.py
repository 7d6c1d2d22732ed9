"""A long comparison of the reduced model with each unreduced one, for developers.

    python -m tests.demand.campaign 0 200

Prints one line a problem: how many options it has, and which reductions take something away;
then one line for each reduction after which the answer differs. Ends with the number of
problems compared.
"""

import argparse

import pytest

from planner.demand.build import build_demand
from tests.demand.random_shops import Problem, problem
from tests.demand.reductions import REDUCTIONS
from tests.demand.shop import HOUSE


def sizes(found: Problem) -> dict[str, int]:
    """The size of what each reduction may make smaller."""
    demand = build_demand(found.brief, found.catalogue, HOUSE)
    return {name: reduction.size(demand) for name, reduction in REDUCTIONS.items()}


def compare(seed: int) -> None:
    """One problem against all its unreduced models."""
    found = problem(seed)
    expected, reduced = found.answer(), sizes(found)
    biting = []
    for name, reduction in REDUCTIONS.items():
        with pytest.MonkeyPatch.context() as patch:
            reduction.undo(patch)
            if sizes(found)[name] == reduced[name]:
                continue
            biting.append(name)
            answer = found.answer()
        if answer != expected:
            print(f"{seed}: without the reduction of {name} {sorted(answer ^ expected)}", flush=True)
    print(f"{seed}: {len(expected)} options; {', '.join(biting)}", flush=True)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("first", type=int)
    parser.add_argument("last", type=int)
    wanted = parser.parse_args()
    for seed in range(wanted.first, wanted.last):
        compare(seed)
    print(f"{wanted.last - wanted.first} problems compared")


if __name__ == "__main__":
    main()
