"""`check FILE|DIR …`: are these briefs, catalogues and house settings sound?"""

import argparse
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from planner.brief import read_brief
from planner.brief.against import brief_faults
from planner.catalogue import read_catalogue
from planner.catalogue.records import Catalogue
from planner.commands.exit_status import ExitStatus
from planner.commands.inputs import HOUSE_FILE, catalogue_near, holds_catalogue, house_near, is_house
from planner.errors import BadInput, Fault, WrongUsage
from planner.house import House
from planner.house_file import read_house
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
    return _house if is_house(path) else _brief


def _brief(path: Path) -> str:
    brief = read_brief(path)
    words = f"brief {brief.project.name!r}, layout {brief.layout}"
    try:
        folder = catalogue_near(path)
        catalogue, house = _catalogue_and_house(folder)
    except (WrongUsage, BadInput):  # the catalogue has a line of its own, where it is to be checked
        return f"{words}; not held against a catalogue"
    if faults := brief_faults(brief, catalogue, house, path.name):
        raise BadInput(faults)
    return f"{words}; held against {folder.name}"


@cache
def _catalogue_and_house(folder: Path) -> tuple[Catalogue, House]:
    """Read once for all the briefs that lie under it."""
    return read_catalogue(folder), read_house(house_near(folder))


def _catalogue(path: Path) -> str:
    catalogue = read_catalogue(path)
    offers = sum(len(of_sku) for of_sku in catalogue.offers.values())
    return f"catalogue of {counted(len(catalogue.items()), 'item')} with {counted(offers, 'offer')}"


def _house(path: Path) -> str:
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
