"""The command line: which command, with what, and how each way to fail is told.

Exit status: 0 answered, 1 bad input, 2 wrong usage, 3 no valid design, 4 time ran out,
5 a bug of the planner's own; 130 stopped by Ctrl-C, 141 nobody reads the output.
"""

import argparse
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from io import TextIOWrapper

from planner.commands.exit_status import ExitStatus
from planner.errors import BadInput, WrongUsage, bug_report
from planner.tables.layout import printable

PROGRAM = "python -m planner"

# Each is a module of `planner.commands`, which is loaded only where it is the one to run.
_COMMANDS = (
    ("options", "the trade-off set of a brief, and a shortlist from it"),
    ("bass", "the predicted bass at the seats of a brief, for each way of control"),
    ("explain", "price steps, why this gear, what would change it, what conflicts"),
    ("documents", "every paper of one option, for client, supplier, bench and site"),
    ("batch", "many briefs at once, each on its own, with a summary of all rooms"),
    ("check", "whether briefs, catalogues and house settings are sound"),
    ("form", "the same in a browser, on this machine only"),
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command. Returns the exit status; never lets a traceback reach the user."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    _never_fail_on_letters()
    try:
        status = _run(given)
        sys.stdout.flush()
        return status
    except BadInput as error:
        return _bad_input(error)
    except WrongUsage as error:
        return _tell(ExitStatus.WRONG_USAGE, str(error))
    except KeyboardInterrupt:
        return _tell(ExitStatus.STOPPED, "stopped.")
    except BrokenPipeError:
        return _no_reader()
    except Exception as error:  # the one place: a user gets a report to pass on, not a traceback
        return _our_bug(error, given)


def _run(given: list[str]) -> ExitStatus:
    parser = _parser(next((each for each in given if not each.startswith("-")), ""))
    if not given:
        parser.print_help(sys.stderr)
        return ExitStatus.WRONG_USAGE
    try:
        chosen = parser.parse_args(given)
    except SystemExit as exit_:  # argparse has said what is wrong, or has printed the help
        return ExitStatus.ANSWERED if exit_.code == 0 else ExitStatus.WRONG_USAGE
    return ExitStatus(chosen.run(chosen))


def _parser(wanted: str) -> argparse.ArgumentParser:
    """Knows every command, and the arguments of the one that is wanted."""
    parser = argparse.ArgumentParser(
        prog=PROGRAM,
        description="Channel budget and system design for a home theatre at quote stage.",
        epilog="Exit status: 0 answered, 1 bad input, 2 wrong usage, 3 no valid design, 4 time ran out,"
        " 5 a bug of the planner's own.",
        allow_abbrev=False,
    )
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    for name, words in _COMMANDS:
        command = commands.add_parser(
            name, help=words, description=f"{words[0].upper()}{words[1:]}.", allow_abbrev=False
        )
        if name == wanted:
            module = import_module(f"planner.commands.{name}")
            module.add_arguments(command)
            command.set_defaults(run=module.run)
    return parser


def _never_fail_on_letters() -> None:
    """A terminal that lacks a letter shows a stand-in for it, instead of ending the run."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _tell(status: ExitStatus, *lines: str) -> ExitStatus:
    for line in lines:
        print(f"planner: {printable(line)}", file=sys.stderr)
    return status


def _bad_input(error: BadInput) -> ExitStatus:
    from planner.words import counted  # late: it loads the records that words are for

    for fault in error.faults:
        print(printable(str(fault)), file=sys.stderr)
    return _tell(ExitStatus.BAD_INPUT, f"{counted(len(error.faults), 'fault')}; nothing was planned.")


def _no_reader() -> ExitStatus:
    """What reads our output has gone: whatever is still buffered goes nowhere, quietly."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    return ExitStatus.NO_READER


def _our_bug(error: Exception, given: list[str]) -> ExitStatus:
    return _tell(
        ExitStatus.OUR_BUG,
        "this is a bug of the planner's own, not of your files. No result of this run is to be trusted.",
        *bug_report(error),
        f"Please report these lines, with the brief and the catalogue, and the command: {PROGRAM} {' '.join(given)}",
    )
