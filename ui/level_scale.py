"""Where a level stands on a level diagram whose scale is broken between the noise and the signal.

Levels keep their height in decibels; only what lies between the greatest noise and the least
signal level is left out, since it is most of the height and says nothing.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.formulas.levels import dbu_from_v

_ROOM_ABOVE, _ROOM_BELOW = 0.12, 0.10
_LEAST_SHOWN_DB = 10.0
_WORTH_A_BREAK_DB = 20.0
_BREAK = 0.08
_STEPS_DB = (1, 2, 5, 10, 20, 50, 100, 200, 500)
_MOST_TICKS = 8
_PREFIXES = ((1.0, ""), (1e-3, "m"), (1e-6, "µ"), (1e-9, "n"), (1e-12, "p"))


@dataclass(frozen=True, slots=True)
class Block:
    """A run of levels that the scale shows, dBu, and what they are shifted up by to stand where they do."""

    least_dbu: float
    greatest_dbu: float
    shift_db: float

    def holds(self, level_dbu: float) -> bool:
        """Whether a level lies within."""
        return self.least_dbu <= level_dbu <= self.greatest_dbu


@dataclass(frozen=True, slots=True)
class LevelScale:
    """The blocks of a scale, from the lowest: one, or two with a break between."""

    blocks: tuple[Block, ...]

    @property
    def span(self) -> tuple[float, float]:
        """The height of the lowest and of the highest level, in dB."""
        first, last = self.blocks[0], self.blocks[-1]
        return first.least_dbu + first.shift_db, last.greatest_dbu + last.shift_db

    @property
    def breaks(self) -> tuple[float, float] | None:
        """Between which heights the scale is broken, if it is."""
        if len(self.blocks) < 2:
            return None
        lower, upper = self.blocks
        return lower.greatest_dbu + lower.shift_db, upper.least_dbu + upper.shift_db

    def height(self, level_dbu: float) -> float:
        """Where a level stands."""
        block = next((block for block in self.blocks if level_dbu <= block.greatest_dbu), self.blocks[-1])
        return level_dbu + block.shift_db

    def ticks_dbu(self) -> Mapping[float, str]:
        """Round levels: their height, and their label."""
        step_db = _step_db(sum(block.greatest_dbu - block.least_dbu for block in self.blocks))
        return {
            level + block.shift_db: f"{level:+d}".replace("-", "\u2212") if level else "0"
            for block in self.blocks
            for level in range(
                math.ceil(block.least_dbu / step_db) * step_db, math.floor(block.greatest_dbu) + 1, step_db
            )
        }

    def ticks_v(self) -> Mapping[float, str]:
        """Round voltages: their height, and their label. In steps of 1, 2 and 5, or decades where these crowd."""
        found: dict[float, str] = {}
        for block in self.blocks:
            decades = block.greatest_dbu - block.least_dbu > 3 * 20
            for volts in _round_voltages(block, (1,) if decades else (1, 2, 5)):
                found[dbu_from_v(volts) + block.shift_db] = _volts_words(volts)
        return found


def level_scale(signal_dbu: Sequence[float], noise_dbu: Sequence[float]) -> LevelScale:
    """The scale for these levels: ceilings count among the signal's. Broken where that saves much height."""
    if not signal_dbu or not noise_dbu:
        levels_dbu = signal_dbu or noise_dbu or (0.0,)
        return LevelScale((_block(levels_dbu, _range_db(levels_dbu)),))
    shown_db = max(_range_db(signal_dbu) + _range_db(noise_dbu), _LEAST_SHOWN_DB)
    upper, lower = _block(signal_dbu, shown_db), _block(noise_dbu, shown_db)
    if upper.least_dbu - lower.greatest_dbu < _WORTH_A_BREAK_DB:
        levels_dbu = (*signal_dbu, *noise_dbu)
        return LevelScale((_block(levels_dbu, _range_db(levels_dbu)),))
    shift_db = upper.least_dbu - _BREAK * shown_db - lower.greatest_dbu
    return LevelScale((Block(lower.least_dbu, lower.greatest_dbu, shift_db), upper))


def _range_db(levels_dbu: Sequence[float]) -> float:
    return max(levels_dbu) - min(levels_dbu)


def _block(levels_dbu: Sequence[float], shown_db: float) -> Block:
    """From the least to the greatest, with room for the figures beside the marks."""
    room_db = max(shown_db, _LEAST_SHOWN_DB)
    return Block(min(levels_dbu) - _ROOM_BELOW * room_db, max(levels_dbu) + _ROOM_ABOVE * room_db, 0.0)


def _step_db(shown_db: float) -> int:
    return next((step for step in _STEPS_DB if shown_db / step <= _MOST_TICKS), _STEPS_DB[-1])


def _round_voltages(block: Block, firsts: Sequence[int]) -> Iterator[float]:
    lowest = math.floor((block.least_dbu - dbu_from_v(1.0)) / 20)
    highest = math.ceil((block.greatest_dbu - dbu_from_v(1.0)) / 20)
    for decade in range(lowest, highest + 1):
        for first in firsts:
            volts = float(f"{first}e{decade}")
            if volts > 0 and math.isfinite(volts) and block.holds(dbu_from_v(volts)):
                yield volts


def _volts_words(volts: float) -> str:
    for unit, prefix in _PREFIXES:
        if volts >= unit * 0.9999:
            return f"{volts / unit:.4g} {prefix}V"
    return f"{volts:.0e} V"
