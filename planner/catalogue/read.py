"""Files to a catalogue: everything is read and checked, and every fault is told at once."""

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from pathlib import Path, PurePath
from typing import Any

from planner.catalogue.cells import nearest
from planner.catalogue.check import flaws as flaws_between_rows
from planner.catalogue.records import Catalogue, Offer, PortGroup
from planner.catalogue.rows import Entries, Flaw, Place, SheetReading, read_sheet
from planner.catalogue.schema import ITEM_SHEETS, SHEETS, Sheet
from planner.catalogue.tables import RawTable, csv_table, file_bytes, refusal
from planner.catalogue.workbook import open_workbook
from planner.errors import BadInput, Fault

_SHEET_NAMES = tuple(sheet.name for sheet in SHEETS)
_A_CATALOGUE = "a folder of CSV files or an .xlsx workbook"

# The name of a file or of a sheet in a workbook, and how to get its table.
_Tables = Mapping[str, Callable[[str], RawTable]]


def read_catalogue(path: Path) -> Catalogue:
    """The catalogue in a folder of CSV files or in one .xlsx workbook.

    Raises BadInput with every fault of every row; files that cannot be taken up at all
    (missing, empty, binary, wrongly encoded, huge) have one fault each.
    """
    try:
        is_folder, exists = path.is_dir(), path.exists()
    except OSError:  # such as a name longer than the file system allows
        is_folder, exists = False, False
    if is_folder:
        return _from_tables(path.name, _folder(path), strangers=False)
    if not exists:
        raise refusal(str(path), "no such file or folder", _A_CATALOGUE, "Check the path.")
    match path.suffix.lower():
        case ".xlsx":
            return _from_workbook(path.name, file_bytes(path))
        case ".csv":
            raise refusal(path.name, "a single CSV file", _A_CATALOGUE, "Name the folder that holds the file.")
    raise refusal(path.name, "a file that is neither CSV nor .xlsx", _A_CATALOGUE, "Save it as an .xlsx workbook.")


_OF_THE_HOUSE = (".toml", ".png", ".jpg", ".jpeg", ".svg")


def read_catalogue_bytes(files: Mapping[str, bytes]) -> Catalogue:
    """The catalogue in files by name: either several CSV files or one .xlsx workbook.

    A file of house settings (.toml) and a logo that it names may be among them and are passed
    over. Raises BadInput as `read_catalogue`.
    """
    named = {PurePath(name.replace("\\", "/")).name: content for name, content in files.items()}
    sheets = {name: content for name, content in named.items() if not name.lower().endswith(_OF_THE_HOUSE)}
    workbooks = [name for name in sheets if name.lower().endswith(".xlsx")]
    if not sheets or (workbooks and len(sheets) > 1):
        found = "a workbook among other files" if sheets else "no files"
        raise refusal("catalogue", found, "either CSV files or one .xlsx workbook", "Choose the files anew.")
    if workbooks:
        return _from_workbook(workbooks[0], sheets[workbooks[0]])
    tables = {name: partial(csv_table, where=name, content=content) for name, content in sheets.items()}
    return _from_tables("catalogue", tables, strangers=True)


def _folder(path: Path) -> _Tables:
    """The CSV files of a folder, still unopened."""
    try:
        files = sorted(f for f in path.iterdir() if f.suffix.lower() == ".csv" and not f.name.startswith("."))
        workbook = next((f.name for f in sorted(path.glob("*.xlsx"))), None)
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise refusal(path.name, f"a folder that cannot be opened ({reason})", _A_CATALOGUE,
                      "Check its permissions.") from None  # fmt: skip
    if not files:
        remedy = f"Name the workbook itself: {workbook}." if workbook else "Check the path."
        raise refusal(path.name, "a folder without CSV files", _A_CATALOGUE, remedy)
    return {file.name: partial(_csv_file, file=file) for file in files}


def _csv_file(sheet: str, file: Path) -> RawTable:
    return csv_table(sheet, file.name, file_bytes(file))


def _from_workbook(name: str, content: bytes) -> Catalogue:
    with open_workbook(name, content) as workbook:
        tables = {title: partial(workbook.table, title=title) for title in workbook.titles}
        return _from_tables(name, tables, strangers=False)


