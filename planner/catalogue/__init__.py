"""The catalogue: gear, leads and prices, read from and written to CSV files or a workbook.

`records` says what it holds, `schema` how the sheets are laid out.
"""

from planner.catalogue.read import read_catalogue, read_catalogue_bytes
from planner.catalogue.write import catalogue_csv_files, write_catalogue_csv, write_catalogue_xlsx

__all__ = [
    "catalogue_csv_files",
    "read_catalogue",
    "read_catalogue_bytes",
    "write_catalogue_csv",
    "write_catalogue_xlsx",
]
