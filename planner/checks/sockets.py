"""Every place on a device where something can be plugged in, whatever the device is.

Port groups of the catalogue and the two sides of a splitter or an isolator look alike here, so that a
rule about plugging is written once.
"""

from dataclasses import dataclass
from enum import StrEnum

from planner.catalogue.records import Isolator, Item, PortGroup, PortRole, Splitter
from planner.contacts import DIGITAL, SPEAKER_LEVEL, Connector, Contact, Direction


class Level(StrEnum):
    """What kind of signal a socket takes or gives."""

    LINE = "line"
    SPEAKER = "speaker"
    DIGITAL = "digital"


@dataclass(frozen=True, kw_only=True, slots=True)
class Socket:
    """A run of `count` identical jacks. `channels` are those listed for it, as in `PortGroup`."""

    name: str
    direction: Direction
    role: PortRole
    contact: Contact
    balanced: bool
    count: int
    level: Level
    channels: tuple[str, ...] = ()

    def has(self, index: int) -> bool:
        """Whether a jack of this index, counted from 1, exists."""
        return 1 <= index <= self.count


SPLITTER_INPUT = "IN"
SPLITTER_LEG = "LEG"
ISOLATOR_INPUT = "IN"
ISOLATOR_OUTPUT = "OUT"


def sockets_of(item: Item, ports: tuple[PortGroup, ...]) -> tuple[Socket, ...]:
    """The sockets of one catalogue item, in the order of the catalogue."""
    if isinstance(item, Splitter):
        return _splitter_sockets(item)
    if isinstance(item, Isolator):
        return _isolator_sockets(item)
    return tuple(
        Socket(
            name=port.name,
            direction=port.direction,
            role=port.role,
            contact=port.contact,
            balanced=port.balanced,
            count=port.count,
            level=_level(port.connector),
            channels=port.channels,
        )
        for port in ports
    )


def _splitter_sockets(splitter: Splitter) -> tuple[Socket, ...]:
    return (
        _plain(SPLITTER_INPUT, Direction.IN, splitter.input, splitter.balanced),
        _plain(SPLITTER_LEG, Direction.OUT, splitter.leg, splitter.balanced, splitter.legs),
    )


def _isolator_sockets(isolator: Isolator) -> tuple[Socket, ...]:
    return (
        _plain(ISOLATOR_INPUT, Direction.IN, isolator.input, isolator.input_balanced),
        _plain(ISOLATOR_OUTPUT, Direction.OUT, isolator.output, isolator.output_balanced),
    )


def _plain(name: str, direction: Direction, contact: Contact, balanced: bool, count: int = 1) -> Socket:
    return Socket(
        name=name,
        direction=direction,
        role=PortRole.PLAIN,
        contact=contact,
        balanced=balanced,
        count=count,
        level=_level(contact.connector),
    )


def _level(connector: Connector) -> Level:
    if connector in DIGITAL:
        return Level.DIGITAL
    return Level.SPEAKER if connector in SPEAKER_LEVEL else Level.LINE
