"""A workbook recalculated by an independent formula engine, the library `formulas`."""

import io
from collections.abc import Mapping
from pathlib import Path

import formulas
import openpyxl

Cells = Mapping[tuple[str, str], float | str]


def recalculated(content: bytes, folder: Path, typed: Mapping[tuple[str, str], float] | None = None) -> Cells:
    """Every cell by (sheet, address) as the engine finds it, after other figures are typed into some.

    The values that the file carries beside its formulas are thrown away first.
    """
    book = openpyxl.load_workbook(io.BytesIO(content))
    for (sheet, address), value in (typed or {}).items():
        book[sheet][address] = value
    path = folder / "book.xlsx"
    book.save(path)  # openpyxl keeps formulas without the values beside them
    names = {name.upper(): name for name in book.sheetnames}
    found: dict[tuple[str, str], float | str] = {}
    for key, value in formulas.ExcelModel().loads(str(path)).finish().calculate().items():
        where, _, address = str(key).rpartition("!")
        if ":" not in address and hasattr(value, "value"):
            found[names[where.strip("'").partition("]")[2]], address] = plain(value.value[0, 0])
    return found


def plain(value: object) -> float | str:
    """A cell's value without the engine's own types."""
    return value if isinstance(value, str) else float(str(value))
