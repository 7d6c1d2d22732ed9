"""The search behind the form: begun at once, stopped, begun anew after a change, never mixed up."""

from collections.abc import Callable, Iterator
from threading import Event, Thread, current_thread

import pytest

from planner.plan import Progress
from tests.cli.example import RESULT
from tests.ui.app import answer_by, key, open_screen, session, shown, sound, started
from ui.answers import Answered, Question, Verdict
from ui.search import VERDICTS
from ui.session import Screen


class Held:
    """A planner that answers when it is let go, and gives signs of life until then."""

    def __init__(self) -> None:
        self.asked: list[Question] = []
        self.go, self.begun = Event(), Event()
        self.threads: list[Thread] = []

    def ask(self, question: Question, *, time_limit_s: float, progress: Callable[[Progress], None]) -> Verdict:
        self.asked.append(question)
        self.threads.append(current_thread())
        self.begun.set()
        while not self.go.wait(0.01):
            progress(Progress(3, 2, "weighing"))
        return Answered(question=question, result=RESULT)


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch) -> Iterator[Held]:
    """At the end every search is let go and awaited: none may speak into the next test."""
    found = Held()
    monkeypatch.setattr("ui.search.ask", found.ask)
    yield found
    found.go.set()
    for thread in found.threads:
        thread.join(10)


def test_the_first_answer_is_sought_without_being_asked_for(held: Held) -> None:
    app = started()
    held.begun.wait(10)
    assert len(held.asked) == 1
    assert "Looking for options" in shown(app)
    search = session(app).search
    assert search is not None
    held.go.set()
    search._thread.join(10)
    assert "EUR 8,988.00" in shown(sound(app.run()))
    assert session(app).search is None


def test_a_search_can_be_stopped_and_begun_again(held: Held) -> None:
    app = started()
    search = session(app).search
    assert search is not None
    sound(app.button(key="stop_search").click().run())
    search._thread.join(10)
    assert session(app).search is None
    assert "The search was stopped." in shown(sound(open_screen(app, Screen.OPTIONS)))
    assert len(held.asked) == 1
    sound(app.button(key="search_again").click().run())
    assert session(app).search is not None
    held.go.set()


def test_a_change_stops_the_search_and_begins_another(held: Held) -> None:
    app = started()
    first = session(app).search
    assert first is not None
    app.number_input(key=key(app, "room_length_m")).set_value(6.75)
    sound(app.run())
    second = session(app).search
    assert second is not None
    assert second is not first
    first._thread.join(10)
    assert not first.running
    assert VERDICTS.get(first.asked.key) is None, "nobody hears what a stopped search would have said"
    assert second.asked.brief.room.length_m == 6.75
    held.go.set()


def test_no_search_is_left_where_there_is_something_to_mend(held: Held) -> None:
    app = started()
    app.number_input(key=key(app, "room_length_m")).set_value(0.2)
    sound(app.run())
    assert session(app).search is None
    held.go.set()


def test_a_page_loaded_anew_has_the_answer_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Question] = []

    def ask(question: Question, **_: object) -> Verdict:
        asked.append(question)
        return Answered(question=question, result=RESULT)

    answer_by(monkeypatch, ask)
    started()
    assert "EUR 8,988.00" in shown(started())
    assert len(asked) == 1


def test_a_fault_in_the_thread_is_told_on_the_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> Verdict:
        raise ZeroDivisionError("division by zero")

    answer_by(monkeypatch, fail)
    app = open_screen(started(), Screen.OPTIONS)
    assert "division by zero" in app.code[0].value
