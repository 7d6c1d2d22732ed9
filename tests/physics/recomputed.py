"""Line chains worked out a second time, the plain way, from the design and the catalogue alone.

Nothing is shared with the planner but its records. Chains are found backwards from the sink;
circuits are solved node by node; levels are volts until they are compared; and the gains of
DSP units are left to a linear programme that looks for the most room.
"""

import cmath
import math
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import linprog

from planner.catalogue.records import (
    Amplifier,
    BulkCable,
    CableKind,
    Catalogue,
    DspUnit,
    Item,
    Lead,
    OutputStage,
    PortGroup,
    PortRole,
    Processor,
    Splitter,
    Subwoofer,
)
from planner.contacts import Connector
from planner.design import Connection, Design, Jack, LeadMethod
from tests.physics.nodal import hot_and_cold

REFERENCE_V = math.sqrt(0.6)
MAY_BE = (OutputStage.SYMMETRICAL, OutputStage.IMPEDANCE_BALANCED, OutputStage.SERVO)
LEAST_GAIN_DB = -500.0


@dataclass
class Step:
    """One output and the input behind it. Voltages re the open output are least and greatest."""

    output: Jack
    input: Jack
    out: PortGroup
    into: PortGroup
    ratios: tuple[float, float] | None
    thermal_ohm: float | None
    treble_db: float | None
    greatest_gain_db: float | None
    noise_dbu: float | None


@dataclass
class Chain:
    """One chain as a list of steps from the processor on."""

    sink: Jack
    sink_item: Item
    full_output_v: float | None
    steps: list[Step] = field(default_factory=list)

    @property
    def is_known(self) -> bool:
        """Whether all that its margin needs is known."""
        figures = [self.full_output_v]
        for step in self.steps:
            figures += [step.out.max_level_dbu, None if step.ratios is None else 0.0]
        figures += [step.into.max_level_dbu for step in self.steps[:-1]]
        return None not in figures


