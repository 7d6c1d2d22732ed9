"""The arguments that commands share: a brief with its catalogue, and for a search the house and the time."""

import argparse
import math
from pathlib import Path


def add_brief_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares `brief` and `catalogue`."""
    parser.add_argument("brief", metavar="BRIEF", type=Path, help="the brief, a TOML file")
    add_catalogue_argument(parser, "two folders above the brief")


def add_catalogue_argument(parser: argparse.ArgumentParser, otherwise: str) -> None:
    """Declares `catalogue`; `otherwise` says what is taken where none is named."""
    parser.add_argument(
        "--catalogue", metavar="DIR", type=Path, help=f"catalogue folder or workbook (default: {otherwise})"
    )


def add_search_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares `brief`, `catalogue`, `house` and `time_limit`."""
    add_brief_arguments(parser)
    add_house_and_time_arguments(parser)


def add_house_and_time_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares `house` and `time_limit`."""
    parser.add_argument(
        "--house", metavar="FILE", type=Path, help="house settings (default: house.toml of the catalogue)"
    )
    parser.add_argument(
        "--time-limit", metavar="S", type=_seconds, default=60.0, help="seconds to search at most (default: 60)"
    )


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = math.nan
    if not (math.isfinite(seconds) and seconds > 0):
        raise argparse.ArgumentTypeError(f"{text!r} is not a number of seconds above zero")
    return seconds
