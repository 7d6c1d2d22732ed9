"""Work that is done once for the same input: recalled where it was done before, else done and kept."""

from collections.abc import Callable
from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError

from planner.kept.content import content_key, planner_key
from planner.kept.memory import Memory
from planner.kept.place import kept_file

T = TypeVar("T")


def remembered(
    what: str,
    of: tuple[object, ...],
    like: type[T],
    work: Callable[[], T],
    *,
    worth: Callable[[T], bool] = lambda _: True,
    sound: Callable[[T], bool] = lambda _: True,
) -> T:
    """The result of `work`, which depends on the records `of` and on nothing else.

    `what` names the work, `like` is the record type of its result, and results that are not `worth` it
    are not kept; one that is not `sound` any more is worked out again. Raises what `work` raises.
    """
    file = kept_file()
    if file is None:
        return work()
    memory, key = Memory(file), content_key(planner_key(), what, of)
    if (text := memory.recall(key)) is not None:
        try:
            recalled: T = _adapter(like).validate_json(text)
            if sound(recalled):
                return recalled
        except ValidationError:  # not as we write it: somebody else has
            pass
    result = work()
    if worth(result):
        memory.keep(key, _adapter(like).dump_json(result))
    return result


_ADAPTERS: dict[object, TypeAdapter[Any]] = {}


def _adapter(like: type[T]) -> TypeAdapter[Any]:
    """Made once a type, which takes longer than to use it."""
    if like not in _ADAPTERS:
        _ADAPTERS[like] = TypeAdapter(like)
    return _ADAPTERS[like]
