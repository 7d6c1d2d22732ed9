"""The bass at each seat with the options side by side: curves, figures, and a plain sentence for every seat.

Every sentence is made from the figures that stand beside it. From which figure on a difference is "a little" or
"clearly" is common practice, no published source: about 1 dB is the least that is noticed at all.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.bass.outcome import Outcome
from planner.bass.prediction import BassPrediction, NoPrediction
from planner.bass.spread import SeatSpread
from planner.documents.compared import Column
from planner.documents.job import Job
from planner.documents.typeset import NO_BREAK_SPACE, Data
from planner.drawings.bass_curves import Panel, Sheet, seat_panels_svg
from planner.drawings.bass_plan import signed
from planner.drawings.bass_words import band_words
from planner.words import counted, listed

_ALIKE_DB = 0.05  # curves no further apart than this are one and the same to the eye
_NOTICED_DB, _CLEAR_DB = 1.0, 3.0
_SHEETS = {
    1: Sheet(across=1, width=640.0, height=170.0),
    2: Sheet(across=2, width=640.0, height=170.0),
    3: Sheet(across=3, width=640.0, height=150.0),
    4: Sheet(across=2, width=640.0, height=130.0),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Heard:
    """What the seats get, and the letters of the options that give it to them."""

    letters: tuple[str, ...]
    outcome: Outcome

    @property
    def title(self) -> str:
        """Which options these are: "Option A", "Options B and C"; without letters the only one."""
        if not self.letters:
            return "As proposed"
        return f"{'Option' if len(self.letters) == 1 else 'Options'} {listed(self.letters)}"

    @property
    def within(self) -> str:
        """The same within a sentence: "with option A"."""
        return f"{'with ' if self.letters else ''}{self.title[0].lower()}{self.title[1:]}"


@dataclass(frozen=True, kw_only=True, slots=True)
class BassAtSeats:
    """The bass of the options side by side. `before`: the chosen option's subwoofers on one signal, nothing set."""

    job: Job
    heard: tuple[Heard, ...]
    chosen: Heard
    before: Outcome

    def picture(self) -> str:
        """The level at each seat as curves on one scale, a frame for each of what is heard."""
        panels = [Panel(title=one.title, outcome=one.outcome) for one in self.heard]
        if len(panels) < max(_SHEETS) and not _alike(self.before, self.chosen.outcome):
            panels.insert(0, Panel(title="Nothing set", outcome=self.before))
        return seat_panels_svg(panels, self.job.brief.seats, self._band, _SHEETS[len(panels)])

    def data(self) -> Data:
        """What the template prints beside the picture."""
        others = [one for one in self.heard if one is not self.chosen]
        return {
            "opening": list(self._opening(others)),
            "headings": [one.title for one in others],
            "expected": f"What to expect {self.chosen.within}",
            "seats": [self._seat(number, others) for number in range(len(self.job.brief.seats))],
        }

    @property
    def _band(self) -> str:
        hertz = [one.frequency_hz for one in self.before.by_frequency]
        return band_words(hertz[0], hertz[-1])

    def _opening(self, others: Sequence[Heard]) -> Iterator[str]:
        yield (
            f"Low notes are louder in one place of a room than in another. The curves show how loud each note from"
            f" {self._band.replace(' ', NO_BREAK_SPACE)} is predicted to be at each of your"
            f" {counted(len(self.job.brief.seats), 'seat')}: the closer the thin lines keep to the bold one, the more"
            " alike is what everybody hears."
        )
        spreads = [f"{_spread(one.outcome)} {one.within}" for one in (self.chosen, *others)]
        words = f"From seat to seat the bass differs by {listed(tuple(spreads))}"
        if not _alike(self.before, self.chosen.outcome):
            words += f"; with one signal to all subwoofers and nothing set it would be {_spread(self.before)}"
        yield f"{words}."

    def _seat(self, number: int, others: Sequence[Heard]) -> Data:
        seat, found = self.job.brief.seats[number], self.chosen.outcome.by_seat[number]
        return {
            "number": str(number + 1),
            "name": seat.name,
            "primary": seat.primary,
            "sentence": seat_sentence(found, self.chosen.outcome),
            "level": signed(found.mean_difference_db),
            "differs": f"{found.deviation_db:.1f}",
            "others": [f"{one.outcome.by_seat[number].deviation_db:.1f}" for one in others],
        }


def bass_at_seats(job: Job, compared: Sequence[Column]) -> BassAtSeats | None:
    """None where there is no bass to tell of: no subwoofer, one seat, or a room that cannot be predicted."""
    found: list[tuple[Column, BassPrediction]] = []
    for column in compared:
        prediction = job.bass_by_id[column.option.id]
        if isinstance(prediction, NoPrediction):
            return None
        found.append((column, prediction))
    letter, own = next((c.letter, p) for c, p in found if c.option.id == job.option.id)
    if len(found) == 1:
        alone = Heard(letters=(), outcome=own.outcome())
        return BassAtSeats(job=job, heard=(alone,), chosen=alone, before=own.before())
    heard = _grouped([(column.letter, prediction.outcome()) for column, prediction in found])
    chosen = next(one for one in heard if letter in one.letters)
    return BassAtSeats(job=job, heard=heard, chosen=chosen, before=own.before())


def seat_sentence(found: SeatSpread, outcome: Outcome) -> str:
    """What the figures of a seat mean to who sits there: how much bass, and the note that departs most."""
    level = round(found.mean_difference_db, 1)
    if abs(level) < _NOTICED_DB:
        words = "As much bass as at the seats on the whole"
    else:
        how = "clearly" if abs(level) >= _CLEAR_DB else "a little"
        words = f"The bass is {how} {'stronger' if level > 0 else 'weaker'} than at the seats on the whole"
    apart = [here - there.mean_level_db for here, there in zip(found.level_db, outcome.by_frequency, strict=True)]
    most = max(range(len(apart)), key=lambda n: abs(apart[n]))
    if abs(apart[most]) < _NOTICED_DB:
        return f"{words}, at every note."
    hertz = outcome.by_frequency[most].frequency_hz
    return (
        f"{words}; most apart are notes near {hertz:.0f}{NO_BREAK_SPACE}Hz, by"
        f" {abs(apart[most]):.0f}{NO_BREAK_SPACE}dB {'stronger' if apart[most] > 0 else 'weaker'}."
    )


def _grouped(found: Sequence[tuple[str, Outcome]]) -> tuple[Heard, ...]:
    """Options that sound alike are one."""
    heard: list[Heard] = []
    for letter, outcome in found:
        same = next((at for at, one in enumerate(heard) if _alike(one.outcome, outcome)), None)
        if same is None:
            heard.append(Heard(letters=(letter,), outcome=outcome))
        else:
            heard[same] = Heard(letters=(*heard[same].letters, letter), outcome=heard[same].outcome)
    return tuple(heard)


def _alike(one: Outcome, other: Outcome) -> bool:
    return all(
        abs(a - b) <= _ALIKE_DB
        for here, there in zip(one.by_seat, other.by_seat, strict=True)
        for a, b in zip(here.level_db, there.level_db, strict=True)
    )


def _spread(outcome: Outcome) -> str:
    return f"{outcome.spread.spread_db:.1f}{NO_BREAK_SPACE}dB"
