"""The few shapes that the pictures are made of, written as SVG 1.1 with a fixed layout of bytes."""

import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from planner.drawings.lettering import FAMILY

INK, SOFT, FAINT, PAPER = "#1d2726", "#55605e", "#b9c0be", "#ffffff"

Spot = tuple[float, float]


class Canvas:
    """A picture as it is drawn, from the back to the front. All lengths are in its own unit."""

    def __init__(self, title: str, description: str) -> None:
        self._root = ET.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "role": "img",
                "aria-labelledby": "picture-title picture-description",
                "font-family": FAMILY,
            },
        )
        ET.SubElement(self._root, "title", {"id": "picture-title"}).text = _clean(title)
        ET.SubElement(self._root, "desc", {"id": "picture-description"}).text = _clean(description)
        self._open = [self._root]

    @contextmanager
    def group(self, name: str, title: str = "", **data: str) -> Iterator[None]:
        """A group of shapes, `name` its class; `title` is shown on pointing, `data` tells what it stands for."""
        found = ET.SubElement(self._open[-1], "g", {"class": name, **_data(data)})
        if title:
            ET.SubElement(found, "title").text = _clean(title)
        self._open.append(found)
        yield
        self._open.pop()

    def rect(self, left: float, top: float, width: float, height: float, **look: str) -> None:
        """A rectangle; `look` is its presentation attributes, with _ for -."""
        place = {"x": _number(left), "y": _number(top), "width": _number(width), "height": _number(height)}
        ET.SubElement(self._open[-1], "rect", place | _look(look))

    def circle(self, centre: Spot, radius: float, **look: str) -> None:
        """A circle."""
        place = {"cx": _number(centre[0]), "cy": _number(centre[1]), "r": _number(radius)}
        ET.SubElement(self._open[-1], "circle", place | _look(look))

    def line(self, points: Sequence[Spot], **look: str) -> None:
        """A line through points."""
        ET.SubElement(self._open[-1], "polyline", {"points": _points(points), "fill": "none"} | _look(look))

    def polygon(self, points: Sequence[Spot], **look: str) -> None:
        """A closed shape."""
        ET.SubElement(self._open[-1], "polygon", {"points": _points(points)} | _look(look))

    def text(
        self, at: Spot, words: str, size: float, *, anchor: str = "start", bold: bool = False, fill: str = INK,
        **look: str,
    ) -> None:  # fmt: skip
        """One line of text, its baseline at `at`."""
        attributes = {"x": _number(at[0]), "y": _number(at[1]), "font-size": _number(size), "fill": fill}
        if anchor != "start":
            attributes["text-anchor"] = anchor
        if bold:
            attributes["font-weight"] = "600"
        ET.SubElement(self._open[-1], "text", attributes | _look(look)).text = _clean(words)

    def picture(self, width: float, height: float) -> str:
        """The whole picture as text, with a size in its own unit and a white ground."""
        self._root.set("viewBox", f"0 0 {_number(width)} {_number(height)}")
        self._root.set("width", _number(width))
        self._root.set("height", _number(height))
        ground = {"x": "0", "y": "0", "width": _number(width), "height": _number(height), "fill": PAPER}
        self._root.insert(2, ET.Element("rect", ground))
        return ET.tostring(self._root, encoding="unicode") + "\n"


def _number(value: float) -> str:
    """Two decimals are a hundredth of a dot; zeros that say nothing are left out."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def _points(points: Sequence[Spot]) -> str:
    return " ".join(f"{_number(x)},{_number(y)}" for x, y in points)


def _look(look: dict[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in look.items()}


def _data(data: dict[str, str]) -> dict[str, str]:
    return {f"data-{name}": _clean(value) for name, value in data.items()}


def _clean(text: str) -> str:
    """The text without the characters that XML 1.0 forbids (section 2.2)."""
    return "".join(
        character for character in text
        if character in "\t\n\r" or " " <= character <= "\ud7ff" or "\ue000" <= character <= "\ufffd"
        or character > "\uffff"
    )  # fmt: skip
