"""One line chain as a level diagram: its jacks across in the order of flow, levels upwards.

Each line is told by its dash and the shape of its marks as well as by its colour, and named in
the legend; ceilings are steps as wide as their jack. The least margin is a bracket.
"""

import json
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import altair as alt
import pandas as pd

from planner.design import Jack
from planner.physics.levels import ChainLevels, Point, level_words
from planner.physics.noise import ChainNoise
from planner.tables.cells import decimals
from ui.level_scale import LevelScale, level_scale

_HEIGHT = 480
_NAME_WIDTH, _NARROW_NAME_WIDTH, _ROOMY = 18, 11, 4


@dataclass(frozen=True, slots=True)
class _Look:
    name: str
    colour: str
    dash: tuple[int, int]
    shape: str


# As in `ui.charts`: told apart in lightness too, and readable on the light and the dark ground.
_CEILING = _Look("Ceiling of the jack", "#7a7a7a", (1, 0), "stroke")
_GREATEST = _Look("Greatest level", "#2f7f79", (1, 0), "circle")
_FULL = _Look("Level at full output", "#c0762b", (8, 4), "square")
_NOISE = _Look("Noise floor", "#6a6fb5", (2, 3), "triangle-up")
_LOOKS = (_CEILING, _GREATEST, _FULL, _NOISE)
_MARGIN_COLOUR = "#a8476a"

_COLUMNS = ("line", "stage", "height", "jack", "words", "figure", "above", "part")
_Row = dict[str, str | float]


def level_diagram(levels: ChainLevels, noise: ChainNoise) -> alt.LayerChart:
    """The diagram of one chain: greatest level, level at full output, noise floor and ceilings, in dBu and volts."""
    scale = _scale(levels, noise)
    x, y = _across([point.jack for point in levels.points]), _up(scale)
    marks, steps = _chart(_marks(levels, noise, scale)), _chart(_steps(levels, scale))
    names = [look.name for look in _LOOKS]
    colour = alt.Color("line:N", title=None, scale=alt.Scale(domain=names, range=[look.colour for look in _LOOKS]))
    shape = alt.Shape("line:N", title=None, scale=alt.Scale(domain=names, range=[look.shape for look in _LOOKS]))
    tips = [
        alt.Tooltip("jack:N", title="Jack"),
        alt.Tooltip("line:N", title="Line"),
        alt.Tooltip("words:N", title="Level"),
    ]
    text = {"x": x, "y": y, "text": "figure:N", "color": colour}
    layers = [
        *_break(scale, len(levels.points), x, y),
        steps.mark_line(strokeWidth=3, opacity=0.7).encode(x=x, y=y, color=colour, detail="part:N", tooltip=tips),
        *(_line(marks, look, x, y) for look in _LOOKS if look is not _CEILING),
        marks.mark_point(size=90, filled=True, opacity=1).encode(x=x, y=y, color=colour, shape=shape, tooltip=tips),
        marks.transform_filter(alt.datum.above == "yes").mark_text(dy=-13, fontSize=12).encode(**text),
        marks.transform_filter(alt.datum.above == "no").mark_text(dy=15, fontSize=12).encode(**text),
        *_least_margin(levels, scale, x, y),
    ]
    legend = alt.LegendConfig(orient="bottom", columns=4, labelLimit=300, symbolSize=120, symbolStrokeWidth=3)
    return alt.LayerChart(  # all at once: each later setting would copy the whole chart
        layer=[alt.LayerChart(layer=layers), _volts_axis(scale, x)],
        resolve=alt.Resolve(scale=alt.ScaleResolveMap(y="independent")),
        height=_HEIGHT,
        config=alt.Config(legend=legend),
    )


def _scale(levels: ChainLevels, noise: ChainNoise) -> LevelScale:
    signal = [
        level
        for point in levels.points
        for level in (point.ceiling_dbu, point.at_maximum_dbu, point.at_full_output_dbu)
        if level is not None
    ]
    return level_scale(signal, [floor for floor in noise.floors_dbu if floor is not None])


def _marks(levels: ChainLevels, noise: ChainNoise, scale: LevelScale) -> Iterator[_Row]:
    """A row for each level that is known. A line breaks off where it is not: a part for each run of known ones."""
    lines: tuple[tuple[_Look, Sequence[float | None]], ...] = (
        (_GREATEST, [point.at_maximum_dbu for point in levels.points]),
        (_FULL, [point.at_full_output_dbu for point in levels.points]),
        (_NOISE, noise.floors_dbu),
    )
    for look, line in lines:
        for stage, (point, level_dbu) in enumerate(zip(levels.points, line, strict=True)):
            if level_dbu is not None:
                part = sum(level is None for level in line[:stage])
                above = "yes" if _stands_above(look, point) else "no"
                yield {**_row(look, stage, level_dbu, point.jack, scale), "above": above, "part": str(part)}


def _stands_above(look: _Look, point: Point) -> bool:
    """Whether the figure goes above its mark: of the two levels of the signal that of the greater does."""
    if look is _NOISE or point.at_maximum_dbu is None or point.at_full_output_dbu is None:
        return look is not _NOISE
    return (point.at_maximum_dbu >= point.at_full_output_dbu) is (look is _GREATEST)


def _steps(levels: ChainLevels, scale: LevelScale) -> Iterator[_Row]:
    """Two corners for each ceiling, so that neighbours join as steps; a jack without one leaves a gap."""
    part = 0
    for stage, point in enumerate(levels.points):
        if point.ceiling_dbu is None:
            part += 1
            continue
        for corner in (stage - 0.5, stage + 0.5):
            yield {**_row(_CEILING, corner, point.ceiling_dbu, point.jack, scale), "part": str(part)}


