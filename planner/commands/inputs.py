"""The three inputs of a run, read together so that the faults of all come at once."""

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from planner.brief import read_brief
from planner.brief.against import brief_faults
from planner.brief.records import Brief
from planner.catalogue import read_catalogue
from planner.catalogue.records import Catalogue
from planner.errors import BadInput, Fault, WrongUsage
from planner.house import House
from planner.house_file import read_house

HOUSE_FILE = "house.toml"

Record = TypeVar("Record")


@dataclass(frozen=True, kw_only=True, slots=True)
class Inputs:
    """What a run works on."""

    brief: Brief
    catalogue: Catalogue
    house: House


def read_inputs(brief: Path, catalogue: Path | None, house: Path | None) -> Inputs:
    """Brief, catalogue and house settings; the last two found near the brief where not named.

    Raises BadInput with the faults of all three, WrongUsage where no catalogue is found.
    """
    catalogue = catalogue or catalogue_near(brief)
    house = house or house_near(catalogue)
    faults: list[Fault] = []
    the_brief = _read(read_brief, brief, faults)
    the_catalogue = _read(read_catalogue, catalogue, faults)
    the_house = _read(read_house, house, faults)
    if the_brief is not None and the_catalogue is not None:
        faults.extend(brief_faults(the_brief, the_catalogue, the_house, brief.name))
    if faults or the_brief is None or the_catalogue is None or the_house is None:
        raise BadInput(tuple(faults))
    return Inputs(brief=the_brief, catalogue=the_catalogue, house=the_house)


def read_catalogue_and_house(catalogue: Path, house: Path) -> tuple[Catalogue, House]:
    """What many briefs share. Raises BadInput with the faults of both."""
    faults: list[Fault] = []
    the_catalogue = _read(read_catalogue, catalogue, faults)
    the_house = _read(read_house, house, faults)
    if the_catalogue is None or the_house is None:
        raise BadInput(tuple(faults))
    return the_catalogue, the_house


def catalogue_near(brief: Path) -> Path:
    """The catalogue folder that a brief in CATALOGUE/briefs/ belongs to. Raises WrongUsage."""
    folder = brief.resolve().parent.parent
    if not holds_catalogue(folder):
        raise WrongUsage(
            f"no catalogue is named, and none lies two folders above {brief}. Name one with --catalogue DIR."
        )
    return folder


def holds_catalogue(folder: Path) -> bool:
    """Whether a folder has CSV files, as a catalogue folder does."""
    return any(folder.glob("*.[cC][sS][vV]"))


def house_near(catalogue: Path) -> Path:
    """The house settings that belong to a catalogue: in its folder, or beside its workbook."""
    return (catalogue if catalogue.is_dir() else catalogue.parent) / HOUSE_FILE


def is_house(path: Path) -> bool:
    """Whether a TOML file holds house settings: by what stands in it, or by its name where it can't be read."""
    try:
        tree = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return path.name == HOUSE_FILE
    return "house" in tree or (not tree and path.name == HOUSE_FILE)


def _read(read: Callable[[Path], Record], path: Path, faults: list[Fault]) -> Record | None:
    try:
        return read(path)
    except BadInput as error:
        faults.extend(error.faults)
        return None
