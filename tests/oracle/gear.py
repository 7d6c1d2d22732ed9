"""Invented gear for the random instances: every kind, every role, mixed connectors, few of each."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from random import Random

from planner.catalogue.records import (
    Adapter,
    Amplifier,
    BulkCable,
    CableKind,
    Card,
    Catalogue,
    ConnectorPart,
    Controls,
    DspUnit,
    Item,
    Lead,
    Loudspeaker,
    Mains,
    Offer,
    PortGroup,
    PortRole,
    Powering,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.contacts import BARE_TAIL, Connector, Contact, Direction, Gender, jack

LINE_PORTS = (
    (Connector.RCA, False),
    (Connector.XLR, True),
    (Connector.TRS, True),
    (Connector.TERMINAL, True),
    (Connector.TERMINAL, False),
)
SPEAKER_PORTS = (Connector.BINDING_POST, Connector.SPEAKER_4POLE)
BASS_ROLES = (PortRole.FIXED_SUB, PortRole.MIRRORED_SUB)
OUTPUT_ROLES = (PortRole.ASSIGNABLE, PortRole.ASSIGNABLE, PortRole.FIXED_MAIN, *BASS_ROLES)
PRICED_ON = date(2026, 1, 2)
Ports = tuple[PortGroup, ...]


class Workshop:
    """Makes one catalogue. `palette` keeps the line connectors few, so that much can be joined."""

    def __init__(self, rng: Random, channels: tuple[str, ...], most_connectors: int) -> None:
        self._rng, self._channels = rng, channels
        self._palette = rng.sample(LINE_PORTS, rng.randint(1, most_connectors))
        self._ports: dict[str, Ports] = {}

    def catalogue(self) -> Catalogue:
        """Every kind of gear, each sorted by sku."""
        rng = self._rng
        processors = tuple(self._processor(n) for n in range(1, rng.choice((1, 2, 2)) + 1))
        cards = tuple(self._card(n, processors) for n in range(1, rng.choice((0, 0, 1)) + 1))
        dsp_units = tuple(self._dsp_unit(n) for n in range(1, rng.choice((0, 1, 1, 2)) + 1))
        amplifiers = tuple(self._amplifier(n) for n in range(1, rng.choice((0, *(1,) * 7)) + 1))
        loudspeakers = tuple(self._loudspeaker(n) for n in range(1, rng.choice((1, 1, 2)) + 1))
        subwoofers = tuple(self._subwoofer(n) for n in range(1, rng.choice((1, 1, 2)) + 1))
        leads, adapters, splitters = tuple(self._leads()), self._adapters(), self._splitters()
        cables, connectors = self._cables(), self._connectors()
        items: tuple[Item, ...] = (
            *processors, *cards, *dsp_units, *amplifiers, *loudspeakers, *subwoofers,
            *leads, *adapters, *splitters, *cables, *connectors,
        )  # fmt: skip
        return Catalogue(
            processors=processors, cards=cards, dsp_units=dsp_units, amplifiers=amplifiers,
            loudspeakers=loudspeakers, subwoofers=subwoofers, leads=leads, adapters=adapters,
            splitters=splitters, bulk_cables=cables, connectors=connectors, ports=self._ports,
            offers={item.sku: offers for item in items if (offers := self._offers(item))},
        )  # fmt: skip

    # Devices

    def _processor(self, number: int) -> Processor:
        sku = f"proc-{number}"
        self._ports[sku] = self._processor_groups(sku, self._rng.choice((1, 2, 2, 3)))
        return Processor(
            sku=sku, name=sku, rendered_channels=len(set(self._channels)) + self._rng.choice((0, 1, 1, 2, 2, 2, 2, 2)),
            processed_outputs=self._rng.randint(2, 6) + len(self._channels), controls=self._controls(),
            card_slots=self._rng.choice((0, 1, 2)), mains=self._mains(),
        )  # fmt: skip

    def _card(self, number: int, processors: tuple[Processor, ...]) -> Card:
        sku = f"card-{number}"
        self._ports[sku] = self._processor_groups(sku, 1)
        return Card(
            sku=sku, name=sku, fits=tuple(p.sku for p in processors if self._rng.random() < 0.8),
            slots=self._rng.choice((1, 1, 2)), adds_rendered_channels=self._rng.choice((0, 1)),
            adds_processed_outputs=self._rng.choice((1, 2)), mains=Mains(rack_units=self._rng.choice((0, 0, 1))),
        )  # fmt: skip

    def _processor_groups(self, sku: str, number: int) -> Ports:
        """Output groups of random roles; some assignable ones and amplifiers among them."""
        rng, groups = self._rng, []
        plans = ((PortRole.ASSIGNABLE,), (PortRole.FIXED_MAIN, rng.choice(BASS_ROLES)))
        plan = rng.choice(plans)
        for index in range(max(number, len(plan))):
            role = plan[index] if index < len(plan) else rng.choice(OUTPUT_ROLES)
            amplified = index >= len(plan) and role in (PortRole.ASSIGNABLE, PortRole.FIXED_MAIN) and rng.random() < 0.4
            connector, balanced = (rng.choice(SPEAKER_PORTS), False) if amplified else rng.choice(self._palette)
            channels: tuple[str, ...] = ()
            count = rng.randint(1, 3) + (len(self._channels) if index == 0 else 0)
            if role is PortRole.FIXED_MAIN:
                channels = self._listed()
                count = len(channels)
            elif role is PortRole.ASSIGNABLE and rng.random() < 0.3:
                channels = (*self._listed(), "LFE1", "LFE2")
            elif role is PortRole.MIRRORED_SUB:
                count = rng.randint(2, 3)
            groups.append(
                PortGroup(
                    device=sku,
                    name=f"out-{index}",
                    direction=Direction.OUT,
                    role=role,
                    connector=connector,
                    balanced=balanced,
                    count=count,
                    channels=channels,
                )
            )
        return tuple(groups)

    def _listed(self) -> tuple[str, ...]:
        """Channels for a role: most of the brief's, and perhaps one that it does not ask for."""
        asked = list(dict.fromkeys(self._channels))
        if asked and self._rng.random() < 0.2:
            asked.remove(self._rng.choice(asked))
        return (*asked, *(("U-030",) if not asked or self._rng.random() < 0.4 else ()))

    def _dsp_unit(self, number: int) -> DspUnit:
        rng, sku = self._rng, f"dsp-{number}"
        inputs = rng.randint(1, 2)
        each = rng.choice((None, None, 1, 2))
        if each is None:
            outputs = rng.randint(2, 4)
            self._ports[sku] = (
                *(self._line(sku, f"in-{i}", Direction.IN, inputs) for i in range(rng.choice((1, 1, 2)))),
                *(self._line(sku, f"out-{i}", Direction.OUT, outputs - i) for i in range(rng.choice((1, 1, 2)))),
            )
        else:
            outputs = inputs * each
            self._ports[sku] = (
                self._line(sku, "in", Direction.IN, inputs),
                self._line(sku, "out", Direction.OUT, outputs),
            )
        return DspUnit(
            sku=sku, name=sku, inputs=inputs, outputs=outputs, outputs_per_input=each,
            controls=self._controls(), mains=self._mains(),
        )  # fmt: skip

    def _amplifier(self, number: int) -> Amplifier:
        rng, sku = self._rng, f"amp-{number}"
        channels = rng.randint(1, 3)
        self._ports[sku] = (
            *(
                self._line(sku, f"in-{i}", Direction.IN, channels)
                for i in range(1 + (channels > 1 and rng.random() < 0.2))
            ),
            self._terminals(sku, "out", Direction.OUT, channels),
        )
        return Amplifier(sku=sku, name=sku, channels=channels, power_8ohm_w=100.0, mains=self._mains())

    def _loudspeaker(self, number: int) -> Loudspeaker:
        rng, sku = self._rng, f"spk-{number}"
        powering = rng.choice((*(Powering.ACTIVE,) * 5, Powering.PASSIVE, Powering.CROSSED, Powering.CROSSED))
        ways = 2 if powering is Powering.CROSSED else 1
        if powering is Powering.ACTIVE:
            self._ports[sku] = self._alternatives(sku)
        else:
            self._ports[sku] = tuple(self._terminals(sku, f"way-{w}", Direction.IN, 1) for w in range(1, ways + 1))
        return Loudspeaker(sku=sku, name=sku, powering=powering, ways=ways)

    def _subwoofer(self, number: int) -> Subwoofer:
        rng, sku = self._rng, f"sub-{number}"
        powering = rng.choice((*(Powering.ACTIVE,) * 4, Powering.PASSIVE))
        if powering is Powering.PASSIVE:
            self._ports[sku] = (self._terminals(sku, "in", Direction.IN, 1),)
        else:
            self._ports[sku] = self._alternatives(sku)
            if rng.random() < 0.5:
                connector, balanced = rng.choice(self._palette)
                link = PortGroup(
                    device=sku, name="link", direction=Direction.OUT, role=PortRole.LINK,
                    connector=connector, balanced=balanced, count=1,
                )  # fmt: skip
                self._ports[sku] += (link,)
        return Subwoofer(sku=sku, name=sku, powering=powering, low_corner_hz=20.0)

    def _alternatives(self, sku: str) -> Ports:
        """One line input, or two of different groups."""
        return tuple(self._line(sku, f"in-{i}", Direction.IN, 1) for i in range(self._rng.choice((1, 1, 2))))

    def _line(self, sku: str, name: str, direction: Direction, count: int) -> PortGroup:
        connector, balanced = self._rng.choice(self._palette)
        return PortGroup(
            device=sku, name=name, direction=direction, role=PortRole.PLAIN,
            connector=connector, balanced=balanced, count=count,
        )  # fmt: skip

    def _terminals(self, sku: str, name: str, direction: Direction, count: int) -> PortGroup:
        return PortGroup(
            device=sku, name=name, direction=direction, role=PortRole.PLAIN,
            connector=self._rng.choice(SPEAKER_PORTS), balanced=False, count=count,
        )  # fmt: skip

    def _controls(self) -> Controls:
        often = self._rng.random() < 0.85
        return Controls(
            gain=True, polarity=often, max_delay_ms=self._rng.choice((0.0, 10.0, 10.0)),
            filters=self._rng.choice((4, 10)), crossover_ways=self._rng.choice((1, 2, 2)),
        )  # fmt: skip

    def _mains(self) -> Mains:
        return Mains(rack_units=self._rng.choice((1, 2, 3)))

    # What joins them

    def _leads(self) -> list[Lead]:
        """Leads between the palette's outputs and inputs, long and short; some are missing."""
        leads: list[Lead] = []
        for source, from_balanced in self._palette:
            for sink, to_balanced in self._palette:
                for length_m in (*self._rng.sample((1.0, 2.5, 6.0, 12.0), self._rng.choice((0, 1, 2))), 25.0):
                    leads.append(
                        Lead(
                            sku=f"lead-{len(leads):02}",
                            name="lead",
                            length_m=length_m,
                            end_a=_plug_for(jack(source, Direction.OUT)),
                            end_b=_plug_for(jack(sink, Direction.IN)),
                            balanced=self._rng.random() < (0.95 if from_balanced and to_balanced else 0.4),
                        )
                    )
        kept = [lead for lead in leads if self._rng.random() < 0.85]
        return [lead for lead in kept if not lead.end_a == lead.end_b == BARE_TAIL]

    def _adapters(self) -> tuple[Adapter, ...]:
        """From what a lead ends in to what a jack takes."""
        found = []
        for number in range(1, self._rng.choice((0, 0, 1, 2)) + 1):
            one, other = (self._rng.choice(self._palette)[0] for _ in range(2))
            at_jack = _plug_for(jack(one, self._rng.choice(tuple(Direction))))
            at_lead = _socket_for(_plug_for(jack(other, self._rng.choice(tuple(Direction)))))
            found.append(Adapter(sku=f"adapter-{number}", name="adapter", end_a=at_lead, end_b=at_jack))
        return tuple(found)

    def _splitters(self) -> tuple[Splitter, ...]:
        """Two-way ones mostly; a second is often of the first one's pattern, with other legs."""
        rng = self._rng
        found: list[Splitter] = []
        for number in range(1, rng.choice((0, 1, 1, 2, 2)) + 1):
            sku = f"split-{number}"
            if found and rng.random() < 0.5:
                found.append(replace(found[0], sku=sku, legs=rng.choice((2, 3, 4))))
                continue
            (one, balanced), (other, _) = rng.choice(self._palette), rng.choice(self._palette)
            found.append(
                Splitter(
                    sku=sku,
                    name="splitter",
                    input=_plug_for(jack(one, Direction.OUT)),
                    leg=jack(other if rng.random() < 0.3 else one, Direction.OUT),
                    legs=rng.choice((2, 2, 2, 3)),
                    balanced=balanced and rng.random() < 0.8,
                )
            )
        return tuple(found)

    def _cables(self) -> tuple[BulkCable, ...]:
        kinds = [kind for kind in CableKind if self._rng.random() < (0.95 if kind is CableKind.SPEAKER else 0.5)]
        steps = (0.5, 1.0, 5.0)
        return tuple(
            BulkCable(sku=f"cable-{kind.value}", name="cable", kind=kind, step_m=self._rng.choice(steps))
            for kind in sorted(kinds)
        )

    def _connectors(self) -> tuple[ConnectorPart, ...]:
        wanted = {_plug_for(jack(c, direction)) for c, _ in self._palette for direction in Direction} - {BARE_TAIL}
        wanted.add(_plug_for(jack(Connector.SPEAKER_4POLE, Direction.IN)))
        kept = [contact for contact in sorted(wanted) if self._rng.random() < 0.9]
        return tuple(
            ConnectorPart(sku=f"plug-{contact.connector.value}-{contact.gender.value}", name="plug", contact=contact)
            for contact in kept
        )

    # Prices

    def _offers(self, item: Item) -> tuple[Offer, ...]:
        rng = self._rng
        device = isinstance(item, Processor | Card | DspUnit | Amplifier | Loudspeaker | Subwoofer)
        suppliers = ("east", "west") if rng.random() < 0.25 else ("east",) if rng.random() < 0.97 else ()
        return tuple(
            Offer(
                sku=item.sku,
                supplier=supplier,
                currency=rng.choice(("EUR", "EUR", "USD")),
                price=Decimal(rng.randint(20000, 90000) if device else rng.randint(50, 6000)) / 100,
                priced_on=PRICED_ON,
                stock=rng.choice((*(None,) * 5, rng.randint(1, 6))),
                least_order=rng.choice((1, 1, 1, 1, 2 if device else 3)),
            )
            for supplier in suppliers
        )


def _mate(contact: Contact) -> Contact:
    other = Gender.FEMALE if contact.gender is Gender.MALE else Gender.MALE
    return Contact(contact.connector, other)


def _socket_for(lead_end: Contact) -> Contact:
    """What takes the end of a lead: a clamp for a bare tail."""
    return jack(Connector.TERMINAL, Direction.IN) if lead_end == BARE_TAIL else _mate(lead_end)


def _plug_for(socket: Contact) -> Contact:
    """The end of a lead that joins a jack: a bare tail for a terminal block."""
    return BARE_TAIL if socket.connector is Connector.TERMINAL else _mate(socket)
