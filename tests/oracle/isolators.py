"""For brute force: every choice of leads to put an isolator into."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from tests.oracle.electrics import is_earthed
from tests.oracle.instance import Instance
from tests.oracle.leads import Line
from tests.oracle.tally import Sketch
from tests.oracle.wiring import Serving

Place = tuple[int, int]
"""The number of a serving, and of a lead in it; beyond the servings, that of an entry into a box."""


def with_isolators(instance: Instance, sketch: Sketch) -> Iterator[Sketch]:
    """The sketch, and every other that differs from it by isolators."""
    places = list(_places(instance, sketch)) if instance.catalogue.isolators else []
    for number in range(len(places) + 1):
        for chosen in combinations(places, number):
            yield _isolated(sketch, chosen) if chosen else sketch


def _places(instance: Instance, sketch: Sketch) -> Iterator[Place]:
    """The line-level leads before something earthed, outside daisy chains; those into boxes are numbered on."""
    items = {item.sku: item for item in instance.catalogue.items()}
    for number, entry in enumerate(sketch.feeds_in):
        if is_earthed(sketch.scenario.processor) and is_earthed(sketch.boxes[entry.box]):
            yield len(sketch.servings) + number, 0
    for number, serving in enumerate(sketch.servings):
        if serving.chained or serving.point.speaker_level:
            continue
        leads = [place for place, line in enumerate(serving.wires.lines) if not line.speaker_level]
        for place, group in zip(leads, serving.wires.ends, strict=True):
            if is_earthed(items[group.device]):
                yield number, place


def _isolated(sketch: Sketch, places: tuple[Place, ...]) -> Sketch:
    servings = tuple(
        _serving(serving, {place for at, place in places if at == number})
        for number, serving in enumerate(sketch.servings)
    )
    boxes = {at - len(servings) for at, _ in places}
    feeds_in = tuple(
        entry._replace(line=replace(entry.line, isolated=True)) if number in boxes else entry
        for number, entry in enumerate(sketch.feeds_in)
    )
    return sketch._replace(servings=servings, feeds_in=feeds_in)


def _serving(serving: Serving, places: set[int]) -> Serving:
    if not places:
        return serving
    lines: tuple[Line, ...] = tuple(
        replace(line, isolated=True) if place in places else line for place, line in enumerate(serving.wires.lines)
    )
    return replace(serving, wires=replace(serving.wires, lines=lines))
