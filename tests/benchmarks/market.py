"""A market of invented gear, as large as asked: families, sizes within a family, and near-duplicates.

Prices follow what a device offers, by a power of its size, times a level of its family, times a
little chance; so dearer gear mostly does more, some of it does not, and nothing is a copy of the demo
catalogue. Loudspeakers, subwoofers, leads, adapters, splitters and cables are those of the demo,
which has as many as a shop has. One seed gives one market, and a smaller one of the same seed holds some
of the same devices. All names and prices are invented.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import count, islice
from random import Random
from typing import TypeVar

from planner.catalogue.records import (
    Amplifier,
    Card,
    Catalogue,
    Controls,
    DspUnit,
    Mains,
    Offer,
    OutputStage,
    PortGroup,
    PortRole,
    Processor,
)
from planner.contacts import Connector, Direction
from tests.plan.demo import demo_catalogue

Device = TypeVar("Device", Processor, DspUnit, Amplifier)
_Choice = TypeVar("_Choice")

_PRICED_ON = date(2026, 11, 2)
_NEAR_DUPLICATES = 0.3
_FRONT = ("M+030", "M-030", "M+000")
_SURROUND = ("M+090", "M-090", "M+110", "M-110", "M+135", "M-135")
_BACK_OR_HEIGHT = (
    "M+060", "M-060", "M+135", "M-135", "M+180", "U+030", "U-030", "U+045", "U-045", "U+090", "U-090",
    "U+110", "U-110", "U+135", "U-135",
)  # fmt: skip
_TERMINAL_PINS = ("+", "-", "shield")


@dataclass(frozen=True, kw_only=True, slots=True)
class Stock:
    """How many devices of each kind a market has."""

    processors: int
    dsp_units: int
    amplifiers: int

    @property
    def devices(self) -> int:
        """All of them."""
        return self.processors + self.dsp_units + self.amplifiers


def market(stock: Stock, seed: int) -> Catalogue:
    """The catalogue of one market. Cards come on top of the devices counted."""
    return _Market(seed).catalogue(stock)


class _Market:
    """Makes one catalogue; ports and offers gather as devices are made."""

    def __init__(self, seed: int) -> None:
        self._seed, self._rng = seed, Random(seed)
        self._ports: dict[str, tuple[PortGroup, ...]] = {}
        self._offers: dict[str, tuple[Offer, ...]] = {}
        self._cards: list[Card] = []

    def catalogue(self, stock: Stock) -> Catalogue:
        demo = demo_catalogue()
        kept = {item.sku for kind in (demo.loudspeakers, demo.subwoofers) for item in kind}
        processors = self._made(stock.processors, self._processor_family)
        dsp_units = self._made(stock.dsp_units, self._dsp_family)
        amplifiers = self._made(stock.amplifiers, self._amplifier_family)
        gone = {item.sku for kind in (demo.processors, demo.cards, demo.dsp_units, demo.amplifiers) for item in kind}
        return replace(
            demo,
            processors=processors,
            cards=tuple(sorted(self._cards, key=lambda card: card.sku)),
            dsp_units=dsp_units,
            amplifiers=amplifiers,
            ports={sku: ports for sku, ports in demo.ports.items() if sku in kept} | self._sorted_ports(),
            offers={sku: offers for sku, offers in demo.offers.items() if sku not in gone} | self._offers,
        )

    def _sorted_ports(self) -> dict[str, tuple[PortGroup, ...]]:
        """The ports as a catalogue has them: groups by name."""
        return {sku: tuple(sorted(groups, key=lambda group: group.name)) for sku, groups in self._ports.items()}

    def _made(self, number: int, family: Callable[[int], Iterator[Device]]) -> tuple[Device, ...]:
        """So many devices, family after family; each kind by chance of its own, whatever there is of others."""
        self._rng = Random(f"{self._seed} {family.__name__}")
        devices = (device for index in count(1) for device in family(index))
        return tuple(sorted(islice(devices, number), key=lambda device: device.sku))

    # Families

    def _processor_family(self, number: int) -> Iterator[Processor]:
        style = self._rng.choices((self._receivers, self._fixed, self._assignable, self._modular), (30, 18, 37, 15))[0]
        yield from style(f"{number:04}", self._level())

    def _receivers(self, family: str, level: float) -> Iterator[Processor]:
        """Receivers: internal amplifiers beside line outputs, the bass mirrored in small ones."""
        for channels in self._some((7, 9, 11, 13, 15)):
            subs = 2 if channels == 7 else self._rng.choice((2, 2, 4))
            mirrored = channels == 7 or (channels == 9 and self._rng.random() < 0.5)
            for edition in self._editions():
                sku = f"receiver-{family}-{channels}{edition}"
                role = PortRole.MIRRORED_SUB if mirrored else PortRole.FIXED_SUB
                extra = self._rng.choice((0, 2))
                self._ports[sku] = (
                    *_named(sku, "SPEAKER", Connector.BINDING_POST, channels),
                    *_named(sku, "PRE", Connector.RCA, channels + extra),
                    _out(sku, "PRE SUB", role, Connector.RCA, subs),
                )
                self._offer(sku, level * 62 * channels**1.6 * (0.9 if mirrored else 1.0) * (1 + 0.05 * subs))
                yield Processor(
                    sku=sku,
                    name=f"Receiver of family {family}, {channels} channels{_edition_words(edition)}",
                    rendered_channels=channels + extra + 1,
                    processed_outputs=channels + extra + (1 if mirrored else subs),
                    controls=self._controls(polarity=0.6, crossover_ways=1),
                    amp_power_8ohm_w=float(70 + 5 * channels),
                    amp_power_4ohm_w=float(100 + 8 * channels),
                    amp_least_load_ohm=4.0,
                    amp_gain_db=29.0,
                    latency_ms=2.0,
                    noise_dbu=-95.0,
                    mains=Mains(rack_units=4, idle_w=50.0, rated_w=60.0 * channels, class_ii=True),
                )

    def _fixed(self, family: str, level: float) -> Iterator[Processor]:
        """Processors whose fronts and subwoofers are fixed and whose others may be assigned among those listed."""
        connector = self._rng.choice((Connector.RCA, Connector.XLR))
        for outputs in self._some((12, 16, 20, 24)):
            subs = self._rng.choice((1, 2, 2, 4))
            for edition in self._editions():
                sku = f"proc-fixed-{family}-{outputs}{edition}"
                others = outputs - len(_FRONT) - subs
                listed = tuple(dict.fromkeys((*_SURROUND, *_BACK_OR_HEIGHT)))
                self._ports[sku] = (
                    _out(sku, "FRONT", PortRole.FIXED_MAIN, connector, len(_FRONT), _FRONT),
                    _out(sku, "ASSIGN", PortRole.ASSIGNABLE, connector, others, listed),
                    _out(sku, "SUB", PortRole.FIXED_SUB, connector, subs),
                )
                self._offer(sku, level * _separate_price(connector, outputs) * 0.9)
                yield self._separate(sku, family, outputs, min(outputs, 16), edition, ", fronts fixed")

    def _assignable(self, family: str, level: float) -> Iterator[Processor]:
        """Processors on which any channel may leave by any output; some with both kinds of jack."""
        both = self._rng.random() < 0.2
        connector = self._rng.choice((Connector.RCA, Connector.XLR, Connector.XLR))
        for outputs in self._some((8, 12, 16, 20, 24, 32, 48, 64, 96, 128)):
            for edition in self._editions():
                sku = f"proc-{family}-{outputs}{edition}"
                kinds = (Connector.RCA, Connector.XLR) if both else (connector,)
                self._ports[sku] = tuple(
                    _out(sku, f"OUT {kind.value.upper()}", PortRole.ASSIGNABLE, kind, outputs) for kind in kinds
                )
                dearest = Connector.XLR if both else connector
                self._offer(sku, level * _separate_price(dearest, outputs) * (1.08 if both else 1.0))
                unprocessed = self._rng.choice((0, 0, 0, 2))
                yield self._separate(sku, family, outputs, outputs - unprocessed, edition, ", every output assignable")

    def _modular(self, family: str, level: float) -> Iterator[Processor]:
        """Processors with two card slots; their cards go with the family."""
        skus = []
        for outputs in self._some((8, 16, 24)):
            for edition in self._editions():
                sku = f"proc-modular-{family}-{outputs}{edition}"
                skus.append(sku)
                self._ports[sku] = (_out(sku, "OUT", PortRole.ASSIGNABLE, Connector.XLR, outputs),)
                self._offer(sku, level * _separate_price(Connector.XLR, outputs) * 1.15)
                made = self._separate(sku, family, outputs, outputs, edition, ", two card slots")
                yield replace(made, rendered_channels=max(16, made.rendered_channels), card_slots=2)
        for outputs, connector in self._some(((8, Connector.RCA), (8, Connector.XLR), (16, Connector.XLR))):
            sku = f"card-{family}-{outputs}-{connector.value}"
            self._ports[sku] = (_out(sku, "OUT", PortRole.ASSIGNABLE, connector, outputs),)
            self._offer(sku, level * _separate_price(connector, outputs) * 0.6)
            self._cards.append(
                Card(
                    sku=sku,
                    name=f"Card of family {family}, {outputs} outputs",
                    fits=tuple(sorted(skus)),
                    adds_rendered_channels=self._rng.choice((0, 0, 8)),
                    adds_processed_outputs=outputs,
                    mains=Mains(idle_w=4.0, rated_w=8.0),
                )
            )

    def _separate(self, sku: str, family: str, outputs: int, processed: int, edition: str, words: str) -> Processor:
        return Processor(
            sku=sku,
            name=f"Processor of family {family}, {outputs} outputs{words}{_edition_words(edition)}",
            rendered_channels=min(outputs, 16) if outputs <= 20 else 24 if outputs <= 32 else 32,
            processed_outputs=processed,
            controls=self._controls(polarity=0.95, crossover_ways=1 + (outputs >= 24)),
            latency_ms=1.5,
            noise_dbu=-102.0,
            mains=Mains(rack_units=2 + outputs // 24, idle_w=20.0 + outputs, rated_w=40.0 + 2 * outputs),
        )

    def _dsp_family(self, number: int) -> Iterator[DspUnit]:
        rng, family, level = self._rng, f"{number:04}", self._level()
        entry, exit_ = rng.choice(
            (
                (Connector.RCA, Connector.RCA), (Connector.XLR, Connector.XLR), (Connector.XLR, Connector.XLR),
                (Connector.TERMINAL, Connector.TERMINAL), (Connector.RCA, Connector.XLR),
            )
        )  # fmt: skip
        fixed = rng.random() < 0.12
        for inputs, outputs in self._some(((1, 2), (2, 4), (2, 6), (4, 4), (2, 8), (4, 8), (8, 8), (4, 12), (8, 16))):
            for edition in self._editions():
                sku = f"dsp-{family}-{inputs}x{outputs}{edition}"
                self._ports[sku] = (
                    _in(sku, "IN", entry, inputs),
                    replace(_out(sku, "OUT", PortRole.PLAIN, exit_, outputs), pin_order=_pins(exit_)),
                )
                dear = 2.4 if exit_ is Connector.XLR else 2.0 if exit_ is Connector.TERMINAL else 1.0
                self._offer(sku, level * dear * (60 + 26 * inputs + 38 * outputs**1.1) * (0.85 if fixed else 1.0))
                yield DspUnit(
                    sku=sku,
                    name=f"DSP unit of family {family}, {inputs} in {outputs} out{_edition_words(edition)}",
                    inputs=inputs,
                    outputs=outputs,
                    controls=self._controls(polarity=0.9, crossover_ways=2),
                    outputs_per_input=outputs // inputs if fixed else None,
                    latency_ms=1.2,
                    noise_dbu=-98.0,
                    max_gain_db=12.0,
                    mains=Mains(rack_units=int(exit_ is not Connector.RCA), idle_w=9.0, rated_w=16.0),
                )

    def _amplifier_family(self, number: int) -> Iterator[Amplifier]:
        rng, family, level = self._rng, f"{number:04}", self._level()
        entries = rng.choice(
            ((Connector.RCA,), (Connector.XLR,), (Connector.RCA, Connector.XLR), (Connector.TERMINAL,))
        )
        exit_ = Connector.SPEAKER_4POLE if rng.random() < 0.08 else Connector.BINDING_POST
        power_w = rng.choice((60, 100, 100, 125, 150, 200, 200, 250, 300, 500))
        for channels in self._some((1, 2, 3, 4, 5, 7, 8, 12, 16)):
            for edition in self._editions():
                sku = f"amp-{family}-{channels}-{power_w}{edition}"
                self._ports[sku] = (
                    *(_in(sku, f"IN {entry.value.upper()}", entry, channels, sensitivity_v=1.2) for entry in entries),
                    _out(sku, "OUT", PortRole.PLAIN, exit_, channels),
                )
                jacks = 0.85 if entries == (Connector.RCA,) else 1.05 if len(entries) == 2 else 1.0
                self._offer(sku, level * jacks * (90 + channels**0.85 * (60 + 0.9 * power_w)))
                yield Amplifier(
                    sku=sku,
                    name=f"Amplifier of family {family}, {channels} × {power_w} W{_edition_words(edition)}",
                    channels=channels,
                    power_8ohm_w=float(power_w),
                    power_4ohm_w=1.6 * power_w,
                    least_load_ohm=rng.choice((2.0, 4.0, 4.0)),
                    sensitivity_v=1.2,
                    gain_db=27.4,
                    noise_dbu=-106.0,
                    mains=Mains(
                        rack_units=1 + (channels * power_w > 400) + (channels > 4),
                        idle_w=8.0 * channels,
                        rated_w=0.25 * channels * power_w,
                        class_ii=entries == (Connector.RCA,),
                    ),
                )

    # Chance

    def _level(self) -> float:
        """How dear a family is, for what it offers."""
        return self._rng.lognormvariate(0.0, 0.13)

    def _some(self, menu: tuple[_Choice, ...]) -> tuple[_Choice, ...]:
        """Two to five neighbours of a menu: what one maker has of it."""
        number = min(len(menu), self._rng.randint(2, 5))
        first = self._rng.randint(0, len(menu) - number)
        return menu[first : first + number]

    def _editions(self) -> tuple[str, ...]:
        """One article, or two that hardly differ."""
        return ("", "-second") if self._rng.random() < _NEAR_DUPLICATES else ("",)

    def _controls(self, *, polarity: float, crossover_ways: int) -> Controls:
        rng = self._rng
        return Controls(
            gain=True,
            polarity=rng.random() < polarity,
            max_delay_ms=rng.choice((40.0, 60.0, 80.0, 100.0)),
            filters=rng.choice((4, 6, 8, 10, 12, 16)),
            crossover_ways=crossover_ways,
        )

    def _offer(self, sku: str, price: float) -> None:
        """A price to the wholesaler's habits, and now and then a second supplier, who may have few."""
        rng = self._rng
        euros = round(price * rng.lognormvariate(0.0, 0.03))
        euros = max(19, euros // 10 * 10 + rng.choice((0, 5, 9)))
        offers = [
            Offer(sku=sku, supplier="general wholesaler", currency="EUR", price=Decimal(euros), priced_on=_PRICED_ON)
        ]
        if rng.random() < 0.15:
            offers.append(
                Offer(
                    sku=sku,
                    supplier="overseas supplier",
                    currency="USD",
                    price=Decimal(round(euros * 1.09 * rng.uniform(0.93, 1.05))),
                    priced_on=_PRICED_ON,
                    stock=rng.choice((None, 1, 2, 4)),
                )
            )
        self._offers[sku] = tuple(offers)


def _separate_price(connector: Connector, outputs: int) -> float:
    return float(62 * outputs**1.3 if connector is Connector.RCA else 120 * outputs**1.27)


def _named(sku: str, name: str, connector: Connector, channels: int) -> tuple[PortGroup, ...]:
    """The jacks of a receiver: fronts fixed, surrounds and the rest assignable among those listed."""
    return (
        _out(sku, f"{name} FRONT", PortRole.FIXED_MAIN, connector, len(_FRONT), _FRONT),
        _out(sku, f"{name} SURROUND", PortRole.ASSIGNABLE, connector, 2, _SURROUND),
        _out(sku, f"{name} BACK OR HEIGHT", PortRole.ASSIGNABLE, connector, channels - 5, _BACK_OR_HEIGHT),
    )


def _out(
    sku: str, name: str, role: PortRole, connector: Connector, count: int, channels: tuple[str, ...] = ()
) -> PortGroup:
    line = connector not in (Connector.BINDING_POST, Connector.SPEAKER_4POLE)
    balanced = connector in (Connector.XLR, Connector.TERMINAL)
    return PortGroup(
        device=sku,
        name=name,
        direction=Direction.OUT,
        role=role,
        connector=connector,
        balanced=balanced,
        count=count,
        channels=channels,
        output_stage=OutputStage.SYMMETRICAL if balanced else OutputStage.UNBALANCED,
        max_level_dbu=None if not line else 18.0 if balanced else 11.0,
        impedance_ohm=100.0 if line else None,
    )


def _in(sku: str, name: str, connector: Connector, count: int, sensitivity_v: float | None = None) -> PortGroup:
    return PortGroup(
        device=sku,
        name=name,
        direction=Direction.IN,
        role=PortRole.PLAIN,
        connector=connector,
        balanced=connector is not Connector.RCA,
        count=count,
        max_level_dbu=14.0 if connector is Connector.RCA else 22.0,
        sensitivity_v=sensitivity_v,
        impedance_ohm=20000.0,
        pin_order=_pins(connector),
    )


def _pins(connector: Connector) -> tuple[str, ...]:
    return _TERMINAL_PINS if connector is Connector.TERMINAL else ()


def _edition_words(edition: str) -> str:
    return ", second edition" if edition else ""