def _from_tables(where: str, tables: _Tables, strangers: bool) -> Catalogue:
    """Reads, checks and puts together. `strangers`: a table that is no sheet is a fault."""
    chosen = _Chosen(where, tables, strangers)
    readings = [_reading(order, sheet, chosen, tables) for order, sheet in enumerate(SHEETS)]
    entries = Entries(readings)
    flaws = [flaw for reading in readings for flaw in reading.flaws]
    flaws += flaws_between_rows(entries)
    if chosen.faults or flaws:
        flaws.sort(key=lambda flaw: flaw.place)
        raise BadInput((*chosen.faults, *(flaw.fault for flaw in flaws)))
    return _assembled(entries)


class _Chosen:
    """Which table is which sheet, by its name in any case, and what is wrong with the names."""

    def __init__(self, where: str, tables: Iterable[str], strangers: bool) -> None:
        self.name_of: dict[str, str] = {}
        self.faults: list[Fault] = []
        self.meant: set[str] = set()
        self.where = where
        sheet_by_name = {name: _sheet_name(name) for name in sorted(tables)}
        for name, sheet in sheet_by_name.items():
            if sheet not in _SHEET_NAMES:
                absent = [s for s in _SHEET_NAMES if s not in sheet_by_name.values()]
                self._stranger(name, nearest(sheet, absent), strangers)
            elif sheet in self.name_of:
                self._add(name, f"a second sheet {sheet} beside {self.name_of[sheet]}", "Remove one of the two.")
            else:
                self.name_of[sheet] = name

    def _stranger(self, name: str, guess: str | None, strangers: bool) -> None:
        if guess:
            self.meant.add(guess)
            self._add(name, "an unknown sheet", f'Did you mean "{guess}"?')
        elif strangers:
            self._add(name, "an unknown sheet", "Leave the file out, or rename it.")

    def _add(self, name: str, value: str, remedy: str) -> None:
        expected = f"one sheet each of {', '.join(_SHEET_NAMES)}"
        self.faults.append(Fault(where=name, value=value, expected=expected, remedy=remedy))


def _sheet_name(name: str) -> str:
    """The sheet that a file or title is named after."""
    plain = name.strip().lower()
    return "_".join(plain.removesuffix(".csv").replace("-", " ").replace("_", " ").split())


def _reading(order: int, sheet: Sheet, chosen: _Chosen, tables: _Tables) -> SheetReading:
    """One sheet read; a table that cannot be taken up, or is missing, is a flaw of its sheet."""
    name = chosen.name_of.get(sheet.name)
    if name is None:
        missing = sheet.required and sheet.name not in chosen.meant
        fault = Fault(
            where=chosen.where,
            value=f"no {sheet.name}",
            expected=f"{sheet.name}.csv, or a sheet {sheet.name} in a workbook",
            remedy="Add it; a header row alone will do where there is nothing to list.",
        )
        flaws = (Flaw(Place(order, 0, chosen.where), fault),) if missing else ()
        return SheetReading(sheet, flaws=flaws, named=not missing and sheet.name not in chosen.meant)
    try:
        table = tables[name](sheet.name)
    except BadInput as error:
        place = Place(order, 0, name)
        return SheetReading(sheet, flaws=tuple(Flaw(place, fault) for fault in error.faults), named=False)
    return read_sheet(sheet, order, table)


def _assembled(entries: Entries) -> Catalogue:
    """The catalogue in its own order, which is not that of the rows."""
    items: dict[str, Any] = {
        sheet.name: tuple(sorted((e.record for e in entries.of(sheet.record)), key=lambda item: item.sku))
        for sheet in ITEM_SHEETS
    }
    ports: dict[str, list[PortGroup]] = {}
    for port in sorted((e.record for e in entries.of(PortGroup)), key=lambda p: (p.device, p.direction, p.name)):
        ports.setdefault(port.device, []).append(port)
    offers: dict[str, list[Offer]] = {}
    for offer in sorted((e.record for e in entries.of(Offer)), key=lambda o: (o.sku, o.supplier, o.currency, o.price)):
        offers.setdefault(offer.sku, []).append(offer)
    return Catalogue(
        **items,
        ports={device: tuple(groups) for device, groups in ports.items()},
        offers={sku: tuple(prices) for sku, prices in offers.items()},
    )