def _row(look: _Look, stage: float, level_dbu: float, jack: Jack, scale: LevelScale) -> _Row:
    figure = decimals(level_dbu)
    return {
        "line": look.name,
        "stage": stage,
        "height": scale.height(level_dbu),
        "jack": str(jack),
        "words": level_words(level_dbu),
        "figure": figure.replace("-", "\u2212") if figure.startswith("-") else f"+{figure}",
    }


def _line(marks: alt.Chart, look: _Look, x: alt.X, y: alt.Y) -> alt.Chart:
    of_look = marks.transform_filter(alt.datum.line == look.name)
    line: alt.Chart = of_look.mark_line(strokeWidth=2, color=look.colour, strokeDash=list(look.dash)).encode(
        x=x, y=y, detail="part:N"
    )
    return line


def _chart(rows: Iterator[_Row]) -> alt.Chart:
    return alt.Chart(pd.DataFrame(list(rows), columns=list(_COLUMNS)))


def _across(jacks: Sequence[Jack]) -> alt.X:
    """The jacks by name, in lines short enough to stand side by side."""
    width = _NAME_WIDTH if len(jacks) <= _ROOMY else _NARROW_NAME_WIDTH
    names = [
        [line for words in (jack.unit, f"{jack.group} {jack.index}") for line in textwrap.wrap(words, width)]
        for jack in jacks
    ]
    return alt.X(
        "stage:Q",
        title=None,
        scale=alt.Scale(domain=[-0.5, len(jacks) - 0.5], nice=False, zero=False),
        axis=alt.Axis(
            values=list(range(len(jacks))),
            labelExpr=f"({json.dumps(names)})[datum.value]",
            labelLimit=190,
            labelOverlap=False,
            labelFontSize=12,
            grid=False,
        ),
    )


def _up(scale: LevelScale) -> alt.Y:
    return _height("Level, dBu rms", scale, scale.ticks_dbu(), orient="left", grid=True)


def _volts_axis(scale: LevelScale, x: alt.X) -> alt.Chart:
    """The same scale in volts, on the right."""
    ends = pd.DataFrame([{"stage": 0.0, "height": height} for height in scale.span])
    y = _height("Volts rms", scale, scale.ticks_v(), orient="right", grid=False)
    chart: alt.Chart = alt.Chart(ends).mark_point(opacity=0).encode(x=x, y=y)
    return chart


def _height(
    title: str, scale: LevelScale, ticks: Mapping[float, str], *, orient: Literal["left", "right"], grid: bool
) -> alt.Y:
    """Heights, with ticks where the scale says. A tick is labelled by its number, since heights are not round."""
    places = list(ticks)
    nearest = f"indexof({json.dumps([round(place, 6) for place in places])}, round(datum.value * 1e6) / 1e6)"
    return alt.Y(
        "height:Q",
        title=title,
        scale=alt.Scale(domain=list(scale.span), nice=False, zero=False),
        axis=alt.Axis(
            orient=orient,
            values=[round(place, 6) for place in places],
            labelExpr=f"({json.dumps(list(ticks.values()))})[{nearest}]",
            grid=grid,
        ),
    )


def _break(scale: LevelScale, stages: int, x: alt.X, y: alt.Y) -> Iterator[alt.Chart]:
    """Two dashed lines across, and a word between them, where the scale leaves levels out."""
    if scale.breaks is None:
        return
    lines = pd.DataFrame(
        [
            {"stage": stage, "height": height, "part": str(height)}
            for height in scale.breaks
            for stage in (-0.5, stages - 0.5)
        ]
    )
    yield (
        alt.Chart(lines).mark_line(color="#7a7a7a", strokeDash=[3, 3], strokeWidth=1).encode(x=x, y=y, detail="part:N")
    )
    middle = pd.DataFrame([{"stage": -0.5, "height": sum(scale.breaks) / 2, "words": "scale broken here"}])
    text = alt.Chart(middle).mark_text(color="#7a7a7a", align="left", dx=8, fontStyle="italic", fontSize=11)
    yield text.encode(x=x, y=y, text="words:N")


def _least_margin(levels: ChainLevels, scale: LevelScale, x: alt.X, y: alt.Y) -> Iterator[alt.Chart]:
    """A bracket from the level at full output to the ceiling, at the jack that clips first."""
    for stage, point in enumerate(levels.points):
        full_dbu, ceiling_dbu = point.at_full_output_dbu, point.ceiling_dbu
        if point.jack != levels.first_to_clip or full_dbu is None or ceiling_dbu is None:
            continue
        heights = (scale.height(full_dbu), scale.height(ceiling_dbu))
        ends = pd.DataFrame([{"stage": stage, "height": height} for height in heights])
        yield alt.Chart(ends).mark_line(color=_MARGIN_COLOUR, strokeWidth=5).encode(x=x, y=y)
        words = pd.DataFrame([{"stage": stage, "height": max(heights), "words": margin_words(ceiling_dbu - full_dbu)}])
        text = alt.Chart(words).mark_text(color=_MARGIN_COLOUR, fontWeight="bold", fontSize=13, dy=-31)
        yield text.encode(x=x, y=y, text="words:N")


def margin_words(margin_db: float) -> str:
    """A margin as it stands on the diagram.

    >>> margin_words(3.87), margin_words(-1.2)
    ('least margin 3.9 dB', '1.2 dB lacking')
    """
    figure = decimals(margin_db)
    return f"{figure[1:]} dB lacking" if figure.startswith("-") else f"least margin {figure} dB"
