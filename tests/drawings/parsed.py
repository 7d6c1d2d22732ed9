"""A picture read back from its SVG: rectangles, lines and texts with the room that they take."""

import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from planner.drawings.lettering import text_width

SVG = "{http://www.w3.org/2000/svg}"
TOUCH = 0.05  # hundredths are rounded away


@dataclass(frozen=True)
class Area:
    left: float
    top: float
    right: float
    bottom: float
    name: str = ""

    def overlaps(self, other: "Area") -> bool:
        return (
            self.left < other.right - TOUCH
            and other.left < self.right - TOUCH
            and self.top < other.bottom - TOUCH
            and other.top < self.bottom - TOUCH
        )

    def holds(self, other: "Area") -> bool:
        return (
            self.left <= other.left + TOUCH
            and other.right <= self.right + TOUCH
            and self.top <= other.top + TOUCH
            and other.bottom <= self.bottom + TOUCH
        )


@dataclass(frozen=True)
class Line:
    points: tuple[tuple[float, float], ...]
    data: dict[str, str]

    def runs(self) -> Iterator[Area]:
        """Each straight run, as an area without width."""
        for (x1, y1), (x2, y2) in pairwise(self.points):
            yield Area(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2), self.data.get("mark", ""))

    def crosses(self, area: Area) -> bool:
        return any(_passes(run, area) for run in self.runs())

    def lies_on(self, other: "Line") -> bool:
        """Whether two lines share more than a point."""
        return any(_share(one, another) for one in self.runs() for another in other.runs())


class Picture:
    def __init__(self, text: str) -> None:
        self.text = text
        self.root = ET.fromstring(text)
        _, _, self.width, self.height = map(float, self.root.attrib["viewBox"].split())
        self.texts = [area_of(element) for element in self.root.iter(f"{SVG}text")]

    def groups(self, name: str) -> list[ET.Element]:
        return [group for group in self.root.iter(f"{SVG}g") if group.get("class") == name]

    def boxes(self, name: str = "box", key: str = "unit") -> dict[str, Area]:
        """The first rectangle of each group of a class, by what it stands for."""
        found = {}
        for group in self.groups(name):
            rect = group.find(f"{SVG}rect")
            assert rect is not None
            found[group.attrib[f"data-{key}"]] = rect_area(rect)
        return found

    def lines(self, name: str = "lead") -> list[Line]:
        found = []
        for group in self.groups(name):
            line = group.find(f"{SVG}polyline")
            assert line is not None
            points = tuple((float(x), float(y)) for x, y in (pair.split(",") for pair in line.attrib["points"].split()))
            found.append(Line(points, {k.removeprefix("data-"): v for k, v in group.attrib.items()}))
        return found


def rect_area(rect: ET.Element) -> Area:
    left, top = float(rect.attrib["x"]), float(rect.attrib["y"])
    return Area(left, top, left + float(rect.attrib["width"]), top + float(rect.attrib["height"]))


def area_of(text: ET.Element) -> Area:
    """The room of a text: from the height of capitals to the depth of descenders, in Helvetica 0.72 and 0.21 em."""
    size, words = float(text.attrib["font-size"]), text.text or ""
    width = text_width(words, size, bold=text.get("font-weight") == "600")
    x, y = float(text.attrib["x"]), float(text.attrib["y"])
    left = {"start": x, "middle": x - width / 2, "end": x - width}[text.get("text-anchor", "start")]
    return Area(left, y - 0.72 * size, left + width, y + 0.21 * size, words)


def overlapping(areas: Sequence[Area]) -> list[tuple[str, str]]:
    return [(one.name, other.name) for one, other in combinations(areas, 2) if one.overlaps(other)]


def _passes(run: Area, area: Area) -> bool:
    return (
        run.left < area.right - TOUCH
        and run.right > area.left + TOUCH
        and run.top < area.bottom - TOUCH
        and run.bottom > area.top + TOUCH
    )


def _share(one: Area, other: Area) -> bool:
    across = abs(one.top - one.bottom) < TOUCH and abs(other.top - other.bottom) < TOUCH
    upright = abs(one.left - one.right) < TOUCH and abs(other.left - other.right) < TOUCH
    if across and abs(one.top - other.top) < TOUCH:
        return min(one.right, other.right) - max(one.left, other.left) > -TOUCH
    if upright and abs(one.left - other.left) < TOUCH:
        return min(one.bottom, other.bottom) - max(one.top, other.top) > -TOUCH
    return False
