"""The gear that an input offers by sku, with names to read beside it."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from planner.catalogue.records import Item


@dataclass(frozen=True)
class ItemNames:
    """Skus on offer in order, and the name of each."""

    name_by_sku: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def _count_by_name(self) -> Counter[str]:
        return Counter(self.name_by_sku.values())

    @property
    def skus(self) -> tuple[str, ...]:
        """The skus, in order."""
        return tuple(self.name_by_sku)

    def words(self, sku: str) -> str:
        """The name, with the sku where another item has that name too; the sku where there is no name."""
        name = self.name_by_sku.get(sku)
        if not name:
            return sku
        return f"{name} ({sku})" if self._count_by_name[name] > 1 else name

    def with_skus(self, skus: Iterable[str]) -> "ItemNames":
        """The same with further skus on offer, such as those a brief names already."""
        return ItemNames({**self.name_by_sku, **{sku: "" for sku in skus if sku not in self.name_by_sku}})


def item_names(items: Iterable[Item]) -> ItemNames:
    """The names of catalogue items."""
    return ItemNames({item.sku: item.name for item in items})