class Recomputed:
    def __init__(self, design: Design, catalogue: Catalogue) -> None:
        self.design, self.catalogue = design, catalogue
        items = {item.sku: item for item in catalogue.items()}
        self.items = items
        self.item = {unit.id: items[unit.sku] for unit in design.units}
        self.into_jack = {connection.sink: connection for connection in design.connections}

    def chains(self) -> list[Chain]:
        sinks = [c.sink for c in self.design.connections if self._is_feed(c.sink)]
        return [self._chain(sink) for sink in sinks]

    def port(self, jack: Jack) -> PortGroup:
        (found,) = [p for p in self.catalogue.ports[self.item[jack.unit].sku] if p.name == jack.group]
        return found

    def _is_feed(self, jack: Jack) -> bool:
        item = self.item[jack.unit]
        if isinstance(item, Splitter | DspUnit):
            return False
        return self.port(jack).connector is not Connector.BINDING_POST

    def _chain(self, sink: Jack) -> Chain:
        item, port = self.item[sink.unit], self.port(sink)
        full_output_v = port.sensitivity_v
        if full_output_v is None and isinstance(item, Amplifier):
            full_output_v = item.sensitivity_v
            if full_output_v is None and item.gain_db is not None:
                full_output_v = math.sqrt(item.power_8ohm_w * 8) / 10 ** (item.gain_db / 20)
        chain = Chain(sink=sink, sink_item=item, full_output_v=full_output_v)
        here: Jack | None = sink
        while here is not None:
            step, here = self._step(here)
            chain.steps.insert(0, step)
        return chain

    def _step(self, sink: Jack) -> tuple[Step, Jack | None]:
        """The step that ends in an input, and the input of the device before it."""
        output = self._back(sink)[0]
        out, item = self.port(output), self.item[output.unit]
        before: Jack | None = None
        greatest_gain_db, noise_dbu = None, None
        if isinstance(item, Processor):
            noise_dbu = item.noise_dbu
        elif isinstance(item, DspUnit):
            before = next(route.source for route in self.design.routes if route.sink == output)
            greatest_gain_db, noise_dbu = item.max_gain_db, item.noise_dbu
        else:
            before = next(jack for jack in self.into_jack if jack.unit == output.unit)
        fellows = [jack for jack in self.into_jack if self._is_input(jack) and self._back(jack)[0] == output]
        whole = {jack: self._stays_balanced(jack) for jack in fellows}
        ohms = {jack: self.port(jack).impedance_ohm for jack in fellows}
        ratios, thermal_ohm = None, None
        if out.impedance_ohm is not None and None not in ohms.values():
            across = [ohm for jack, ohm in ohms.items() if whole[jack] and ohm is not None]
            to_shield = [ohm for jack, ohm in ohms.items() if not whole[jack] and ohm is not None]
            ratios = _ratios(out, across, to_shield, whole[sink])
            source_ohm = _source_ohm(out, whole[sink], bool(to_shield))
            thermal_ohm = 1 / (1 / source_ohm + sum(1 / ohm for ohm in [*across, *to_shield]))
        leads = {id(c): c for jack in fellows for c in self._back(jack)[1]}
        return (
            Step(
                output=output,
                input=sink,
                out=out,
                into=self.port(sink),
                ratios=ratios,
                thermal_ohm=thermal_ohm,
                treble_db=self._treble_db(
                    out, list(leads.values()), _source_ohm(out, whole[sink], not all(whole.values()))
                ),
                greatest_gain_db=greatest_gain_db,
                noise_dbu=noise_dbu,
            ),
            before,
        )

    def _is_input(self, jack: Jack) -> bool:
        return isinstance(self.item[jack.unit], DspUnit) or self._is_feed(jack)

    def _back(self, sink: Jack) -> tuple[Jack, list[Connection]]:
        """The output that drives an input, and the connections between, the last first."""
        way = [self.into_jack[sink]]
        while True:
            source = way[-1].source
            item = self.item[source.unit]
            if isinstance(item, Splitter):
                way.append(self.into_jack[Jack(source.unit, "IN", 1)])
            elif isinstance(item, Subwoofer) and self._is_through(self.port(source)):
                way.append(next(c for jack, c in self.into_jack.items() if jack.unit == source.unit))
            else:
                return source, way

    def _is_through(self, port: PortGroup) -> bool:
        return port.role is PortRole.LINK and port.impedance_ohm is None and port.output_stage is OutputStage.UNKNOWN

    def _stays_balanced(self, sink: Jack) -> bool:
        output, way = self._back(sink)
        passed = [self.port(output).balanced]
        for connection in way:
            passed.append(self._lead(connection)[2])
            item = self.item[connection.sink.unit]
            passed.append(item.balanced if isinstance(item, Splitter) else self.port(connection.sink).balanced)
        return all(passed)

    def _lead(self, connection: Connection) -> tuple[float, float | None, bool]:
        """Length, capacitance a metre, and whether it has two cores."""
        if connection.lead.method is LeadMethod.DIRECT:
            return 0.0, 0.0, True
        item = self.items[connection.lead.parts[0].sku]
        if isinstance(item, BulkCable):
            return connection.lead.length_m, item.capacitance_pf_per_m, item.kind is CableKind.LINE_BALANCED
        assert isinstance(item, Lead)
        return item.length_m, item.capacitance_pf_per_m, item.balanced

    def _treble_db(self, out: PortGroup, leads: list[Connection], source_ohm: float) -> float | None:
        farads = 0.0
        for connection in leads:
            length_m, pf_per_m, _ = self._lead(connection)
            if pf_per_m is None:
                return None
            farads += length_m * pf_per_m * 1e-12
        if out.impedance_ohm is None:
            return None
        return 20 * math.log10(abs(1 / (1 + 2j * cmath.pi * 20e3 * source_ohm * farads)))


def _ratios(out: PortGroup, across: list[float], to_shield: list[float], balanced: bool) -> tuple[float, float]:
    assert out.impedance_ohm is not None
    stage = out.output_stage if out.balanced else OutputStage.UNBALANCED
    found = []
    for each in MAY_BE if stage is OutputStage.UNKNOWN else (stage,):
        hot, cold = hot_and_cold(each, out.impedance_ohm, across, to_shield)
        found.append(hot - cold if balanced else hot)
    return min(found), max(found)


