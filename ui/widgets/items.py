"""The gear that an input offers by sku, with names to read beside it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from planner.catalogue.records import Item


@dataclass(frozen=True, slots=True)
class ItemNames:
    """Skus on offer in order, and the name of each."""

    name_by_sku: Mapping[str, str] = field(default_factory=dict)

    @property
    def skus(self) -> tuple[str, ...]:
        """The skus, in order."""
        return tuple(self.name_by_sku)

    def words(self, sku: str) -> str:
        """The name with its sku, or the sku alone where the catalogue does not have it."""
        name = self.name_by_sku.get(sku)
        return f"{name} ({sku})" if name else sku

    def with_skus(self, skus: Iterable[str]) -> "ItemNames":
        """The same with further skus on offer, such as those a brief names already."""
        return ItemNames({**self.name_by_sku, **{sku: "" for sku in skus if sku not in self.name_by_sku}})


def item_names(items: Iterable[Item]) -> ItemNames:
    """The names of catalogue items."""
    return ItemNames({item.sku: item.name for item in items})
