"""The room in plan, each seat coloured by how much louder or softer it is than the seats on the whole.

The figure stands in every seat, so that the colour only helps. The front wall is at the top.
"""

from planner.bass.outcome import Outcome, seat_differences_db
from planner.bass.study import BassStudy, ComparedWay
from planner.drawings.bass_words import BEFORE, CAUTION, after_words, band_words
from planner.drawings.legend import wrapped
from planner.drawings.lettering import shortened
from planner.drawings.svg import INK, PAPER, SOFT, Canvas, Spot

WIDTH = 760.0
_MARGIN, _BETWEEN, _UPPER = 14.0, 28.0, 46.0
_TALLEST = 380.0
_SIZE = 9.5
_LOUDER, _SOFTER = (214, 137, 62), (84, 160, 178)
_FULL_DB = 6.0
_LEAST_RADIUS, _MOST_RADIUS = 11.0, 19.0


def bass_plan_svg(
    study: BassStudy, low_hz: float | None = None, high_hz: float | None = None, way: ComparedWay | None = None
) -> str:
    """Two plans side by side, before and after, for a band or (low = high) the frequency nearest to it.

    None: the band of the study. After: with the way of control given; None: each subwoofer on its own.
    """
    low, high = study.band.low_hz if low_hz is None else low_hz, study.band.high_hz if high_hz is None else high_hz
    shown = [(BEFORE, study.before)]
    if len(study.ways) > 1:
        after = way or study.ways[-1]
        shown.append((after_words(study, after), after.outcome))
    length_m, width_m, _ = study.room.size_m
    wide = (WIDTH - 2 * _MARGIN - _BETWEEN) / 2
    scale = min(wide / width_m, _TALLEST / length_m)
    band = band_words(low, high)
    differences = [seat_differences_db(outcome, low, high) for _, outcome in shown]
    canvas = Canvas(f"Louder and softer seats, {band}", _described(study, shown, differences))
    for n, (title, _) in enumerate(shown):
        left = _MARGIN + n * (wide + _BETWEEN)
        canvas.text((left, 16.0), title, _SIZE + 2, bold=True)
        canvas.text((left, 31.0), f"{band}, dB against the mean of the seats", _SIZE, fill=SOFT)
        corner = (left + (wide - width_m * scale) / 2, _UPPER)
        _room(canvas, study, corner, scale)
        _seats(canvas, study, corner, scale, differences[n])
    below = _UPPER + length_m * scale + 18.0
    words = (
        "Plan, front wall at the top. Circles: seats, numbered below, with how much louder (+) or softer (−) than the"
        f" mean; primary seats have a double ring. Squares: subwoofers by number. Seats: {_names(study)}. {CAUTION}"
    )
    lines = wrapped(words, _SIZE, WIDTH - 2 * _MARGIN)
    for n, line in enumerate(lines):
        canvas.text((_MARGIN, below + 13.0 * n), line, _SIZE, fill=SOFT)
    return canvas.picture(WIDTH, below + 13.0 * len(lines))


def _room(canvas: Canvas, study: BassStudy, corner: Spot, scale: float) -> None:
    length_m, width_m, _ = study.room.size_m
    left, upper = corner
    canvas.rect(left, upper, width_m * scale, length_m * scale, fill="#f6f8f7", stroke=INK, stroke_width="1.6")
    canvas.text((left + width_m * scale / 2, upper + 11), "Front", _SIZE - 1, anchor="middle", fill=SOFT)
    for number, one in enumerate(study.subwoofers, start=1):
        x, y = left + one.position.y_m * scale, upper + one.position.x_m * scale
        look = {"fill": INK} if one.used else {"fill": PAPER, "stroke": SOFT, "stroke_dasharray": "2 2"}
        with canvas.group("subwoofer", title=one.name if one.used else f"{one.name}, position to choose"):
            canvas.rect(x - 8, y - 8, 16, 16, **look)
            canvas.text((x, y + 3.5), str(number), _SIZE, anchor="middle", fill=PAPER if one.used else SOFT)


def _seats(canvas: Canvas, study: BassStudy, corner: Spot, scale: float, differences_db: tuple[float, ...]) -> None:
    radius = _radius(study, scale)
    for number, (seat, value) in enumerate(zip(study.seats, differences_db, strict=True), start=1):
        spot = (corner[0] + seat.position.y_m * scale, corner[1] + seat.position.x_m * scale)
        with canvas.group("seat", title=f"{seat.name}: {value:+.1f} dB", seat=seat.name):
            if seat.primary:
                canvas.circle(spot, radius + 2.5, fill="none", stroke=INK, stroke_width="0.9")
            canvas.circle(spot, radius, fill=colour(value), stroke=INK, stroke_width="0.8")
            canvas.text((spot[0], spot[1] + 3.2), signed(value), radius * 0.58, anchor="middle", bold=True)
            canvas.text((spot[0], spot[1] + radius + 10.5), str(number), _SIZE - 1, anchor="middle", fill=SOFT)


def _radius(study: BassStudy, scale: float) -> float:
    """As large as the nearest two seats allow."""
    places = [(seat.position.x_m, seat.position.y_m) for seat in study.seats]
    apart_m = [
        ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5
        for n, (ax, ay) in enumerate(places)
        for bx, by in places[:n]
        if (ax, ay) != (bx, by)
    ]
    nearest = min(apart_m, default=1.0) * scale
    return min(max(nearest / 2 - 4, _LEAST_RADIUS), _MOST_RADIUS)


def colour(value_db: float) -> str:
    """White at 0, towards orange when louder and towards blue when softer, full at 6 dB.

    >>> colour(0.0), colour(6.0) == colour(9.0), colour(-3.0)
    ('#ffffff', True, '#aad0d8')
    """
    full = _LOUDER if value_db > 0 else _SOFTER
    part = min(abs(value_db) / _FULL_DB, 1.0)
    return "#" + "".join(f"{round(255 + (one - 255) * part):02x}" for one in full)


def signed(value_db: float) -> str:
    """A difference with its sign; nothing is ever -0.0.

    >>> signed(1.24), signed(-0.04), signed(-3.0)
    ('+1.2', '0.0', '−3.0')
    """
    rounded = round(value_db, 1) + 0.0
    return f"{rounded:+.1f}".replace("-", "\N{MINUS SIGN}") if rounded else "0.0"


def _names(study: BassStudy) -> str:
    return ", ".join(f"{n} {shortened(seat.name, _SIZE, 160.0)}" for n, seat in enumerate(study.seats, start=1))


def _described(study: BassStudy, shown: list[tuple[str, Outcome]], differences: list[tuple[float, ...]]) -> str:
    parts = (
        f"{title}: {', '.join(f'{seat.name} {value:+.1f} dB' for seat, value in zip(study.seats, values, strict=True))}"
        for (title, _), values in zip(shown, differences, strict=True)
    )
    return f"{'; '.join(parts)}. {CAUTION}"
