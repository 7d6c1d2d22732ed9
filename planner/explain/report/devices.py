"""E3 as printed: each device with what the design would cost without it, and those that no option uses."""

from collections.abc import Iterable

from planner.comparison.words import Names
from planner.explain.left_out import LeftOutList
from planner.explain.sentences import beyond_sentence, device_sentences, left_out_sentence
from planner.explain.why_gear import WhyDevice
from planner.options import Option
from planner.tables.layout import paragraph, section


def device_section(devices: Iterable[WhyDevice], option: Option, currency: str, name_by_sku: Names) -> list[str]:
    """Why each device of an option."""
    lines = [
        line
        for device in devices
        for text in device_sentences(device, currency, name_by_sku)
        for line in paragraph(text, "  ", "- ")
    ]
    start = paragraph("The least extra price without each device, with nothing that the option offers given up:")
    return section(f"Why the devices of option {option.id}", [*start, *lines])


def left_out_section(found: LeftOutList, currency: str, name_by_sku: Names) -> list[str]:
    """The devices that no option uses, nearest first."""
    lines = [
        line
        for device in found.devices
        for text in (left_out_sentence(device, currency, name_by_sku),)
        for line in paragraph(text, "  ", "- ")
    ]
    return section(
        "Devices that no option uses, the nearest first", [*lines, *paragraph(beyond_sentence(found, currency))]
    )
