"""`explain BRIEF`: why the answer is what it is, printed and as JSON."""

import argparse
import sys
from decimal import Decimal, InvalidOperation
from pathlib import Path

from planner.commands.exit_status import ExitStatus
from planner.commands.inputs import catalogue_near, read_inputs
from planner.commands.json_file import STANDARD_OUTPUT, json_path, print_json, write_json
from planner.commands.progress import terminal_progress
from planner.commands.search_arguments import add_search_arguments
from planner.options import Status


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares what the command takes."""
    add_search_arguments(parser)
    parser.add_argument("--json", metavar="FILE", help="also write the result as JSON; - prints nothing but the JSON")
    parser.add_argument("--option", metavar="ID", help="the option to explain (default: the cheapest)")
    parser.add_argument(
        "--compare",
        metavar="ID",
        nargs="+",
        default=(),
        help="two to four options to compare, the first with the others",
    )
    parser.add_argument(
        "--band",
        metavar="NAME=LOW..HIGH",
        type=_band,
        action="append",
        default=[],
        help="percent by which a currency's rate or a supplier's prices may move, such as USD=-5..5; may be repeated"
        " (default: what most of the money hangs on)",
    )
    parser.add_argument(
        "--discount",
        metavar="PERCENT",
        type=_percent,
        default=None,
        help="by how much a year money paid later counts for less (default: 3)",
    )
    parser.add_argument(
        "--room",
        metavar="BRIEF",
        type=Path,
        action="append",
        default=[],
        help="the brief of another room bought in the same order; may be repeated",
    )


def run(arguments: argparse.Namespace) -> ExitStatus:
    """Reads, plans, explains, prints. Raises BadInput, WrongUsage, PlannerBug."""
    path = json_path(arguments.json)
    inputs = read_inputs(arguments.brief, arguments.catalogue, arguments.house)
    rooms = [
        read_inputs(room, arguments.catalogue or catalogue_near(arguments.brief), arguments.house).brief
        for room in arguments.room
    ]
    # Late: a fault above is told before the solver loads.
    from planner.explain.as_json import explanation_tree
    from planner.explain.explanation import Wishes, explain
    from planner.explain.report import explain_report
    from planner.explain.stages import USUAL_DISCOUNT_PERCENT
    from planner.result_json import as_text

    with terminal_progress(sys.stderr) as progress:
        found = explain(
            inputs.brief,
            inputs.catalogue,
            inputs.house,
            Wishes(
                option_id=arguments.option,
                compare=tuple(arguments.compare),
                bands=tuple(arguments.band),
                discount_percent=USUAL_DISCOUNT_PERCENT if arguments.discount is None else arguments.discount,
                rooms=tuple(rooms),
            ),
            time_limit_s=arguments.time_limit,
            progress=progress,
        )
    text = as_text(explanation_tree(found, inputs.brief, inputs.catalogue))
    if arguments.json == STANDARD_OUTPUT:
        print_json(text)
    else:
        sys.stdout.write(explain_report(found, inputs.brief, inputs.catalogue))
    if path is not None:
        write_json(path, text)
    if found.result.status is Status.INFEASIBLE:
        return ExitStatus.NO_DESIGN
    return ExitStatus.OUT_OF_TIME if found.unsettled else ExitStatus.ANSWERED


def _band(text: str) -> tuple[str, Decimal, Decimal]:
    name, _, span = text.rpartition("=")
    low_text, _, high_text = span.partition("..")
    try:
        low, high = Decimal(low_text), Decimal(high_text)
    except InvalidOperation:
        low = high = Decimal("NaN")
    if not name or not (low.is_finite() and high.is_finite()) or not -100 < low <= high <= 1000:
        raise argparse.ArgumentTypeError(f"{text!r} is not a band such as USD=-5..5, in percent above -100")
    return name, low, high


def _percent(text: str) -> Decimal:
    try:
        percent = Decimal(text)
    except InvalidOperation:
        percent = Decimal("NaN")
    if not percent.is_finite() or not 0 <= percent <= 1000:
        raise argparse.ArgumentTypeError(f"{text!r} is not a percentage from 0 to 1000")
    return percent
