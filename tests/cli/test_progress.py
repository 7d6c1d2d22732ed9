"""Progress is for a terminal, and leaves nothing behind."""

import io

from planner.commands.progress import terminal_progress
from planner.plan import Progress


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_pipe_hears_nothing() -> None:
    stream = io.StringIO()
    with terminal_progress(stream) as progress:
        assert progress is None
    assert stream.getvalue() == ""


def test_a_terminal_sees_one_line_that_is_cleared_at_the_end() -> None:
    stream = Terminal()
    with terminal_progress(stream) as progress:
        assert progress is not None
        progress(Progress(done=3, found=2, text="looking at\nprocessors"))
    text = stream.getvalue()
    assert "looking at processors (2 found)" in text
    assert "\n" not in text
    assert text.endswith("\r\x1b[K")  # ECMA-48: carriage return, erase to the end of the line
