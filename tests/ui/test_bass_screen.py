"""The bass screen: the study's figures, for the brief as it stands, and the reason where there are none."""

from functools import cache

from streamlit.testing.v1 import AppTest

from planner.bass import BassStudy, bass_study
from planner.bass.notes import PREDICTION
from planner.tables.bass_ways import SETTING_HEADINGS, setting_rows
from tests.plan.demo import demo_catalogue
from tests.ui.app import key, open_screen, session, shown, sound, started
from ui.session import Screen


def bass_screen() -> AppTest:
    return sound(open_screen(started(), Screen.BASS))


@cache
def study() -> BassStudy:
    """Of the brief that the form begins with."""
    return bass_study(session(started()).draft, demo_catalogue())


def settings_shown(app: AppTest) -> list[tuple[str, ...]]:
    (found,) = [table.value for table in app.table if tuple(table.value.columns) == SETTING_HEADINGS]
    return [tuple(str(cell).replace("\\", "") for cell in row) for row in found.itertuples(index=False)]


def test_it_shows_the_study_of_the_brief_and_says_that_it_is_a_prediction() -> None:
    app = bass_screen()
    assert PREDICTION in shown(app)
    figures = {metric.label: metric.value for metric in app.metric}
    before, after = study().before.spread, study().ways[-1].outcome.spread
    assert figures["Spread with one signal to all"] == f"{before.spread_db:.2f} dB"
    assert figures["With these settings"] == f"{after.spread_db:.2f} dB"
    assert settings_shown(app) == [tuple(row) for row in setting_rows(study().ways[-1])]


def test_the_plan_is_drawn_for_the_frequency_that_is_chosen() -> None:
    app = bass_screen()
    sound(app.selectbox(key="bass_over").set_value("One frequency").run())
    assert app.select_slider(key="bass_hz").value == study().frequency_hz[0]
    sound(app.selectbox(key="bass_over").set_value("Third of an octave at 50 Hz").run())
    assert not [slider for slider in app.select_slider if slider.key == "bass_hz"]


def test_where_there_is_one_seat_nothing_is_compared_over_seats() -> None:
    app = started()
    rows = range(1, len(session(app).draft.seats))
    app.session_state[key(app, "seats")] = {
        "edited_rows": {0: {"primary": True}},
        "added_rows": [],
        "deleted_rows": list(rows),
    }
    app = sound(open_screen(sound(app.run()), Screen.BASS))
    text = shown(app)
    assert "Level at each seat" in text
    assert "Spread by frequency" not in text


def test_a_room_that_cannot_be_predicted_is_refused_with_the_reason() -> None:
    app = started()
    app.number_input(key=key(app, "room_temperature_c")).set_value(55.0).run()
    sound(open_screen(app, Screen.BASS))
    assert "cannot be predicted" in shown(app)
    assert "The speed of sound is known in that range only" in shown(app)
    assert not app.metric
