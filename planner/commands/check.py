"""`check FILE|DIR …`: are these briefs, catalogues and house settings sound?"""

import argparse
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path

from planner.commands.exit_status import ExitStatus
from planner.commands.inputs import HOUSE_FILE, holds_catalogue
from planner.errors import BadInput, Fault
from planner.tables.layout import printable
from planner.words import counted

_WORKBOOK = ".xlsx"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares what the command takes."""
    parser.add_argument(
        "paths",
        metavar="FILE|DIR",
        type=Path,
        nargs="+",
        help="a brief or house settings (TOML), a catalogue folder or workbook, or a folder of briefs",
    )


def run(arguments: argparse.Namespace) -> ExitStatus:
    """Prints an OK line for each sound input, and one line for each fault."""
    sound = True
    for path in arguments.paths:
        for line, is_sound in _lines(path):
            print(printable(line))
            sound = sound and is_sound
    return ExitStatus.ANSWERED if sound else ExitStatus.BAD_INPUT


def _lines(path: Path) -> Iterator[tuple[str, bool]]:
    """(line to print, whether it tells of something sound) for everything at one path."""
    for part, read in _parts(path):
        try:
            yield f"{part}: OK, {read(part)}", True
        except BadInput as error:
            for fault in error.faults:
                yield str(fault), False


Reader = Callable[[Path], str]


def _parts(path: Path) -> Iterator[tuple[Path, Reader]]:
    """What there is to check at a path, with its reader."""
    if not path.is_dir():
        yield path, _reader(path)
    elif holds_catalogue(path):
        yield path, _catalogue
        if (path / HOUSE_FILE).exists():
            yield path / HOUSE_FILE, _house
    elif found := sorted(path.glob("*.toml")):
        for file in found:
            yield file, _reader(file)
    else:
        yield path, _nothing


def _reader(path: Path) -> Reader:
    if path.suffix.lower() == _WORKBOOK:
        return _catalogue
    return _house if _is_house(path) else _brief


def _is_house(path: Path) -> bool:
    """By what stands in the file, or by its name where it can't be read."""
    try:
        tree = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return path.name == HOUSE_FILE
    return "house" in tree or (not tree and path.name == HOUSE_FILE)


def _brief(path: Path) -> str:
    from planner.brief import read_brief

    brief = read_brief(path)
    return f"brief {brief.project.name!r}, layout {brief.layout}"


def _catalogue(path: Path) -> str:
    from planner.catalogue import read_catalogue

    catalogue = read_catalogue(path)
    offers = sum(len(of_sku) for of_sku in catalogue.offers.values())
    return f"catalogue of {counted(len(catalogue.items()), 'item')} with {counted(offers, 'offer')}"


def _house(path: Path) -> str:
    from planner.house_file import read_house

    house = read_house(path)
    return f"house settings of {house.name!r} in {house.currency}"


def _nothing(path: Path) -> str:
    raise BadInput(
        (
            Fault(
                where=str(path),
                value="a folder with neither CSV nor TOML files",
                expected="a catalogue folder or a folder of briefs",
                remedy="Name the folder that holds them.",
            ),
        )
    )
