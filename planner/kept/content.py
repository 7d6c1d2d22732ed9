"""Keys of content: records that say the same have one key, whatever the order of what has no order."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path

PLANNER = Path(__file__).resolve().parent.parent
_RECKONERS = ("ortools", "numpy")
"""Libraries on which a result may depend."""


def content_key(*records: object) -> str:
    """The key of frozen records, and of what they are made of: hexadecimal digits.

    >>> content_key(frozenset({1, 2})) == content_key(frozenset({2, 1})), content_key(1) == content_key("1")
    (True, False)
    """
    return sha256("".join(_written(records)).encode()).hexdigest()


def digest(parts: Iterable[tuple[str, bytes]]) -> str:
    """One digest of named parts; lengths go in too, so that no part can pose as two: hexadecimal digits."""
    found = sha256()
    for name, content in parts:
        found.update(f"{len(name)} {name} {len(content)} ".encode())
        found.update(content)
    return found.hexdigest()


@cache
def planner_key() -> str:
    """The key of this planner itself and of what reckons for it, as it stood when first asked for."""
    ours = sorted(file for file in PLANNER.rglob("*") if file.suffix in (".py", ".json"))
    files = ((file.relative_to(PLANNER).as_posix(), file.read_bytes()) for file in ours)
    return digest([*files, *((name, version(name).encode()) for name in _RECKONERS)])


def _written(thing: object) -> Iterator[str]:
    """The thing in one form: types by name, mappings and sets in an order of their own, texts with their length."""
    match thing:
        case Enum():
            yield f"{type(thing).__name__}.{thing.name};"
        case str():
            yield f"{len(thing)}:{thing};"
        case tuple() | list():
            yield "("
            for one in thing:
                yield from _written(one)
            yield ")"
        case Mapping():
            yield from _unordered("".join((*_written(key), *_written(value))) for key, value in thing.items())
        case frozenset():
            yield from _unordered("".join(_written(one)) for one in thing)
        case _ if is_dataclass(thing):
            yield f"{type(thing).__name__}("
            for field in fields(thing):
                yield from _written(getattr(thing, field.name))
            yield ")"
        case _:
            yield f"{type(thing).__name__}={thing!r};"


def _unordered(written: Iterator[str]) -> Iterator[str]:
    yield "{"
    yield from sorted(written)
    yield "}"
