"""The sheets of a catalogue: which record a row of each becomes, and what each column holds.

Columns are the fields of the records, in their order; a nested record is laid out flat. A
column whose field has a default may be left out or left empty. Limits are wide: they catch
a slip of the unit or of the decimal point, and judge no product.
"""

from collections.abc import Mapping
from dataclasses import MISSING, Field, dataclass, fields
from typing import Any

from planner.catalogue.cells import (
    Channels,
    ContactCell,
    Currency,
    Day,
    Kind,
    ListOf,
    Number,
    OneOf,
    Price,
    Text,
    Whole,
    YesNo,
)
from planner.catalogue.records import (
    Adapter,
    Amplifier,
    BulkCable,
    CableKind,
    Card,
    ConnectorPart,
    Controls,
    DspUnit,
    Isolator,
    Lead,
    Loudspeaker,
    Mains,
    Offer,
    OutputStage,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.contacts import Connector, Direction

_NAME, _SKU, _YES_NO, _CONTACT = Text(), Text(barred=";"), YesNo(), ContactCell()
_WATTS = Number(0, 100_000, above=True)
_OHMS, _LOAD_OHMS = Number(0, 10_000_000, above=True), Number(0, 100, above=True)
_DBU, _NOISE_DBU, _SPL_DB = Number(-60, 60), Number(-200, 60), Number(20, 200)
_METRES = Number(0, 1_000, above=True)

KINDS: Mapping[str, Kind] = {
    "sku": _SKU, "name": _NAME, "device": _SKU, "supplier": _NAME, "fits": ListOf(_SKU.read),
    # processors, cards, DSP units
    "rendered_channels": Whole(1, 1_000), "processed_outputs": Whole(1, 1_000), "card_slots": Whole(0, 100),
    "slots": Whole(1, 100), "adds_rendered_channels": Whole(0, 1_000), "adds_processed_outputs": Whole(0, 1_000),
    "inputs": Whole(1, 1_000), "outputs": Whole(1, 1_000), "outputs_per_input": Whole(1, 1_000),
    "gain": _YES_NO, "polarity": _YES_NO, "max_delay_ms": Number(0, 10_000), "filters": Whole(0, 1_000),
    "crossover_ways": Whole(0, 10), "latency_ms": Number(0, 1_000), "max_gain_db": Number(0, 100),
    "amp_power_8ohm_w": _WATTS, "amp_power_4ohm_w": _WATTS, "amp_least_load_ohm": _LOAD_OHMS,
    "amp_gain_db": Number(-20, 100), "noise_dbu": _NOISE_DBU,
    # amplifiers
    "channels": Whole(1, 100), "power_8ohm_w": _WATTS, "power_4ohm_w": _WATTS, "bridged_power_8ohm_w": _WATTS,
    "least_load_ohm": _LOAD_OHMS, "least_bridged_load_ohm": _LOAD_OHMS,
    "sensitivity_v": Number(0, 100, above=True), "gain_db": Number(-20, 100),
    # loudspeakers and subwoofers
    "powering": OneOf(Powering), "ways": Whole(1, 10), "low_corner_hz": Number(0, 500, above=True),
    "sensitivity_db": Number(40, 140), "sensitivity_at_2v83": _YES_NO, "impedance_ohm": _OHMS,
    "least_impedance_ohm": _LOAD_OHMS, "handling_w": _WATTS, "max_spl_db": _SPL_DB,
    # leads and small parts
    "end_a": _CONTACT, "end_b": _CONTACT, "input": _CONTACT, "output": _CONTACT, "leg": _CONTACT,
    "contact": _CONTACT, "balanced": _YES_NO, "length_m": _METRES, "step_m": _METRES, "legs": Whole(2, 100),
    "kind": OneOf(CableKind), "area_mm2": Number(0, 1_000, above=True), "loss_db": Number(0, 60),
    "capacitance_pf_per_m": Number(0, 10_000, above=True), "shield_mohm_per_m": Number(0, 100_000, above=True),
    # ports
    "direction": OneOf(Direction), "role": OneOf(PortRole), "connector": OneOf(Connector),
    "count": Whole(1, 1_000), "output_stage": OneOf(OutputStage), "max_level_dbu": _DBU,
    "pin_order": ListOf(_NAME.read),
    # mains
    "rack_units": Whole(0, 100), "idle_w": Number(0, 100_000), "rated_w": Number(0, 100_000), "class_ii": _YES_NO,
    # prices
    "currency": Currency(), "price": Price(), "priced_on": Day(), "stock": Whole(0, 10_000_000),
    "least_order": Whole(1, 10_000_000),
}  # fmt: skip

_PARTS: Mapping[str, type[Any]] = {"controls": Controls, "mains": Mains}


@dataclass(frozen=True, kw_only=True, slots=True)
class Column:
    """One column. `part` is the field of the nested record that it belongs to, if any."""

    name: str
    kind: Kind
    required: bool
    default: object
    part: str | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Sheet:
    """One sheet or CSV file: the record that a row becomes, and the columns in order.

    `required`: a catalogue without it is refused; else it counts as empty.
    """

    name: str
    record: type[Any]
    columns: tuple[Column, ...]
    required: bool

    def build(self, values: Mapping[str, object]) -> Any:
        """The record of one row, from a value for every column by name."""
        flat: dict[str, object] = {}
        nested: dict[str, dict[str, object]] = {}
        for column in self.columns:
            target = flat if column.part is None else nested.setdefault(column.part, {})
            target[column.name] = values[column.name]
        parts = {name: _PARTS[name](**inner) for name, inner in nested.items()}
        return self.record(**flat, **parts)

    def values(self, record: Any) -> tuple[object, ...]:
        """The value of each column of a record, in order."""
        return tuple(getattr(getattr(record, c.part) if c.part else record, c.name) for c in self.columns)


def _columns(record: type[Any], kinds: Mapping[str, Kind], part: str | None = None) -> tuple[Column, ...]:
    found: list[Column] = []
    for field in fields(record):
        if field.name in _PARTS:
            found += _columns(_PARTS[field.name], kinds, field.name)
        else:
            found.append(_column(field, kinds[field.name], part))
    return tuple(found)


def _column(field: Field[Any], kind: Kind, part: str | None) -> Column:
    required = field.default is MISSING
    default = None if required else field.default
    return Column(name=field.name, kind=kind, required=required, default=default, part=part)


def _sheet(name: str, record: type[Any], required: bool = False, **kinds: Kind) -> Sheet:
    return Sheet(name=name, record=record, columns=_columns(record, {**KINDS, **kinds}), required=required)


PORTS = _sheet("ports", PortGroup, required=True, channels=Channels())
PRICES = _sheet("prices", Offer, required=True)
ITEM_SHEETS = (
    _sheet("processors", Processor, required=True),
    _sheet("cards", Card),
    _sheet("dsp_units", DspUnit),
    _sheet("amplifiers", Amplifier),
    _sheet("loudspeakers", Loudspeaker, impedance_ohm=_LOAD_OHMS),
    _sheet("subwoofers", Subwoofer, impedance_ohm=_LOAD_OHMS),
    _sheet("leads", Lead),
    _sheet("adapters", Adapter),
    _sheet("splitters", Splitter),
    _sheet("isolators", Isolator),
    _sheet("bulk_cables", BulkCable),
    _sheet("connectors", ConnectorPart),
)
SHEETS = (*ITEM_SHEETS, PORTS, PRICES)
