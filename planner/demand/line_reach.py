"""Which line outputs can drive which inputs (R11, M8): alone, from a split, at the head of a chain.

Outputs of which no input of the brief can tell the difference form one class, and inputs of
which no output can: so levels add nothing to the search where everything can drive everything,
and no more than what differs where not. A class is a whole number, 0 for what every other can
reach or be reached by.

A split is held to the worst: the input asked for, with the heaviest input of the brief on
every other leg. So what is admitted is right whatever joins the split.
"""

import math
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from typing import TypeVar

from planner.demand.line_levels import (
    ChainStep,
    LineInput,
    LineOutput,
    Reached,
    arriving_dbu,
    chain_need,
    least,
    need_dbu,
    own_margin_db,
)

MOST_MARGIN_DB = 12
"""Where M8 stops counting as a measure of the trade-off set: more room is worth nothing."""

SLIVER_DB = 0.05 - 1e-6
"""Short by less is not short: no figure in a catalogue is better. A hair stricter than the examination."""

Steps = tuple[ChainStep, ...]
Key = TypeVar("Key")


@dataclass(frozen=True, slots=True)
class Way:
    """How an input hangs on an output: one leg of `legs`, and the daisy chain that it heads.

    `whole`: the splitters keep the two cores of a balanced line apart.
    """

    legs: int = 1
    whole: bool = True
    chain: Steps = ()


ALONE = Way()


@dataclass(frozen=True, slots=True)
class DspPath:
    """One input and one output of a DSP unit, and its greatest gain."""

    sku: str
    input: LineInput
    output: LineOutput
    max_gain_db: float


_Level = tuple[float | None, LineOutput, float | None]
"""The most that stands at an output, and the most with insertions."""


@dataclass(frozen=True, slots=True)
class Insertion:
    """What an isolator takes from a level, and the most that it passes before that."""

    loss_db: float
    ceiling_dbu: float | None

    def after(self, level_dbu: float | None) -> float | None:
        """What is left of the most that comes in."""
        return None if level_dbu is None else level_dbu - self.loss_db

    def margin_db(self, full_output_dbu: float | None) -> float | None:
        """How far it is from clipping where what follows is driven to full output."""
        if self.ceiling_dbu is None or full_output_dbu is None:
            return None
        return self.ceiling_dbu - self.loss_db - full_output_dbu


@dataclass(frozen=True, kw_only=True, slots=True)
class Grading:
    """What margins are admitted, and whether admitted ones are told apart, in whole dB.

    `least_db` of None: every margin is admitted.
    """

    least_db: float | None
    in_steps: bool = False

    @property
    def idle(self) -> bool:
        """Whether levels make no difference at all."""
        return self.least_db is None and not self.in_steps

    def grade(self, margin_db: float | None) -> int | None:
        """The grade of a margin, None where it is not admitted; an unknown one is of the best."""
        if margin_db is None:
            return MOST_MARGIN_DB if self.in_steps else 0
        if self.least_db is not None and margin_db <= self.least_db - SLIVER_DB:
            return None
        return min(math.floor(margin_db), MOST_MARGIN_DB) if self.in_steps else 0


