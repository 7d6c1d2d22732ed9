"""How far the seats differ at each frequency: before, and with each subwoofer set on its own."""

from planner.bass.outcome import Outcome
from planner.bass.study import BassStudy, ComparedWay
from planner.drawings.axes import Axes, round_up
from planner.drawings.bass_words import BEFORE, CAUTION, after_words, band_words
from planner.drawings.svg import SOFT, Canvas

WIDTH, HEIGHT = 760.0, 320.0
_SIZE = 9.5
_BEFORE = {"stroke": "#c0762b", "stroke_width": "1.8", "stroke_dasharray": "6 3"}
_AFTER = {"stroke": "#1f5f5a", "stroke_width": "2.4"}


def spread_svg(study: BassStudy, way: ComparedWay | None = None) -> str:
    """The standard deviation over the seats along the band, dashed before and solid after.

    After: with the way of control given; None: each subwoofer on its own. One curve where nothing can be set.
    """
    shown = [(BEFORE, study.before, _BEFORE)]
    if len(study.ways) > 1:
        after = way or study.ways[-1]
        shown.append((after_words(study, after), after.outcome, _AFTER))
    greatest = max(one.deviation_db for _, outcome, _ in shown for one in outcome.by_frequency)
    canvas = Canvas(
        "How far the seats differ",
        f"{band_words(study.band.low_hz, study.band.high_hz)}; "
        f"{'; '.join(_words(title, outcome) for title, outcome, _ in shown)}. {CAUTION}",
    )
    axes = Axes(
        left=36.0,
        upper=30.0,
        width=WIDTH - 56.0,
        height=200.0,
        low=study.frequency_hz[0],
        high=study.frequency_hz[-1],
        bottom=0.0,
        top=round_up(max(greatest, 0.6) / 6) * 6,
    )
    axes.draw(canvas, "How far the seats differ", "Frequency, Hz", "Standard deviation over the seats, dB")
    for n, (title, outcome, look) in enumerate(shown):
        curve = axes.curve(study.frequency_hz, [one.deviation_db for one in outcome.by_frequency])
        with canvas.group("spread", title=title):
            canvas.line(curve, **look, stroke_linejoin="round")
            canvas.line([(36.0, 278.0 + 14 * n), (66.0, 278.0 + 14 * n)], **look)
            canvas.text((72.0, 281.5 + 14 * n), _words(title, outcome), _SIZE)
    canvas.text((36.0, 281.5 + 14 * len(shown) + 2), CAUTION, _SIZE, fill=SOFT)
    return canvas.picture(WIDTH, HEIGHT)


def _words(title: str, outcome: Outcome) -> str:
    return f"{title}: {outcome.spread.spread_db:.2f} dB over the band"
