"""From the source of a project's gear to catalogue and house settings, or what is wrong with them."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from errno import ENOENT
from hashlib import sha256
from pathlib import Path, PurePath
from typing import TypeVar

import streamlit as st

from planner.catalogue import catalogue_csv_files, read_catalogue, read_catalogue_bytes
from planner.catalogue.records import Catalogue
from planner.errors import BadInput, Fault
from planner.house import House
from planner.house_file import HOUSE_FILE, OpenBeside, read_house, read_house_bytes, write_house
from planner.projects import Demo, Files, Folder, GearSource

DEMO_FOLDER = Path(__file__).resolve().parent.parent / "catalogue_demo"

Read = TypeVar("Read")


@dataclass(frozen=True, kw_only=True, slots=True)
class Gear:
    """A catalogue and the house settings that go with it; `key` stands for the content of both."""

    catalogue: Catalogue
    house: House
    key: str


@dataclass(frozen=True, slots=True)
class Unfit:
    """Gear that cannot be used: what is wrong with its files."""

    faults: tuple[Fault, ...]


def read_gear(source: GearSource) -> Gear | Unfit:
    """The gear of a source; files that have not changed are not read again.

    House settings are those beside the catalogue or among the uploaded files; an upload
    without them takes the demo's.
    """
    match source:
        case Demo():
            return _read_folder(str(DEMO_FOLDER), _stamp(DEMO_FOLDER))
        case Folder(path):
            return _read_folder(path, _stamp(Path(path)))
        case Files(files, digest):
            return _read_files(digest, files)


def own_files(catalogue: Catalogue, house: House) -> Files:
    """A catalogue of the project's own, with its house settings, as files that read back as the same."""
    texts = {**catalogue_csv_files(catalogue), HOUSE_FILE: write_house(house)}
    logo = house.stationery.logo
    pictures = [] if logo is None else [(_file_name(logo.file), logo.content)]
    return Files.of([*((name, text.encode()) for name, text in texts.items()), *pictures])


@st.cache_resource(max_entries=8, show_spinner="Reading the gear …")
def _read_folder(path: str, stamp: tuple[tuple[str, int, int], ...]) -> Gear | Unfit:
    """`stamp` is there for the cache: it changes when a file does."""
    return _together(lambda: read_catalogue(Path(path)), lambda: read_house(_house_file(Path(path))))


def _house_file(catalogue: Path) -> Path:
    """House settings lie in the catalogue's folder, or beside its workbook."""
    return (catalogue if catalogue.is_dir() else catalogue.parent) / HOUSE_FILE


@st.cache_resource(max_entries=8, show_spinner="Reading the gear …")
def _read_files(digest: str, _files: tuple[tuple[str, bytes], ...]) -> Gear | Unfit:
    """The files themselves are left out of the cache's key; `digest` stands for them."""
    content_by_name = dict(_files)
    house = next((content for name, content in _files if name.lower().endswith(".toml")), None)
    return _together(
        lambda: read_catalogue_bytes(content_by_name),
        lambda: read_house(DEMO_FOLDER) if house is None else read_house_bytes(house, beside=_among(content_by_name)),
    )


def _among(content_by_name: Mapping[str, bytes]) -> OpenBeside:
    """Opens a file that the settings name, such as a logo, among those that came with them."""

    by_file_name = {_file_name(name): content for name, content in content_by_name.items()}

    def read(name: str) -> bytes:
        if _file_name(name) not in by_file_name:
            raise FileNotFoundError(ENOENT, "no such file among those given")
        return by_file_name[_file_name(name)]

    return read


def _file_name(path: str) -> str:
    return PurePath(path.replace("\\", "/")).name


def _together(catalogue: Callable[[], Catalogue], house: Callable[[], House]) -> Gear | Unfit:
    """Reads both, so that the faults of both come at once."""
    faults: list[Fault] = []
    the_catalogue, the_house = _attempt(catalogue, faults), _attempt(house, faults)
    if the_catalogue is None or the_house is None:
        return Unfit(tuple(faults))
    content = repr((the_catalogue, the_house))  # frozen records: the same content, the same text
    return Gear(catalogue=the_catalogue, house=the_house, key=sha256(content.encode()).hexdigest())


def _attempt(read: Callable[[], Read], faults: list[Fault]) -> Read | None:
    try:
        return read()
    except BadInput as error:
        faults.extend(error.faults)
    except OSError as error:  # such as a path longer than the system takes
        reason = error.strerror or type(error).__name__
        faults.append(Fault(where="path", value=reason.lower(), expected="a folder", remedy="Check the path."))
    return None


def _stamp(path: Path) -> tuple[tuple[str, int, int], ...]:
    """Name, size and time of change of every file of a folder; empty where there is none to see."""
    try:
        files = sorted(path.iterdir()) if path.is_dir() else [path]
        return tuple((file.name, file.stat().st_size, file.stat().st_mtime_ns) for file in files)
    except (OSError, ValueError):
        return ()
