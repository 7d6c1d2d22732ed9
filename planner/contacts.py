"""Connectors, genders, and what mates with what (rule R3).

Pin roles and genders follow AES14 / IEC 60268-12 practice for XLR (an output shows male
pins, an input shows female sockets); RCA and TRS jacks on equipment are always sockets.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Connector(StrEnum):
    """Connector families, in the trade's own names."""

    RCA = "rca"
    XLR = "xlr"
    TRS = "trs"
    TERMINAL = "terminal"
    BINDING_POST = "binding_post"
    SPEAKER_4POLE = "speaker_4pole"
    AES3 = "aes3"
    AES67 = "aes67"
    BARE = "bare"


class Gender(StrEnum):
    """`MALE` is a plug with pins (or a bare tail), `FEMALE` a socket (or a clamp)."""

    MALE = "male"
    FEMALE = "female"


class Direction(StrEnum):
    """Which way the signal passes a port, seen from its device."""

    IN = "in"
    OUT = "out"


class PinRole(StrEnum):
    """What a pin is for. At an unbalanced connector SHIELD is the signal's return as well."""

    HOT = "hot"
    COLD = "cold"
    SHIELD = "shield"
    PLUS = "plus"
    MINUS = "minus"
    UNUSED = "unused"


DIGITAL = frozenset({Connector.AES3, Connector.AES67})
SPEAKER_LEVEL = frozenset({Connector.BINDING_POST, Connector.SPEAKER_4POLE})
CLAMPS = frozenset({Connector.TERMINAL, Connector.BINDING_POST})


@dataclass(frozen=True, slots=True, order=True)
class Contact:
    """One end of a lead, or one jack: a connector family and a gender."""

    connector: Connector
    gender: Gender

    def __str__(self) -> str:
        if self.connector is Connector.BARE:
            return "bare tail"
        return f"{self.connector.value} {self.gender.value}"


_PRINTED: Mapping[str, PinRole] = {
    **dict.fromkeys(("+", "hot", "h", "signal", "sig"), PinRole.HOT),
    **dict.fromkeys(("-", "\N{MINUS SIGN}", "\N{EN DASH}", "cold", "c"), PinRole.COLD),
    **dict.fromkeys(("shield", "screen", "gnd", "ground", "earth", "g", "0v", "\N{EARTH GROUND}"), PinRole.SHIELD),
}

BARE_TAIL = Contact(Connector.BARE, Gender.MALE)


def jack(connector: Connector, direction: Direction) -> Contact:
    """The contact that a device shows at a port of this connector and direction."""
    if connector in (Connector.XLR, Connector.AES3) and direction is Direction.OUT:
        return Contact(connector, Gender.MALE)
    return Contact(connector, Gender.FEMALE)


def mates(one: Contact, other: Contact) -> bool:
    """Whether two contacts join: same family and opposite gender, or a bare tail in a clamp."""
    if one.gender is other.gender:
        return False
    male, female = (one, other) if one.gender is Gender.MALE else (other, one)
    if male == BARE_TAIL:
        return female.connector in CLAMPS
    return male.connector is female.connector


def printed_role(legend: str) -> PinRole | None:
    """The role of a way of a terminal block by what is printed beside it; None for an unknown legend.

    >>> printed_role("GND"), printed_role("?")
    (<PinRole.SHIELD: 'shield'>, None)
    """
    return _PRINTED.get(legend.strip().casefold())
