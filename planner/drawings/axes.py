"""A frame with two scales to draw curves in: its grid, its figures, and where a value lies on paper."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.drawings.svg import FAINT, INK, SOFT, Canvas, Spot

SIZE = 10.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Axes:
    """Values `low` to `high` across and `bottom` to `top` upwards, in a box of the picture.

    Values beyond the scale are drawn at its edge.
    """

    left: float
    upper: float
    width: float
    height: float
    low: float
    high: float
    bottom: float
    top: float

    def spot(self, across: float, upwards: float) -> Spot:
        """Where a pair of values lies."""
        x = (across - self.low) / (self.high - self.low)
        y = (min(max(upwards, self.bottom), self.top) - self.bottom) / (self.top - self.bottom)
        return self.left + x * self.width, self.upper + (1 - y) * self.height

    def curve(self, across: Sequence[float], upwards: Sequence[float]) -> list[Spot]:
        """A line through pairs of values."""
        return [self.spot(x, y) for x, y in zip(across, upwards, strict=True)]

    def draw(self, canvas: Canvas, title: str, across: str, upwards: str) -> None:
        """The grid with its figures, the title above, and what the scales are."""
        right, lower = self.left + self.width, self.upper + self.height
        with canvas.group("axes"):
            for value in ticks(self.bottom, self.top, 6):
                _, y = self.spot(self.low, value)
                canvas.line([(self.left, y), (right, y)], stroke=FAINT, stroke_width="0.6")
                canvas.text((self.left - 6, y + 3.5), figure(value), SIZE, anchor="end", fill=SOFT)
            for value in ticks(self.low, self.high, 7):
                x, _ = self.spot(value, self.bottom)
                canvas.line([(x, self.upper), (x, lower)], stroke=FAINT, stroke_width="0.6")
                canvas.text((x, lower + 14), figure(value), SIZE, anchor="middle", fill=SOFT)
            canvas.rect(self.left, self.upper, self.width, self.height, fill="none", stroke=SOFT, stroke_width="0.8")
            canvas.text((self.left, self.upper - 10), title, SIZE + 1.5, bold=True, fill=INK)
            canvas.text((self.left + self.width / 2, lower + 29), across, SIZE, anchor="middle", fill=SOFT)
            canvas.text((right, self.upper - 10), upwards, SIZE, anchor="end", fill=SOFT)


def ticks(low: float, high: float, most: int) -> Iterator[float]:
    """Round values from low to high, both included where round, about so many.

    >>> list(ticks(20.0, 80.0, 7)), list(ticks(0.0, 2.6, 6))
    ([20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0], [0.0, 0.5, 1.0, 1.5, 2.0, 2.5])
    """
    step = round_up((high - low) / most)
    for n in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1):
        yield round(n * step, 9) + 0.0


def round_up(value: float) -> float:
    """The next of 1, 2, 5, 10, 20 …, whatever the power of ten.

    >>> [round_up(value) for value in (0.3, 2.0, 7.0)]
    [0.5, 2.0, 10.0]
    """
    power = 10 ** math.floor(math.log10(value))
    return float(next(step * power for step in (1, 2, 5, 10) if step * power >= value * (1 - 1e-9)))


def figure(value: float) -> str:
    """A value on a scale, with a true minus sign.

    >>> figure(-5.0), figure(0.5)
    ('\N{MINUS SIGN}5', '0.5')
    """
    return f"{value:g}".replace("-", "\N{MINUS SIGN}")
