"""`batch DIR --out DIR`: every brief of a folder, each on its own, and a summary over all of them."""

import argparse
import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from planner.commands.exit_status import ExitStatus
from planner.commands.inputs import catalogue_near, house_near, is_house, read_catalogue_and_house
from planner.commands.progress import terminal_line
from planner.commands.search_arguments import add_catalogue_argument, add_house_and_time_arguments
from planner.errors import WrongUsage
from planner.words import counted

if TYPE_CHECKING:
    from planner.batch.answering import Answering
    from planner.batch.rooms import Room
    from planner.batch.run import Engine, Tally
    from planner.batch.store import Store

_MOST_PROCESSES = 256


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares what the command takes."""
    parser.add_argument("briefs", metavar="DIR", type=Path, help="the folder of briefs, TOML files")
    parser.add_argument(
        "--out",
        metavar="DIR",
        type=Path,
        required=True,
        help="the folder for the results; one that an earlier batch filled is gone on with",
    )
    add_catalogue_argument(parser, "the folder above that of the briefs")
    add_house_and_time_arguments(parser)
    where = parser.add_mutually_exclusive_group()
    where.add_argument(
        "--processes", metavar="N", type=_count, help="briefs to work on at a time (default: one for each core)"
    )
    where.add_argument(
        "--cluster", metavar="ADDRESS", help="work on a dask.distributed cluster, named by its scheduler's address"
    )


def run(arguments: argparse.Namespace) -> ExitStatus:
    """Reads, plans every brief, tells of each. Raises BadInput for what all briefs share, WrongUsage."""
    briefs = _briefs(arguments.briefs)
    catalogue_path = arguments.catalogue or catalogue_near(briefs[0])
    house_path = arguments.house or house_near(catalogue_path)
    from planner.batch.answering import Answering  # late: a fault above is told before the rest loads
    from planner.batch.keys import shared_key
    from planner.batch.report import batch_report
    from planner.batch.store import Store

    shared = shared_key(catalogue_path, house_path)
    catalogue, house = read_catalogue_and_house(catalogue_path, house_path)
    answering = Answering(catalogue=catalogue, house=house, shared=shared, time_limit_s=arguments.time_limit)
    with Store(arguments.out).opened() as store:
        rooms = _rooms(briefs, answering, store, _engine(arguments))
    sys.stdout.write(batch_report(rooms, arguments.out))
    return _status(rooms)


def _briefs(folder: Path) -> list[Path]:
    """The briefs of a folder by name. Raises WrongUsage where there are none."""
    if not folder.is_dir():
        raise WrongUsage(f"{folder} is no folder. Name the folder that holds the briefs.")
    files = (path for path in folder.glob("*.toml") if path.is_file() and not path.name.startswith("."))
    briefs = sorted(path for path in files if not is_house(path))
    if not briefs:
        raise WrongUsage(f"{folder} holds no brief, a file that ends in .toml. Name the folder that holds the briefs.")
    return briefs


def _engine(arguments: argparse.Namespace) -> "Engine":
    """Many machines where a cluster is named, else processes on this one."""
    if arguments.cluster is not None:
        from planner.batch.cluster import worked_on_cluster

        return partial(worked_on_cluster, address=arguments.cluster)
    from planner.batch.processes import usable_cores, worked

    return partial(worked, processes=arguments.processes or usable_cores())


def _rooms(briefs: Sequence[Path], answering: "Answering", store: "Store", engine: "Engine") -> "tuple[Room, ...]":
    from planner.batch.run import run_batch

    with terminal_line(sys.stderr) as show:
        return run_batch(
            briefs,
            answering,
            store,
            engine=engine,
            progress=lambda tally: show(_tally_words(tally)) if show else None,
        )


def _tally_words(tally: "Tally") -> str:
    kept = f", {tally.kept} from an earlier run" if tally.kept else ""
    unanswered = f", {tally.unanswered} without a design" if tally.unanswered else ""
    return f"{tally.done} of {counted(tally.of, 'brief')} done{kept}{unanswered}"


def _status(rooms: "Sequence[Room]") -> ExitStatus:
    """0 where every brief has a proven answer, else the gravest that occurred."""
    from planner.batch.records import Outcome

    gravest_first = {
        Outcome.BUG: ExitStatus.OUR_BUG,
        Outcome.BAD_INPUT: ExitStatus.BAD_INPUT,
        Outcome.INFEASIBLE: ExitStatus.NO_DESIGN,
        Outcome.OVERDUE: ExitStatus.OUT_OF_TIME,
        Outcome.PARTIAL: ExitStatus.OUT_OF_TIME,
    }
    occurred = {room.outcome for room in rooms}
    return next((status for outcome, status in gravest_first.items() if outcome in occurred), ExitStatus.ANSWERED)


def _count(text: str) -> int:
    try:
        count = int(text)
    except ValueError:
        count = 0
    if not 1 <= count <= _MOST_PROCESSES:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from 1 to {_MOST_PROCESSES}")
    return count
