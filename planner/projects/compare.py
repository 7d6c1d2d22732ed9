"""What differs between two briefs, place by place."""

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from enum import StrEnum

from planner.brief.records import Brief, Point


@dataclass(frozen=True, kw_only=True, slots=True)
class Difference:
    """One entry that two briefs have differently; `place` is its place in the brief's file."""

    place: str
    left: str
    right: str


def differences(left: Brief, right: Brief) -> tuple[Difference, ...]:
    """Everything that differs, in the order of the brief's file; an entry that one lacks reads as "none"."""
    return tuple(_between(left, right, ""))


def _between(left: object, right: object, place: str) -> Iterator[Difference]:
    if left == right:
        return
    if is_dataclass(left) and is_dataclass(right) and type(left) is type(right) and not isinstance(left, Point):
        for field in fields(left):
            inner = f"{place}.{field.name}" if place else field.name
            yield from _between(getattr(left, field.name), getattr(right, field.name), inner)
    elif _records(left) or _records(right):
        assert isinstance(left, tuple)
        assert isinstance(right, tuple)
        for index in range(max(len(left), len(right))):
            here, there = (side[index] if index < len(side) else None for side in (left, right))
            yield from _between(here, there, f"{place}[{index}]")
    else:
        yield Difference(place=place, left=_words(left), right=_words(right))


def _records(value: object) -> bool:
    return isinstance(value, tuple) and any(is_dataclass(part) for part in value)


def _words(value: object) -> str:
    match value:
        case None | "" | ():
            return "none"
        case bool():
            return "yes" if value else "no"
        case StrEnum():
            return value.value.replace("_", " ")
        case Point(x_m, y_m, z_m):
            return f"{x_m:g}, {y_m:g}, {z_m:g}"
        case frozenset():
            return ", ".join(sorted(map(_words, value))) or "none"
        case tuple():
            return ", ".join(map(_words, value))
        case float():
            return f"{value:g}"
    name = getattr(value, "name", None) or getattr(value, "sku", None) or getattr(value, "channel", None)
    return str(name) if is_dataclass(value) and name else str(value)
