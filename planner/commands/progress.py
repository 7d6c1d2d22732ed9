"""One line that tells how far the search is: on a terminal only, quiet when piped."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, TextIO

from planner.tables.layout import WIDTH, printable

if TYPE_CHECKING:
    from planner.plan import Progress

_BACK_AND_CLEAR = "\r\x1b[K"


@contextmanager
def terminal_progress(stream: TextIO) -> Iterator["Callable[[Progress], None] | None"]:
    """A callback that shows how far a search is; None where no terminal listens."""
    with terminal_line(stream) as show:
        yield None if show is None else lambda progress: show(f"{progress.text} ({progress.found} found)")


@contextmanager
def terminal_line(stream: TextIO) -> Iterator[Callable[[str], None] | None]:
    """A callback that rewrites one line, cleared at the end; None where no terminal listens."""
    if not stream.isatty():
        yield None
        return

    def show(text: str) -> None:
        stream.write(_BACK_AND_CLEAR + printable(text)[: WIDTH - 1])
        stream.flush()

    try:
        yield show
    finally:
        stream.write(_BACK_AND_CLEAR)
        stream.flush()
