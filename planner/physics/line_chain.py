"""The line-level chains of a design: each feed's way from its processor output, jack by jack.

A link output of a subwoofer drives what follows with its own electronics. Where the
catalogue gives neither its output stage nor its impedance, it is read as wired straight
through to the input, so that what hangs on it loads the same output as the input does.

An isolator is two stages of a chain: its input, which loads what comes before with what lies
behind it, as a transformer of one to one does; and its output, of no impedance of its own (so
that a load is not counted twice), at the gain that its loss leaves. What reaches its winding
reaches what follows, balanced or not.
"""

import math
from collections import defaultdict
from collections.abc import Iterator

from planner.catalogue.records import (
    Amplifier,
    BulkCable,
    CableKind,
    Catalogue,
    DspUnit,
    Isolator,
    Item,
    Lead,
    Loudspeaker,
    OutputStage,
    PortGroup,
    PortRole,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.checks.sockets import ISOLATOR_OUTPUT
from planner.contacts import Direction
from planner.design import Connection, Design, Jack, LeadMethod
from planner.formulas.amplifiers import input_for_full_output_v
from planner.physics.gear import Gear
from planner.physics.stages import Branch, Driver, Hop, LineChain, Receiver, Run

_ANY_ATTENUATION = -math.inf

_LEAST_OHM = 1e-6
"""An impedance below this, however it came into a catalogue, is counted as this: nothing hears it."""


def line_chains(design: Design, catalogue: Catalogue) -> tuple[LineChain, ...]:
    """The chain of every feed that a line signal reaches, in the order of the connections.

    A passive feed has the chain to its amplifier; one on an internal amplifier of the
    processor has none. What a spoiled design refers to and does not have is passed over.
    """
    return tuple(_Walk(design, Gear(design, catalogue)).chains())


class _Walk:
    def __init__(self, design: Design, gear: Gear) -> None:
        self._gear = gear
        self._connections = design.connections
        self._from: dict[Jack, list[Connection]] = defaultdict(list)
        self._jacks_out: dict[str, dict[Jack, None]] = defaultdict(dict)
        for connection in design.connections:
            self._from[connection.source].append(connection)
            self._jacks_out[connection.source.unit][connection.source] = None
        self._routes: dict[Jack, list[Jack]] = defaultdict(list)
        for route in design.routes:
            self._routes[route.source].append(route.sink)
        self._branches: dict[Jack, tuple[Branch, ...]] = {}

    def chains(self) -> Iterator[LineChain]:
        for jack in dict.fromkeys(connection.source for connection in self._connections):
            item = self._gear.item(jack.unit)
            renderer = item if isinstance(item, Processor) else self._gear.host(jack.unit)
            if isinstance(renderer, Processor):
                driver = self._driver(jack, renderer.noise_dbu, None)
                if driver is not None:
                    yield from self._onward(driver, ())

    def _onward(self, driver: Driver, before: tuple[Hop, ...]) -> Iterator[LineChain]:
        """The chains that go on from a driver, after the hops before it."""
        if any(hop.driver.jack == driver.jack for hop in before):
            return  # a ring, in a spoiled design
        branches = self._reached_from(driver)
        for branch in branches:
            hops = (*before, Hop(driver=driver, taken=branch, branches=branches))
            last = branch.runs[-1].connection
            feed = self._feed(last)
            if feed is not None:
                yield LineChain(
                    channel=last.channel, way=last.way, feed=feed, treble=self._has_treble(feed, last.way), hops=hops
                )
            for following in self._drivers_behind(branch.receiver.jack):
                yield from self._onward(following, hops)

    def _feed(self, last: Connection) -> Jack | None:
        """The loudspeaker or subwoofer jack that a line connection serves."""
        item = self._gear.item(last.sink.unit)
        if isinstance(item, Loudspeaker | Subwoofer):
            return last.sink
        if isinstance(item, Amplifier):
            for jack in self._jacks_out[last.sink.unit]:
                if jack.index == last.sink.index:
                    return self._from[jack][0].sink
        return None

    def _has_treble(self, feed: Jack, way: int | None) -> bool:
        item = self._gear.item(feed.unit)
        return isinstance(item, Loudspeaker) and (way is None or way >= item.ways)

    def _drivers_behind(self, entered: Jack) -> Iterator[Driver]:
        """The outputs that a signal at a line input comes out of again, each with its gain range."""
        item = self._gear.item(entered.unit)
        if isinstance(item, DspUnit):
            for jack in self._routes[entered]:
                driver = self._driver(jack, item.noise_dbu, (_ANY_ATTENUATION, item.max_gain_db))
                if driver is not None and jack.unit == entered.unit:
                    yield driver
        if isinstance(item, Isolator):
            yield _secondary(Jack(entered.unit, ISOLATOR_OUTPUT, 1), item)
        if isinstance(item, Subwoofer):
            for jack in self._jacks_out[entered.unit]:
                driver = self._driver(jack, None, (0.0, 0.0))
                if driver is not None and not self._is_wired_through(jack):
                    yield driver

    def _is_wired_through(self, jack: Jack) -> bool:
        port = self._gear.line_port(jack, Direction.OUT)
        return port is not None and port.wired_through

    def _reached_from(self, driver: Driver) -> tuple[Branch, ...]:
        if driver.jack not in self._branches:
            found = self._passively(driver.jack, (), driver.balanced, ())
            self._branches[driver.jack] = tuple(found)
        return self._branches[driver.jack]

    def _passively(
        self, jack: Jack, before: tuple[Run, ...], balanced: bool, links: tuple[Jack, ...]
    ) -> Iterator[Branch]:
        """The inputs reached from a jack by leads, splitters and links that are wired through."""
        passed = {run.connection.sink.unit for run in before}
        for connection in self._from.get(jack, ()):
            unit_id, item = connection.sink.unit, self._gear.item(connection.sink.unit)
            if unit_id in passed:
                continue  # a ring, in a spoiled design
            run = _run(connection, self._gear)
            runs, whole = (*before, run), balanced and run.balanced
            if isinstance(item, Splitter):
                for leg in self._jacks_out[unit_id]:
                    yield from self._passively(leg, runs, whole and item.balanced, links)
                continue
            if isinstance(item, Isolator):
                winding = self._winding(connection.sink, item)
                yield Branch(runs=runs, receiver=winding, balanced=whole and item.input_balanced, links=links)
                continue
            receiver = self._receiver(connection.sink, item)
            if receiver is None:
                continue
            whole = whole and receiver.balanced
            yield Branch(runs=runs, receiver=receiver, balanced=whole, links=links)
            for link in self._jacks_out[unit_id]:
                port = self._gear.line_port(link, Direction.OUT)
                if port is not None and port.wired_through:
                    yield from self._passively(link, runs, whole and port.balanced, (*links, link))

    def _winding(self, jack: Jack, isolator: Isolator) -> Receiver:
        """The input of an isolator, of the impedance that lies behind it."""
        onward = self._from.get(Jack(jack.unit, ISOLATOR_OUTPUT, 1), [])
        behind = self._receiver(onward[0].sink, self._gear.item(onward[0].sink.unit)) if onward else None
        return Receiver(
            jack=jack,
            sku=isolator.sku,
            contact=isolator.input,
            balanced=isolator.input_balanced,
            max_level_dbu=isolator.max_level_dbu,
            impedance_ohm=None if behind is None else behind.impedance_ohm,
            full_output_v=None,
        )

    def _driver(self, jack: Jack, noise_dbu: float | None, gain_range_db: tuple[float, float] | None) -> Driver | None:
        port = self._gear.line_port(jack, Direction.OUT)
        if port is None:
            return None
        return Driver(
            jack=jack,
            sku=port.device,
            role=port.role,
            contact=port.contact,
            balanced=port.balanced,
            output_stage=port.output_stage if port.balanced else OutputStage.UNBALANCED,
            max_level_dbu=port.max_level_dbu,
            impedance_ohm=_impedance_ohm(port),
            noise_dbu=noise_dbu,
            gain_range_db=gain_range_db,
        )

    def _receiver(self, jack: Jack, item: Item | None) -> Receiver | None:
        port = self._gear.line_port(jack, Direction.IN)
        if port is None:
            return None
        return Receiver(
            jack=jack,
            sku=port.device,
            contact=port.contact,
            balanced=port.balanced,
            max_level_dbu=port.max_level_dbu,
            impedance_ohm=_impedance_ohm(port),
            full_output_v=_full_output_v(port, item),
            noise_dbu=item.noise_dbu if isinstance(item, Amplifier) else None,
            has_noise=isinstance(item, Amplifier),
        )


def _secondary(jack: Jack, isolator: Isolator) -> Driver:
    """The output of an isolator; it passes what its input may take, less its loss."""
    most_dbu = isolator.max_level_dbu
    return Driver(
        jack=jack,
        sku=isolator.sku,
        role=PortRole.LINK,  # it makes no noise of its own
        contact=isolator.output,
        balanced=isolator.output_balanced,
        output_stage=OutputStage.TRANSFORMER if isolator.output_balanced else OutputStage.UNBALANCED,
        max_level_dbu=None if most_dbu is None else most_dbu - isolator.loss_db,
        impedance_ohm=_LEAST_OHM,
        noise_dbu=None,
        gain_range_db=(-isolator.loss_db, -isolator.loss_db),
        passive=True,
    )


def _impedance_ohm(port: PortGroup) -> float | None:
    return None if port.impedance_ohm is None else max(port.impedance_ohm, _LEAST_OHM)


def _full_output_v(port: PortGroup, item: Item | None) -> float | None:
    """The sensitivity of the input, else of its amplifier, else what power at 8 ohm and gain make it."""
    if port.sensitivity_v is not None or not isinstance(item, Amplifier):
        return port.sensitivity_v
    if item.sensitivity_v is not None or item.gain_db is None:
        return item.sensitivity_v
    return input_for_full_output_v(item.power_8ohm_w, 8.0, item.gain_db)


def _run(connection: Connection, gear: Gear) -> Run:
    """The lead of a connection at the length it has when it hangs there: a made lead as sold."""
    build = connection.lead
    if build.method is LeadMethod.DIRECT:
        return Run(connection=connection, sku=None, length_m=0.0, capacitance_pf_per_m=None, balanced=True)
    for part in build.parts:
        item = gear.items.get(part.sku)
        if isinstance(item, Lead):
            share = 0.5 if build.method is LeadMethod.CUT else 1.0
            return Run(
                connection=connection,
                sku=item.sku,
                length_m=item.length_m * share,
                capacitance_pf_per_m=item.capacitance_pf_per_m,
                balanced=item.balanced,
            )
        if isinstance(item, BulkCable):
            return Run(
                connection=connection,
                sku=item.sku,
                length_m=build.length_m,
                capacitance_pf_per_m=item.capacitance_pf_per_m,
                balanced=item.kind is CableKind.LINE_BALANCED,
            )
    return Run(connection=connection, sku=None, length_m=build.length_m, capacitance_pf_per_m=None, balanced=True)
