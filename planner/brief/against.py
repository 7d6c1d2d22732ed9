"""A brief held against a catalogue and the house settings: what it names must exist there."""

from collections.abc import Iterator

from planner.brief.records import Brief, LoudspeakerSet, SubwooferSet
from planner.brief.values import nearest, shown
from planner.catalogue.records import (
    Adapter,
    Amplifier,
    BulkCable,
    Card,
    Catalogue,
    ConnectorPart,
    DspUnit,
    Isolator,
    Item,
    Lead,
    Loudspeaker,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.errors import Fault
from planner.house import House

_KIND_IN_WORDS: dict[type[Item], str] = {
    Processor: "a processor",
    Card: "a card",
    DspUnit: "a DSP unit",
    Amplifier: "an amplifier",
    Loudspeaker: "a loudspeaker",
    Subwoofer: "a subwoofer",
    Lead: "a lead",
    Adapter: "an adapter",
    Splitter: "a splitter",
    Isolator: "an isolator",
    BulkCable: "a bulk cable",
    ConnectorPart: "a connector",
}


def brief_faults(
    brief: Brief, catalogue: Catalogue, house: House | None = None, name: str = "brief.toml"
) -> tuple[Fault, ...]:
    """Every sku of the brief that the catalogue does not have, or has as another kind of gear.

    With `house`, also a quoting currency that it has no rate for. `name` is the brief's file
    in messages. Empty if all is well.
    """
    kinds = {item.sku: type(item) for item in catalogue.items()}
    return tuple(_faults(brief, kinds, house, name))


_Kinds = dict[str, type[Item]]


def _faults(brief: Brief, kinds: _Kinds, house: House | None, name: str) -> Iterator[Fault]:
    for index, sku in enumerate(brief.excluded):
        yield from _sku_fault(f"{name} excluded[{index}]", sku, kinds, None)
    if house is not None:
        yield from _currency_fault(f"{name} project.currency", brief.project.currency, house)
    for index, loudspeakers in enumerate(brief.loudspeakers):
        yield from _candidate_faults(f"{name} loudspeakers[{index}]", loudspeakers, kinds, Loudspeaker)
    for index, subwoofers in enumerate(brief.subwoofers):
        yield from _candidate_faults(f"{name} subwoofers[{index}]", subwoofers, kinds, Subwoofer)
    for index, owned in enumerate(brief.owned):
        yield from _sku_fault(f"{name} owned[{index}].sku", owned.sku, kinds, None)


def _candidate_faults(
    where: str, found: LoudspeakerSet | SubwooferSet, kinds: _Kinds, wanted: type[Item]
) -> Iterator[Fault]:
    single = len(found.candidates) == 1
    for index, sku in enumerate(found.candidates):
        yield from _sku_fault(f"{where}.{'model' if single else f'candidates[{index}]'}", sku, kinds, wanted)


def _sku_fault(where: str, sku: str, kinds: _Kinds, wanted: type[Item] | None) -> Iterator[Fault]:
    """The fault of a sku that is unknown, or not of the kind wanted (None: of any kind)."""
    kind = kinds.get(sku)
    if kind is not None and wanted in (None, kind):
        return
    words = "a sku" if wanted is None else _KIND_IN_WORDS[wanted]
    if kind is not None:
        value, remedy = f"{shown(sku)}, which is {_KIND_IN_WORDS[kind]}", f"Name {words} here."
    else:
        near = nearest(sku, [known for known, its_kind in kinds.items() if wanted in (None, its_kind)])
        value = shown(sku)
        remedy = f"Did you mean {near}?" if near else "Correct the sku, or add the gear to the catalogue."
    yield Fault(where=where, value=value, expected=f"{words} of the catalogue", remedy=remedy)


def _currency_fault(where: str, currency: str, house: House) -> Iterator[Fault]:
    if currency != house.currency and currency not in house.rates:
        known = ", ".join(sorted({house.currency, *house.rates}))
        remedy = f"Add a rate for {currency} to the house settings, or quote in another currency."
        yield Fault(where=where, value=shown(currency), expected=f"a currency with a rate: {known}", remedy=remedy)
