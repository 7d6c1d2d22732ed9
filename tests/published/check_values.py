"""The published check values by name, each with its source; see check_values.md."""

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

FILE = Path(__file__).with_suffix(".toml")


@dataclass(frozen=True, kw_only=True, slots=True)
class CheckValue:
    """One figure to hold a result against. `str` of it is what a failing test should print.

    `tol_abs` is how far a result may be from it; None: as far as the figure is rounded.
    """

    name: str
    value: Any
    unit: str
    source: str
    status: str
    tol_abs: float | None = None

    def __str__(self) -> str:
        return f"{self.name} = {self.value} {self.unit} ({self.status}: {self.source})"


def oracle(name: str) -> CheckValue:
    """The value of a dotted name such as "price.half_up_2_665".

    Raises KeyError for an unknown name, and ValueError for a value that is only from memory.
    """
    section, _, entry = name.partition(".")
    found = _check_value(name, _file()[section][entry])
    if found.status == "from memory":
        raise ValueError(f"{found} is no oracle")
    return found


def oracles(prefix: str) -> tuple[CheckValue, ...]:
    """All values whose dotted name starts with `prefix`, those from memory left out."""
    section = prefix.partition(".")[0]
    found = [_check_value(f"{section}.{entry}", fields) for entry, fields in _file()[section].items()]
    return tuple(value for value in found if value.name.startswith(prefix) and value.status != "from memory")


def _check_value(name: str, fields: dict[str, Any]) -> CheckValue:
    return CheckValue(
        name=name,
        value=fields["value"],
        unit=fields["unit"],
        source=fields["source"],
        status=fields["status"],
        tol_abs=fields.get("tol_abs"),
    )


@cache
def _file() -> dict[str, Any]:
    with FILE.open("rb") as stream:
        return tomllib.load(stream)