def _source_ohm(out: PortGroup, balanced: bool, ties_cold: bool) -> float:
    """Between hot and cold all of it; from hot to shield one leg of the two that are made alike."""
    ohm = out.impedance_ohm or 0.0
    one_of_two = out.output_stage in (OutputStage.SYMMETRICAL, OutputStage.IMPEDANCE_BALANCED) and out.balanced
    return ohm / 2 if one_of_two and not balanced else ohm


def margin_db(chain: Chain) -> float:
    """The most that the least margin can be, over every setting of the DSP units."""
    assert chain.full_output_v is not None
    count = len(chain.steps)
    rows, rights = [], []
    for number, step in enumerate(chain.steps):
        for ceiling_dbu, from_here in ((step.out.max_level_dbu, number), (step.into.max_level_dbu, number + 1)):
            if ceiling_dbu is None:
                continue
            losses_db = sum(_db(each.ratios[0]) for each in chain.steps[from_here:] if each.ratios)
            # margin - gains behind <= ceiling + losses behind - full output
            row = [-1.0 if n > number else 0.0 for n in range(count)] + [1.0]
            rows.append(row)
            rights.append(ceiling_dbu + losses_db - _db(chain.full_output_v / REFERENCE_V))
    bounds: list[tuple[float, float | None]] = [
        (0.0, 0.0) if step.greatest_gain_db is None else (LEAST_GAIN_DB, step.greatest_gain_db) for step in chain.steps
    ]
    found = linprog([0.0] * count + [-1.0], A_ub=np.array(rows), b_ub=rights, bounds=[*bounds, (None, None)])
    assert found.success
    return float(found.x[-1])


def at_maximum_v(chain: Chain, gains_db: list[float]) -> list[float]:
    """The voltages at every output and input with the source all the way up, stages clipping where they must."""
    found: list[float] = []
    volts = math.inf
    for step, gain_db in zip(chain.steps, gains_db, strict=True):
        assert step.out.max_level_dbu is not None
        assert step.ratios is not None
        volts = min(volts * 10 ** (gain_db / 20), _volts(step.out.max_level_dbu))
        found.append(volts)
        volts *= step.ratios[0]
        found.append(volts)
        if step.into.max_level_dbu is not None:
            volts = min(volts, _volts(step.into.max_level_dbu))
    return found


def at_full_output_v(chain: Chain, gains_db: list[float]) -> list[float]:
    """The voltages at every output and input that put the sink at full output."""
    assert chain.full_output_v is not None
    found, volts = [], chain.full_output_v
    for step, gain_db in zip(reversed(chain.steps), reversed(gains_db), strict=True):
        assert step.ratios is not None
        found += [volts, volts / step.ratios[0]]
        volts = found[-1] / 10 ** (gain_db / 20)
    return found[::-1]


def noises_v(chain: Chain, gains_db: list[float | None]) -> list[float]:
    """The noise voltage at every output and input, the squares of voltages added; NaN where it is not known."""
    found: list[float] = []
    square = 0.0
    for step, gain_db in zip(chain.steps, gains_db, strict=True):
        square *= _known(gain_db, lambda db: 10 ** (db / 10))
        if step.out.role is not PortRole.LINK:
            square += _known(step.noise_dbu, _volts) ** 2
        found.append(math.sqrt(square))
        square *= math.nan if step.ratios is None else step.ratios[1] ** 2
        square += 4 * 1.380649e-23 * 293.15 * _known(step.thermal_ohm, float) * 20e3
        if step is chain.steps[-1] and isinstance(chain.sink_item, Amplifier):
            square += _known(chain.sink_item.noise_dbu, _volts) ** 2
        found.append(math.sqrt(square))
    return found


def _known(figure: float | None, use: Callable[[float], float]) -> float:
    return math.nan if figure is None else use(figure)


def _volts(level_dbu: float) -> float:
    return float(REFERENCE_V * 10 ** (level_dbu / 20))


def _db(ratio: float) -> float:
    return 20 * math.log10(ratio)
