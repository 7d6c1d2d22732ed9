"""The bass in the proposal: figures and sentences are those of the prediction behind M9."""

import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from planner.bass.spread import SeatSpread
from planner.documents.bass_at_seats import BassAtSeats, bass_at_seats, seat_sentence
from planner.documents.compared import columns
from planner.documents.proposal import proposal
from tests.documents.jobs import NONE, SMALL, demo_job
from tests.documents.pages import text_of

TWO = "small-5-1-2-two-subs"


def shown() -> BassAtSeats:
    job = demo_job(TWO)
    found = bass_at_seats(job, columns(job.compared))
    assert found is not None
    return found


def test_the_levels_shown_have_the_spread_of_the_measure() -> None:
    """T. Welti, A. Devantier, J. Audio Eng. Soc. 54(5), 2006: the mean over frequency of the variance over seats."""
    found = shown()
    weight = np.array([2.0 if seat.primary else 1.0 for seat in found.job.brief.seats])
    letter_by_id = {column.option.id: column.letter for column in columns(found.job.compared)}
    for option in found.job.compared:
        heard = next(one for one in found.heard if letter_by_id[option.id] in one.letters)
        level_db = np.array([seat.level_db for seat in heard.outcome.by_seat])
        mean_db = np.average(level_db, axis=0, weights=weight)
        variance = np.average((level_db - mean_db) ** 2, axis=0, weights=weight)
        assert option.measures.bass_spread_db == pytest.approx(np.sqrt(variance.mean()), abs=0.006)


def test_options_that_sound_alike_share_a_frame_and_each_has_one() -> None:
    found = shown()
    assert sorted(letter for one in found.heard for letter in one.letters) == ["A", "B", "C"]
    assert len(found.heard) < 3
    frames = ET.fromstring(found.picture()).findall(".//*[@class='axes']")
    assert len(frames) in (len(found.heard), len(found.heard) + 1)


def test_every_seat_has_its_sentence_in_the_proposal() -> None:
    found = shown()
    text = text_of(proposal(found.job))
    for seat, heard in zip(found.job.brief.seats, found.chosen.outcome.by_seat, strict=True):
        assert seat.name in text
        assert seat_sentence(heard, found.chosen.outcome).replace("\N{NO-BREAK SPACE}", " ") in text
    assert "to be confirmed by measurement" in text


def seat(*level_db: float) -> SeatSpread:
    mean = sum(level_db) / len(level_db)
    return SeatSpread(
        seat="Sofa",
        level_db=level_db,
        mean_level_db=mean,
        mean_difference_db=mean,
        deviation_db=0.0,
        max_minus_min_db=max(level_db) - min(level_db),
    )


@pytest.mark.parametrize(
    ("levels", "words"),
    [
        ((0.2, -0.3), "As much bass as at the seats on the whole, at every note."),
        ((0.2, -2.0), "As much bass as at the seats on the whole; most apart are notes near 40 Hz, by 2 dB weaker."),
        ((4.4, 1.6), "The bass is clearly stronger than at the seats on the whole; most apart are notes near 20 Hz, by"
                     " 4 dB stronger."),
        ((-2.4, -1.0), "The bass is a little weaker than at the seats on the whole; most apart are notes near 20 Hz, by"
                       " 2 dB weaker."),
    ],
)  # fmt: skip
def test_a_sentence_says_how_much_and_where_most(levels: tuple[float, float], words: str) -> None:
    outcome = shown().chosen.outcome
    flat = tuple(
        replace(one, frequency_hz=hertz, mean_level_db=0.0)
        for one, hertz in zip(outcome.by_frequency, (20.0, 40.0), strict=False)
    )
    sentence = seat_sentence(seat(*levels), replace(outcome, by_frequency=flat))
    assert sentence.replace("\N{NO-BREAK SPACE}", " ") == words


def test_an_option_that_stands_alone_has_no_letter() -> None:
    job = demo_job(TWO)
    text = text_of(proposal(replace(job, compared=(job.option,))))
    assert "dB as proposed" in text
    assert "option A" not in text
    assert "Option A" not in text


@pytest.mark.parametrize("name", [NONE, SMALL])  # no subwoofer; one seat
def test_there_is_nothing_to_tell_without_subwoofers_or_with_one_seat(name: str) -> None:
    job = demo_job(name)
    assert bass_at_seats(job, columns(job.compared)) is None
    assert "The bass at your seats" not in text_of(proposal(job))
