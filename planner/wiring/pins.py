"""The pins of every connector, and what each carries.

XLR: 1 shield, 2 hot, 3 cold (AES14, IEC 60268-12). 6.35 mm TRS: tip hot, ring cold, sleeve
shield; RCA: centre hot, shell signal return and shield (IEC 60603 families, roles by trade
convention). A terminal block has no order of its own: it is the one printed on the device.
4-pole loudspeaker connector: 1+ and 1- carry the one circuit there is (common practice, no
published source).
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.catalogue.records import PortGroup
from planner.contacts import Connector, PinRole, printed_role


@dataclass(frozen=True, slots=True)
class Pin:
    """One pin: its name as it stands on the connector, and its role."""

    name: str
    role: PinRole


_PINS: Mapping[Connector, tuple[Pin, ...]] = {
    Connector.XLR: (Pin("1", PinRole.SHIELD), Pin("2", PinRole.HOT), Pin("3", PinRole.COLD)),
    Connector.TRS: (Pin("tip", PinRole.HOT), Pin("ring", PinRole.COLD), Pin("sleeve", PinRole.SHIELD)),
    Connector.RCA: (Pin("centre", PinRole.HOT), Pin("shell", PinRole.SHIELD)),
    Connector.BINDING_POST: (Pin("+ (red)", PinRole.PLUS), Pin("- (black)", PinRole.MINUS)),
    Connector.SPEAKER_4POLE: (
        Pin("1+", PinRole.PLUS),
        Pin("1-", PinRole.MINUS),
        Pin("2+", PinRole.UNUSED),
        Pin("2-", PinRole.UNUSED),
    ),
}

_BALANCED_BLOCK = (Pin("+", PinRole.HOT), Pin("-", PinRole.COLD), Pin("shield", PinRole.SHIELD))
_UNBALANCED_BLOCK = (Pin("+", PinRole.HOT), Pin("shield", PinRole.SHIELD))


def pins_of(connector: Connector) -> tuple[Pin, ...]:
    """The pins of a connector whose pins are the same on every device; none for a terminal block.

    >>> [f"{pin.name} {pin.role.value}" for pin in pins_of(Connector.XLR)]
    ['1 shield', '2 hot', '3 cold']
    """
    return _PINS.get(connector, ())


def block_pins(port: PortGroup) -> tuple[Pin, ...]:
    """The ways of a terminal block in the order printed on the device.

    Where the catalogue gives no order, the usual ways in no order that may be relied on. On
    an unbalanced block "-" is the return, where no other way is.
    """
    if not port.pin_order:
        return _BALANCED_BLOCK if port.balanced else _UNBALANCED_BLOCK
    pins = tuple(Pin(legend, printed_role(legend) or PinRole.UNUSED) for legend in port.pin_order)
    if port.balanced or any(pin.role is PinRole.SHIELD for pin in pins):
        return pins
    return tuple(Pin(pin.name, PinRole.SHIELD) if pin.role is PinRole.COLD else pin for pin in pins)
