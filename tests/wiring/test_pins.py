"""What each pin carries, against the standards and the trade."""

import pytest

from planner.catalogue.records import PortGroup, PortRole
from planner.contacts import Connector, Direction, PinRole, printed_role
from planner.wiring.pins import block_pins, pins_of

HOT, COLD, SHIELD = PinRole.HOT, PinRole.COLD, PinRole.SHIELD
PLUS, MINUS, UNUSED = PinRole.PLUS, PinRole.MINUS, PinRole.UNUSED


@pytest.mark.parametrize(
    ("connector", "roles"),
    [
        # AES14 and IEC 60268-12: 1 shield, 2 hot (+), 3 cold (-); read at second hand in a public design note.
        (Connector.XLR, {"1": SHIELD, "2": HOT, "3": COLD}),
        # Trade convention for the IEC 60603-11 jack; from memory.
        (Connector.TRS, {"tip": HOT, "ring": COLD, "sleeve": SHIELD}),
        # Trade convention for the IEC 60603-14 connector; from memory.
        (Connector.RCA, {"centre": HOT, "shell": SHIELD}),
        # Common practice, no published source.
        (Connector.SPEAKER_4POLE, {"1+": PLUS, "1-": MINUS, "2+": UNUSED, "2-": UNUSED}),
        (Connector.BINDING_POST, {"+ (red)": PLUS, "- (black)": MINUS}),
    ],
)
def test_each_pin_has_its_role(connector: Connector, roles: dict[str, PinRole]) -> None:
    assert {pin.name: pin.role for pin in pins_of(connector)} == roles


def block(*pins: str, balanced: bool = True) -> list[tuple[str, PinRole]]:
    port = PortGroup(
        device="D", name="IN", direction=Direction.IN, role=PortRole.PLAIN, connector=Connector.TERMINAL,
        balanced=balanced, count=1, pin_order=pins,
    )  # fmt: skip
    return [(pin.name, pin.role) for pin in block_pins(port)]


def test_a_terminal_block_keeps_the_order_and_the_words_of_its_print() -> None:
    assert block("G", "C", "H") == [("G", SHIELD), ("C", COLD), ("H", HOT)]
    assert block("+", "-") == [("+", HOT), ("-", COLD)]
    assert block("+", "shield", balanced=False) == [("+", HOT), ("shield", SHIELD)]


def test_the_minus_of_an_unbalanced_block_is_the_return_where_nothing_else_is() -> None:
    assert block("+", "-", balanced=False) == [("+", HOT), ("-", SHIELD)]


def test_without_a_printed_order_the_usual_ways_are_named() -> None:
    assert block() == [("+", HOT), ("-", COLD), ("shield", SHIELD)]
    assert block(balanced=False) == [("+", HOT), ("shield", SHIELD)]


@pytest.mark.parametrize("legend", ["", "?", "L", "N", "live", "S"])
def test_a_legend_that_may_mean_anything_means_nothing(legend: str) -> None:
    assert printed_role(legend) is None
