"""Inputs for where the gear comes from."""

import streamlit as st

from planner.projects import Demo, Files, Folder, GearSource
from planner.words import counted
from ui.markup import literal
from ui.widgets.keys import Keys

_DEMO, _FOLDER, _FILES = "The demo catalogue", "A folder or workbook on this machine", "Files kept with the project"
_LARGEST_MB = 20


def gear_source(seed: GearSource, keys: Keys) -> GearSource | None:
    """The source chosen; None while the choice lacks its folder or files."""
    choices = (_DEMO, _FOLDER, _FILES)
    choice = st.radio(
        "Where the gear comes from",
        choices,
        index=choices.index(_choice(seed)),
        key=keys("gear_choice"),
        horizontal=True,
    )
    if choice == _FOLDER:
        path = st.text_input(
            "Folder or workbook",
            seed.path if isinstance(seed, Folder) else "",
            key=keys("gear_path"),
            placeholder="for example D:/gear/spring or D:/gear/spring.xlsx",
            help="A folder of CSV files, or one .xlsx workbook. House settings are in house.toml beside them.",
        )
        return Folder(path.strip()) if path.strip() else None
    if choice == _FILES:
        return _uploaded(keys) or (seed if isinstance(seed, Files) else None)
    return Demo()


def gear_words(source: GearSource) -> str:
    """What gear is in use, in words."""
    match source:
        case Demo():
            return "the demo catalogue"
        case Folder(path):
            return f"the folder or workbook {literal(path)}"
        case Files(files, _):
            return f"{counted(len(files), 'file')} kept with the project"


def _choice(source: GearSource) -> str:
    match source:
        case Demo():
            return _DEMO
        case Folder():
            return _FOLDER
        case Files():
            return _FILES


def _uploaded(keys: Keys) -> Files | None:
    files = st.file_uploader(
        "CSV files, or one .xlsx workbook; house.toml and its logo may be among them",
        accept_multiple_files=True,
        key=keys("gear_files"),
        max_upload_size=_LARGEST_MB,
        help="Without a house.toml the demo's house settings are used.",
    )
    return Files.of((file.name, file.getvalue()) for file in files) if files else None
