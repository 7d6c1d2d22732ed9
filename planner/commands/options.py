"""`options BRIEF`: the trade-off set and the shortlist, printed and as JSON."""

import argparse
import sys

from planner.commands.exit_status import ExitStatus
from planner.commands.inputs import Inputs, read_inputs
from planner.commands.json_file import STANDARD_OUTPUT, json_path, print_json, write_json
from planner.commands.progress import terminal_progress
from planner.commands.search_arguments import add_search_arguments
from planner.errors import WrongUsage
from planner.options import Option, Result, Status

_EXIT_STATUS = {
    Status.PROVEN: ExitStatus.ANSWERED,
    Status.INFEASIBLE: ExitStatus.NO_DESIGN,
    Status.PARTIAL: ExitStatus.OUT_OF_TIME,
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares what the command takes."""
    add_search_arguments(parser)
    parser.add_argument("--json", metavar="FILE", help="also write the result as JSON; - prints nothing but the JSON")
    parser.add_argument("--option", metavar="ID", help="the option to print in full (default: the cheapest)")


def run(arguments: argparse.Namespace) -> ExitStatus:
    """Reads, plans, prints. Raises BadInput, WrongUsage, PlannerBug."""
    path = json_path(arguments.json)
    inputs = read_inputs(arguments.brief, arguments.catalogue, arguments.house)
    from planner import answer  # late: a fault above is told before the rest loads

    quiet = arguments.json == STANDARD_OUTPUT
    asked = (inputs.brief, inputs.catalogue, inputs.house)
    with terminal_progress(sys.stderr) as progress:
        result = answer.options(*asked, time_limit_s=arguments.time_limit, progress=progress)
    detailed = _chosen(result, arguments.option)
    if not quiet:
        _print_report(result, inputs, detailed)
    if result.status is Status.INFEASIBLE:
        with terminal_progress(sys.stderr) as progress:
            result = answer.with_relaxations(result, *asked, time_limit_s=arguments.time_limit, progress=progress)
        if not quiet:
            _print_mending(result)
    if quiet:
        print_json(_json_text(result, inputs))
    if path is not None:
        write_json(path, _json_text(result, inputs))
    return _EXIT_STATUS[result.status]


def _print_report(result: Result, inputs: Inputs, detailed: Option | None) -> None:
    from planner.tables.report import options_report  # late: not needed for JSON alone

    sys.stdout.write(options_report(result, inputs.brief, inputs.catalogue, inputs.house, detailed))
    sys.stdout.flush()  # what cannot hold together is read while what would mend it is looked for


def _print_mending(result: Result) -> None:
    from planner.tables.report import mending_report

    sys.stdout.write(mending_report(result))


def _json_text(result: Result, inputs: Inputs) -> str:
    from planner.result_json import as_text, result_tree  # late: it loads all figures of an option

    return as_text(result_tree(result, inputs.brief, inputs.catalogue))


def _chosen(result: Result, option_id: str | None) -> Option | None:
    """The option to print in full: the one named, else the cheapest, else none."""
    if option_id is None or not result.options:
        return result.options[0] if result.options else None
    for option in result.options:
        if option.id == option_id:
            return option
    known = ", ".join(option.id for option in result.options)
    raise WrongUsage(f"no option {option_id}. The options are {known}.")
