"""`bass BRIEF`: the predicted bass at the seats for each way of control, printed and as JSON."""

import argparse
import math
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TextIO

from planner.commands.exit_status import ExitStatus
from planner.commands.inputs import read_inputs
from planner.commands.json_file import STANDARD_OUTPUT, json_path, print_json, write_json
from planner.commands.search_arguments import add_brief_arguments

LEAST_HZ, MOST_HZ = 5.0, 300.0
"""Subwoofers play between these at most."""

_BACK_AND_CLEAR = "\r\x1b[K"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares what the command takes."""
    add_brief_arguments(parser)
    parser.add_argument("--json", metavar="FILE", help="also write the result as JSON; - prints nothing but the JSON")
    parser.add_argument(
        "--band", metavar="LOW-HIGH", type=_band, default="20-80", help="frequencies in Hz (default: 20-80)"
    )


def run(arguments: argparse.Namespace) -> ExitStatus:
    """Reads, predicts, prints. Raises BadInput, WrongUsage."""
    path = json_path(arguments.json)
    inputs = read_inputs(arguments.brief, arguments.catalogue, None)
    # Late: a fault above is told before the arrays load.
    from planner.bass import Band, bass_study
    from planner.bass.study_json import study_tree
    from planner.result_json import as_text
    from planner.tables.bass import bass_report

    band = Band(low_hz=arguments.band[0], high_hz=arguments.band[1])
    with _told("predicting the bass", sys.stderr):
        study = bass_study(inputs.brief, inputs.catalogue, band, name=arguments.brief.name)
    text = as_text(study_tree(study, inputs.brief.project))
    if arguments.json == STANDARD_OUTPUT:
        print_json(text)
    else:
        sys.stdout.write(bass_report(study, inputs.brief))
    if path is not None:
        write_json(path, text)
    return ExitStatus.ANSWERED


@contextmanager
def _told(text: str, stream: TextIO) -> Iterator[None]:
    """One line while the work lasts: on a terminal only, quiet when piped."""
    if not stream.isatty():
        yield
        return
    stream.write(text)
    stream.flush()
    try:
        yield
    finally:
        stream.write(_BACK_AND_CLEAR)
        stream.flush()


def _band(text: str) -> tuple[float, float]:
    low_text, _, high_text = text.partition("-")
    try:
        low_hz, high_hz = float(low_text), float(high_text)
    except ValueError:
        low_hz = high_hz = math.nan
    if not LEAST_HZ <= low_hz < high_hz <= MOST_HZ:
        raise argparse.ArgumentTypeError(f"{text!r} is not a band such as 20-80, from {LEAST_HZ:g} to {MOST_HZ:g} Hz")
    return low_hz, high_hz