class LineReach:
    """Grades of every output into every input of one brief, and the classes that follow.

    `shared` are the inputs that may hang on a split or head a daisy chain, with each such way.
    """

    def __init__(
        self,
        outputs: Iterable[LineOutput],
        inputs: Iterable[LineInput],
        dsp_paths: Iterable[DspPath],
        shared: Iterable[tuple[LineInput, Way]],
        grading: Grading,
    ) -> None:
        self._outputs = tuple(dict.fromkeys(outputs))
        self._inputs = tuple(dict.fromkeys(inputs))
        self._dsp_paths = tuple(dict.fromkeys(dsp_paths))
        self._shared = tuple(dict.fromkeys(shared))
        self._hangings = (*((taken, ALONE) for taken in self._inputs), *self._shared)
        self._grading = grading
        self._needs: dict[tuple[LineOutput, LineInput, Way], tuple[float | None, float | None]] = {}
        sharing = (taken for taken, way in self._shared if way.legs > 1)
        ohms = [each.impedance_ohm for each in sharing if each.impedance_ohm is not None]
        self._heaviest = LineInput(True, min(ohms), None, None) if ohms else None

    def output_class(self, output: LineOutput) -> int:
        """The class of an output."""
        return self._output_classes.get(output, 0)

    def input_class(self, taken: LineInput) -> int:
        """The class of an input."""
        return self._input_classes.get(taken, 0)

    def grade(self, output: LineOutput, taken: LineInput, way: Way = ALONE) -> int | None:
        """The grade of the least margin from an output to an input and what hangs on it."""
        if self._grading.idle:
            return 0
        need, after_db = self._need(output, taken, way)
        source_db = None if need is None or output.max_level_dbu is None else output.max_level_dbu - need
        return self._grading.grade(least((source_db, after_db)))

    def grade_behind(self, output: LineOutput, path: DspPath, taken: LineInput, way: Way = ALONE) -> int | None:
        """The same through a DSP unit, as far as what enters it can be brought up by its gain."""
        return self._grade_up_to(self._ceiling_dbu(output, path), path.output, taken, way)

    def bounded_by(self, output: LineOutput, path: DspPath) -> bool:
        """Whether what enters the unit, not its output, is what bounds it."""
        ceiling_dbu, own_dbu = self._ceiling_dbu(output, path), path.output.max_level_dbu
        return ceiling_dbu is not None and own_dbu is not None and ceiling_dbu < own_dbu

    def bears(self, taken: LineInput, here: Insertion, elsewhere: Insertion) -> bool:
        """Whether no grade changes by an insertion before an input, with another one elsewhere on the same way.

        Elsewhere is behind a DSP unit for its input, and before it for what hangs on its outputs.
        """
        entered = [path for path in self._dsp_paths if path.input == taken]
        direct = ((output.max_level_dbu, output, here.after(output.max_level_dbu)) for output in self._outputs)
        through = self._through(self._dsp_paths, elsewhere, here)
        return self._alike([*direct, *through], [(taken, way) for way in self._ways_of(taken)], here) and self._alike(
            self._through(entered, here, elsewhere), self._hangings, elsewhere
        )

    def _through(self, paths: Iterable[DspPath], before: Insertion, behind: Insertion) -> Iterator[_Level]:
        """The most at the output of every DSP unit from every output, as it is and with insertions around the unit."""
        for output, path in product(self._outputs, tuple(paths)):
            entering_dbu, own_dbu = arriving_dbu(output, path.input), path.output.max_level_dbu
            if entering_dbu is not None:
                lossy_dbu = before.after(least((entering_dbu, before.ceiling_dbu)))
                plain, less = (
                    least((None if level is None else level + path.max_gain_db, own_dbu))
                    for level in (entering_dbu, lossy_dbu)
                )
                yield plain, path.output, behind.after(less)

    def _alike(self, levels: Iterable[_Level], hangings: Iterable[tuple[LineInput, Way]], last: Insertion) -> bool:
        """Whether every input is graded alike; daisy chains have no insertion before them."""
        hangings = tuple((taken, way) for taken, way in hangings if not way.chain)
        for (level_dbu, output, lossy_dbu), (taken, way) in product(levels, hangings):
            need, after_db = self._need(output, taken, way)
            if level_dbu is None or lossy_dbu is None or need is None:
                continue
            plain = self._grading.grade(least((level_dbu - need, after_db)))
            if self._grading.grade(least((lossy_dbu - need, after_db, last.margin_db(taken.full_output_dbu)))) != plain:
                return False
        return True

    def row(self, output: LineOutput, way: Way) -> tuple[int | None, ...]:
        """The grade into every input, hung on in one way."""
        return tuple(self.grade(output, taken, way) for taken, shared in self._shared if shared == way)

    @cached_property
    def gains_matter(self) -> bool:
        """Whether what enters any DSP unit may be what bounds it."""
        pairs = product(self._outputs, self._dsp_paths)
        return not self._grading.idle and any(self.bounded_by(output, path) for output, path in pairs)

    @cached_property
    def tells_chains_apart(self) -> bool:
        """Whether any daisy chain gets less than the best grade from anything."""
        chained = [(head, way) for head, way in self._shared if way.chain]
        return any(
            self.grade(output, head, way) != self.best for output, (head, way) in product(self._outputs, chained)
        )

    def chain_row(self, heads: Iterable[LineInput], chain: Steps) -> tuple[Hashable, ...]:
        """What tells a daisy chain from another: its grade from every output, for every input of its head."""
        return tuple(self.grade(output, head, Way(chain=chain)) for head in heads for output in self._outputs)

    @cached_property
    def _output_classes(self) -> Mapping[LineOutput, int]:
        return _classes({output: self._row(output) for output in self._outputs}, self.best)

    @cached_property
    def _input_classes(self) -> Mapping[LineInput, int]:
        columns: dict[LineInput, tuple[Hashable, ...]] = {
            taken: (
                *(self.grade(output, taken, way) for output in self._outputs for way in self._ways_of(taken)),
                *self._behind(taken),
            )
            for taken in self._inputs
        }
        for taken in dict.fromkeys(path.input for path in self._dsp_paths):
            paths = [path for path in self._dsp_paths if path.input == taken]
            entered = (self._entry(output, path) for output in self._outputs for path in paths)
            columns[taken] = (*columns.get(taken, ()), *entered)
        return _classes(columns, self.best)

    @property
    def best(self) -> int:
        """The grade that no other is above."""
        return MOST_MARGIN_DB if self._grading.in_steps else 0

    def _row(self, output: LineOutput) -> tuple[Hashable, ...]:
        driven = (self.grade(output, taken, way) for taken, way in self._hangings)
        return (*driven, *(self._entry(output, path) for path in self._dsp_paths))

    def _ways_of(self, taken: LineInput) -> Iterator[Way]:
        yield ALONE
        yield from (way for shared, way in self._shared if shared == taken)

    def _behind(self, taken: LineInput) -> Iterator[int | None]:
        """The grades of an input through DSP units, where what enters these bounds them."""
        if not self._grading.idle:
            for output, path in product(self._outputs, self._dsp_paths):
                if self.bounded_by(output, path):
                    yield from (self.grade_behind(output, path, taken, way) for way in self._ways_of(taken))

    def _entry(self, output: LineOutput, path: DspPath) -> Hashable:
        """What an output lets a DSP unit do, input by input; the best grade where it takes nothing away."""
        if self._grading.idle or not self.bounded_by(output, path):
            return self.best
        grades = tuple(self.grade_behind(output, path, taken, way) for taken, way in self._hangings)
        return self.best if all(grade == self.best for grade in grades) else grades

    def _ceiling_dbu(self, output: LineOutput, path: DspPath) -> float | None:
        entering_dbu = arriving_dbu(output, path.input)
        return None if entering_dbu is None else entering_dbu + path.max_gain_db

    def _grade_up_to(self, ceiling_dbu: float | None, output: LineOutput, taken: LineInput, way: Way) -> int | None:
        if self._grading.idle:
            return 0
        need, after_db = self._need(output, taken, way)
        source_db = None if need is None or ceiling_dbu is None else ceiling_dbu - need
        return self._grading.grade(least((source_db, after_db)))

    def _need(self, output: LineOutput, taken: LineInput, way: Way) -> tuple[float | None, float | None]:
        """What an output must give, dBu, and the least margin after it, dB; reckoned once each."""
        key = (output, taken, way)
        if key not in self._needs:
            self._needs[key] = self._reckoned(output, taken, way)
        return self._needs[key]

    def _reckoned(self, output: LineOutput, taken: LineInput, way: Way) -> tuple[float | None, float | None]:
        if way.chain:
            return chain_need(output, taken, way.chain)
        balanced = output.balanced and way.whole and taken.balanced
        needs = [need_dbu(output, Reached(taken, balanced), beside) for beside in self._beside(output, way)]
        known = [need for need in needs if need is not None]
        return max(known, default=None), own_margin_db(taken)

    def _beside(self, output: LineOutput, way: Way) -> Sequence[tuple[Reached, ...]]:
        """What may hang on the other legs: the heaviest input, balanced or not."""
        if way.legs == 1 or self._heaviest is None:
            return ((),)
        balances = (True, False) if output.balanced and way.whole else (False,)
        return [(Reached(self._heaviest, balanced),) * (way.legs - 1) for balanced in balances]


def _classes(rows: Mapping[Key, tuple[Hashable, ...]], best: Hashable) -> Mapping[Key, int]:
    """Equal rows are one class; a row of nothing but the best is class 0."""
    numbers: dict[tuple[Hashable, ...], int] = {}
    found: dict[Key, int] = {}
    for key, row in rows.items():
        plain = all(entry == best for entry in row)
        found[key] = 0 if plain else numbers.setdefault(row, len(numbers) + 1)
    return found
