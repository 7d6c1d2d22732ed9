"""Inputs for where the gear comes from."""

from hashlib import sha256

import streamlit as st

from ui.gear import DEMO, Folder, Source, Upload

_DEMO, _FOLDER, _UPLOAD = "The demo catalogue", "A folder or workbook on this machine", "Files from this computer"
_LARGEST_MB = 20


def gear_source() -> Source | None:
    """The source chosen; None while the choice lacks its folder or files."""
    choice = st.radio("Where the gear comes from", (_DEMO, _FOLDER, _UPLOAD), key="gear_choice", horizontal=True)
    if choice == _FOLDER:
        path = st.text_input(
            "Folder or workbook",
            key="gear_path",
            placeholder="for example D:/gear/spring or D:/gear/spring.xlsx",
            help="A folder of CSV files, or one .xlsx workbook. House settings are in house.toml beside them.",
        )
        return Folder(path.strip()) if path.strip() else None
    if choice == _UPLOAD:
        return _uploaded()
    return DEMO


def _uploaded() -> Source | None:
    files = st.file_uploader(
        "CSV files, or one .xlsx workbook; house.toml may be among them",
        accept_multiple_files=True,
        key="gear_files",
        max_upload_size=_LARGEST_MB,
        help="Without a house.toml the demo's house settings are used.",
    )
    if not files:
        return None
    token = sha256("".join(sorted(file.file_id for file in files)).encode()).hexdigest()
    return Upload(files=tuple((file.name, file.getvalue()) for file in files), token=token)
