"""A brief as text that keeps it whole even while it is not sound.

A sound brief is kept as the TOML file that people and the command read. What is still being
typed may hold what no brief's file may, such as a room of 0.2 m or an empty cell, so the records
are kept beside it as JSON, cell for cell.
"""

import json
from functools import cache
from typing import TYPE_CHECKING

from planner.brief import parse_brief, write_brief
from planner.brief.records import Brief
from planner.errors import BadInput

if TYPE_CHECKING:
    from pydantic import TypeAdapter


def write_draft(brief: Brief) -> tuple[str, str]:
    """The TOML text of a brief, and its records as JSON."""
    return write_brief(brief), json.dumps(_records().dump_python(brief, mode="json"))


def read_draft(toml: str, records: str) -> Brief:
    """The brief of these two texts: of the TOML where that is sound, else of the records.

    Raises BadInput with the faults of the TOML where neither can be read, such as after an
    entry has been given another name.
    """
    try:
        return parse_brief(toml)
    except BadInput:
        try:
            return _records().validate_python(json.loads(records))
        except ValueError:  # of JSON, and of pydantic
            pass
        raise


@cache
def _records() -> "TypeAdapter[Brief]":
    from pydantic import TypeAdapter  # late: only where projects are kept

    return TypeAdapter(Brief)
