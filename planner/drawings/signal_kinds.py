"""What runs on a lead, and how its line is drawn: told apart by dash and weight, and by colour besides."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from planner.checks.sockets import Level, Socket


class SignalKind(StrEnum):
    """What runs on a lead. CONVERTED: line level, balanced at one end and unbalanced at the other."""

    BALANCED = "balanced"
    UNBALANCED = "unbalanced"
    CONVERTED = "converted"
    SPEAKER = "speaker"
    DIGITAL = "digital"


@dataclass(frozen=True, kw_only=True, slots=True)
class Stroke:
    """A line: its words for the legend, weight, dashes ("" for none) and colour."""

    words: str
    weight: float
    dashes: str
    colour: str

    @property
    def look(self) -> dict[str, str]:
        """The attributes of the line."""
        look = {"stroke": self.colour, "stroke_width": f"{self.weight:g}", "stroke_linejoin": "round"}
        return look | ({"stroke_dasharray": self.dashes} if self.dashes else {})


STROKES: Mapping[SignalKind, Stroke] = {
    SignalKind.BALANCED: Stroke(words="line, balanced", weight=1.4, dashes="", colour="#1b4f7a"),
    SignalKind.UNBALANCED: Stroke(words="line, unbalanced", weight=1.4, dashes="5 2.5", colour="#8a4b12"),
    SignalKind.CONVERTED: Stroke(
        words="line, balanced at one end only", weight=1.4, dashes="8 2.5 1.5 2.5", colour="#7a2e5d"
    ),
    SignalKind.SPEAKER: Stroke(words="loudspeaker level", weight=2.6, dashes="", colour="#4c5553"),
    SignalKind.DIGITAL: Stroke(words="digital", weight=2.2, dashes="1 3.2", colour="#24645f"),
}


def kind_of(source: Socket, sink: Socket) -> SignalKind:
    """What runs from one socket to the other."""
    match source.level:
        case Level.SPEAKER:
            return SignalKind.SPEAKER
        case Level.DIGITAL:
            return SignalKind.DIGITAL
        case Level.LINE if source.balanced is sink.balanced:
            return SignalKind.BALANCED if source.balanced else SignalKind.UNBALANCED
        case Level.LINE:
            return SignalKind.CONVERTED
