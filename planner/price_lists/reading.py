"""How one supplier's list is to be read: what is remembered from one month to the next."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planner.price_lists.figures import DayStyle, FigureStyle


class Entry(StrEnum):
    """What a column of a price list can hold."""

    CODE = "code"
    NAME = "name"
    PRICE = "price"
    CURRENCY = "currency"
    DATED = "dated"
    STOCK = "stock"
    LEAST_ORDER = "least_order"


NEEDED = (Entry.CODE, Entry.PRICE)


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """Which column holds what, and how its cells are written.

    `currency` is that of rows which name none. `sku_of` gives the catalogue's sku for codes of
    the supplier that are not skus themselves.
    """

    columns: Mapping[Entry, str] = field(default_factory=dict)
    figures: FigureStyle = FigureStyle.POINT
    days: DayStyle = DayStyle.YEAR_FIRST
    currency: str = ""
    sku_of: Mapping[str, str] = field(default_factory=dict)


def reading_tree(reading: Reading) -> dict[str, object]:
    """A reading as plain data, to be kept."""
    return {
        "columns": {entry.value: title for entry, title in reading.columns.items()},
        "figures": reading.figures.value,
        "days": reading.days.value,
        "currency": reading.currency,
        "sku_of": dict(reading.sku_of),
    }


def reading_of(tree: Mapping[str, object]) -> Reading:
    """The reading in plain data; what is not understood is left out, so that the user is asked again."""
    columns, sku_of = _texts(tree.get("columns")), _texts(tree.get("sku_of"))
    styles = {key: str(tree.get(key)) for key in ("figures", "days")}
    currency = tree.get("currency")
    return Reading(
        columns={entry: columns[entry.value] for entry in Entry if entry.value in columns},
        figures=FigureStyle(styles["figures"]) if styles["figures"] in [*FigureStyle] else FigureStyle.POINT,
        days=DayStyle(styles["days"]) if styles["days"] in [*DayStyle] else DayStyle.YEAR_FIRST,
        currency=currency if isinstance(currency, str) else "",
        sku_of=sku_of,
    )


def _texts(value: object) -> dict[str, str]:
    if not isinstance(value, dict):
        return {}
    return {key: text for key, text in value.items() if isinstance(key, str) and isinstance(text, str)}
