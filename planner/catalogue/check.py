"""What must hold between the rows of a catalogue: names once, and every reference met."""

from collections.abc import Callable, Iterable, Iterator
from difflib import get_close_matches
from typing import Any, TypeVar

from planner.catalogue.cells import quoted
from planner.catalogue.check_devices import DEVICES, device_flaws, role_flaws
from planner.catalogue.check_records import record_flaws
from planner.catalogue.records import Card, Offer, PortGroup, Processor
from planner.catalogue.rows import Complaint, Entries, Entry, Flaw, Place
from planner.catalogue.schema import ITEM_SHEETS

R = TypeVar("R")

_ITEMS = tuple(sheet.record for sheet in ITEM_SHEETS)


def flaws(entries: Entries) -> Iterator[Flaw]:
    """Every flaw that only shows when rows are seen together."""
    yield from record_flaws(entries)
    yield from _repeated_skus(entries)
    yield from _repeated_port_groups(entries)
    yield from _repeated_offers(entries)
    yield from _unfit_hosts(entries)
    yield from _unknown_devices(entries)
    yield from _unknown_items(entries)
    yield from role_flaws(entries)
    yield from device_flaws(entries)


def _repeated(
    entries: Iterable[Entry[R]], key: Callable[[R], object], column: str, shown: Callable[[R], str], expected: str
) -> Iterator[Flaw]:
    """Entries whose key an earlier row has, each naming that row."""
    first: dict[object, Entry[R]] = {}
    for entry in entries:
        earlier = first.setdefault(key(entry.record), entry)
        if earlier is not entry:
            found = f"{shown(entry.record)}, which stands in {earlier.place} already"
            yield Complaint(column, found, expected, "Rename or delete one of the two.").at(entry.place)


def _repeated_skus(entries: Entries) -> Iterator[Flaw]:
    """Skus that an earlier row has, rows with faults of their own included."""
    rows = sorted((row for kind in _ITEMS for row in entries.named_rows(kind)), key=lambda row: row[1])
    first: dict[str, Place] = {}
    for sku, place in rows:
        earlier = first.setdefault(sku, place)
        if earlier is not place:
            found = f"{quoted(sku)}, which stands in {earlier} already"
            yield Complaint(
                "sku", found, "each sku once in the whole catalogue", "Rename or delete one of the two."
            ).at(place)


def _repeated_port_groups(entries: Entries) -> Iterator[Flaw]:
    return _repeated(
        entries.of(PortGroup),
        lambda port: (port.device, port.name),
        "name",
        lambda port: quoted(port.name),
        "each name once on a device",
    )


def _repeated_offers(entries: Entries) -> Iterator[Flaw]:
    return _repeated(
        entries.of(Offer),
        lambda offer: (offer.sku, offer.supplier),
        "supplier",
        lambda offer: f"{quoted(offer.supplier)} for {quoted(offer.sku)}",
        "one price for each sku and supplier",
    )


class _Names:
    """The skus of some kinds of item; every name counts as known where a sheet could not be read.

    Looking for the nearest name is slow, so only the first few unknown names get that help.
    """

    _MOST_GUESSES = 20
    _MOST_COMPARED = 5_000

    def __init__(self, entries: Entries, kinds: Iterable[type[Any]]) -> None:
        kinds = tuple(kinds)
        self._sure = {entry.record.sku for kind in kinds for entry in entries.of(kind)}
        self._doubtful = {sku for kind in kinds for sku in entries.doubtful(kind)}
        self._complete = all(entries.named(kind) for kind in kinds)
        self._compared = sorted(self._sure) if len(self._sure) <= self._MOST_COMPARED else []
        self._guesses = 0

    def lack(self, sku: str) -> bool:
        """Whether no such item is listed."""
        return self._complete and sku not in self._sure and sku not in self._doubtful

    def remedy(self, sku: str, otherwise: str) -> str:
        """The nearest name, if any is near."""
        self._guesses += 1
        words = self._compared if self._guesses <= self._MOST_GUESSES else []
        near = get_close_matches(sku, words, n=1, cutoff=0.8)
        return f"Did you mean {quoted(near[0])}?" if near else otherwise


def _unfit_hosts(entries: Entries) -> Iterator[Flaw]:
    """Cards for processors that are not listed, or that have too few slots."""
    processors = _Names(entries, (Processor,))
    slots = {entry.record.sku: entry.record.card_slots for entry in entries.of(Processor)}
    for entry in entries.of(Card):
        for sku in entry.record.fits:
            if processors.lack(sku):
                remedy = processors.remedy(sku, "Add the processor, or take it off the list.")
                yield Complaint("fits", quoted(sku), "the sku of a processor", remedy).at(entry.place)
            elif slots.get(sku, entry.record.slots) < entry.record.slots:
                found = f"{quoted(sku)}, whose card_slots are {slots[sku]}"
                expected = f"processors with card_slots of {entry.record.slots} or more"
                yield Complaint("fits", found, expected, "Take it off the list, or correct the slots.").at(entry.place)


def _unknown_devices(entries: Entries) -> Iterator[Flaw]:
    """Ports of what is not listed, or of something that has no ports of its own."""
    items, devices = _Names(entries, _ITEMS), _Names(entries, DEVICES)
    for entry in entries.of(PortGroup):
        sku = entry.record.device
        if items.lack(sku) or devices.lack(sku):
            expected = "the sku of a processor, card, DSP unit, amplifier, loudspeaker or subwoofer"
            remedy = devices.remedy(sku, "Add the device, or delete the port.")
            yield Complaint("device", quoted(sku), expected, remedy).at(entry.place)


def _unknown_items(entries: Entries) -> Iterator[Flaw]:
    items = _Names(entries, _ITEMS)
    for entry in entries.of(Offer):
        if items.lack(entry.record.sku):
            remedy = items.remedy(entry.record.sku, "Add the item to the sheet of its kind, or delete the price.")
            yield Complaint("sku", quoted(entry.record.sku), "the sku of an item", remedy).at(entry.place)
