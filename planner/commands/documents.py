"""`documents BRIEF --option ID --out DIR`: every paper of one option, in a folder of its own."""

import argparse
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from planner.commands.exit_status import ExitStatus
from planner.commands.inputs import Inputs, read_inputs
from planner.commands.progress import terminal_line, terminal_progress
from planner.commands.search_arguments import add_search_arguments
from planner.errors import WrongUsage
from planner.options import Result, Status

if TYPE_CHECKING:
    from planner.documents.why_told import WhyTold


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares what the command takes."""
    add_search_arguments(parser)
    parser.add_argument("--out", metavar="DIR", type=Path, required=True, help="the folder to make for the papers")
    parser.add_argument("--option", metavar="ID", help="the option to write papers of (default: the cheapest)")
    parser.add_argument(
        "--beside",
        metavar="ID[,ID]",
        help="the options next to it in the proposal (default: what the shortlist names, four in all at most)",
    )
    parser.add_argument(
        "--one-more",
        action="store_true",
        help="also tell what one more loudspeaker, subwoofer or output would cost; searching for that takes time",
    )
    parser.add_argument(
        "--why",
        action="store_true",
        help="also put into the workbook all that `explain` tells of the option; takes as long as that",
    )
    parser.add_argument("--replace", action="store_true", help="put the papers in place of an earlier set in DIR")


def run(arguments: argparse.Namespace) -> ExitStatus:
    """Reads, plans, writes. Raises BadInput, WrongUsage, PlannerBug."""
    inputs = read_inputs(arguments.brief, arguments.catalogue, arguments.house)
    from planner.documents.folder import refuse_folder  # late: a fault above is told before the rest loads
    from planner.documents.papers import PAPER_WORDS

    refuse_folder(arguments.out, replace=arguments.replace, ours=PAPER_WORDS)
    started = time.monotonic()
    result = _searched(inputs, arguments.time_limit)
    if result.status is Status.INFEASIBLE:
        _tell("no valid design exists for this brief and this catalogue, so there are no papers to write.")
        for sentence in result.conflict:
            _tell(f"cannot hold together: {sentence}")
        return ExitStatus.NO_DESIGN
    if not result.options:
        _tell("time ran out before an option was found, so there are no papers to write. Allow more with --time-limit.")
        return ExitStatus.OUT_OF_TIME
    left_s = arguments.time_limit - (time.monotonic() - started)
    why = _asked(result, inputs, arguments, left_s)
    _write(result, inputs, arguments, why)
    if result.status is Status.PARTIAL:
        _tell("time ran out before the options were proven: there may be cheaper ones, and others.")
    for sentence in why.unsettled:
        _tell(sentence)
    return ExitStatus.OUT_OF_TIME if result.status is Status.PARTIAL or why.unsettled else ExitStatus.ANSWERED


def _searched(inputs: Inputs, time_limit_s: float) -> Result:
    from planner.answer import options  # the papers of what `options` has told need no second search

    with terminal_progress(sys.stderr) as progress:
        return options(inputs.brief, inputs.catalogue, inputs.house, time_limit_s=time_limit_s, progress=progress)


def _asked(result: Result, inputs: Inputs, arguments: argparse.Namespace, seconds: float) -> "WhyTold":
    from planner.documents.why_told import NOTHING_ASKED

    if arguments.why:
        return _why(result, inputs, arguments.option, seconds)
    return _one_more(result, inputs, seconds) if arguments.one_more else NOTHING_ASKED


def _why(result: Result, inputs: Inputs, option_id: str | None, seconds: float) -> "WhyTold":
    """All that there is to explain of the option. Raises WrongUsage where there is no such option."""
    from planner.comparison.gear import names
    from planner.explain.explanation import Wishes, explained
    from planner.explain.for_papers import why_told

    with terminal_progress(sys.stderr) as progress:
        found = explained(
            result,
            inputs.brief,
            inputs.catalogue,
            inputs.house,
            Wishes(option_id=option_id),
            time_limit_s=seconds,
            progress=progress or (lambda _: None),
        )
    return why_told(found, names(inputs.catalogue))


def _one_more(result: Result, inputs: Inputs, seconds: float) -> "WhyTold":
    """What a little more of each thing would cost."""
    from planner.explain.clock import Clock
    from planner.explain.for_papers import one_more_told
    from planner.explain.price_steps import price_steps

    with terminal_line(sys.stderr) as show:
        clock = Clock.of(seconds, show)
        steps = price_steps(
            inputs.brief, inputs.catalogue, inputs.house, clock, result.held, result.options, nearest=True
        )
    return one_more_told(steps, inputs.brief.project.currency)


def _write(result: Result, inputs: Inputs, arguments: argparse.Namespace, why: "WhyTold") -> None:
    from planner.documents.folder import write_folder
    from planner.documents.job import job_of
    from planner.documents.papers import PAPER_WORDS, papers

    beside = None if arguments.beside is None else [each.strip() for each in arguments.beside.split(",")]
    job = job_of(
        arguments.option,
        result,
        brief=inputs.brief,
        catalogue=inputs.catalogue,
        house=inputs.house,
        beside=beside,
        why=why,
    )
    written = papers(job)
    try:
        write_folder(arguments.out, written)
    except OSError as error:
        raise WrongUsage(f"cannot write papers to {arguments.out}: {error.strerror}.") from error
    print(f"Papers of option {job.option.id} in {arguments.out}:")
    for paper in written:
        print(f"  {paper.name:20} {PAPER_WORDS[paper.name]}")


def _tell(text: str) -> None:
    print(f"planner: {text}", file=sys.stderr)
