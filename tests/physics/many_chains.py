"""Thousands of random designs at once: each a few line chains, drawn as columns of figures.

A design is a processor output with one to three inputs on it. The first may be that of a DSP
unit or of a subwoofer with a link output of its own, which drives one to three inputs more.
Every other input is a sink. `chains_of` makes of it the records that the planner works with;
`expected` works all of them out together, from the same columns, by Kirchhoff's laws at the
two nodes of each output and by nothing of the planner's. NaN: not known.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.catalogue.records import OutputStage, PortRole
from planner.contacts import Connector, Contact, Gender
from planner.design import Connection, Jack, LeadBuild, LeadMethod
from planner.physics.stages import Branch, Driver, Hop, LineChain, Receiver, Run

Figures = NDArray[np.float64]
Flags = NDArray[np.bool_]

STAGES = tuple(OutputStage)
MOST_INPUTS = 3
_SHORT_OHM = 1e-9
_ZERO_DBU_V = math.sqrt(0.6)
_PLUG = Contact(Connector.RCA, Gender.MALE)
_ANYWHERE = Jack("", "", 1)
_LEAD = LeadBuild(method=LeadMethod.STOCKED, length_m=1.0)
_CONNECTION = Connection(channel="LFE1", source=_ANYWHERE, sink=_ANYWHERE, lead=_LEAD)


@dataclass(frozen=True)
class Outputs:
    """One output a design, and its inputs: the columns of inputs have a second axis of three.

    `stage` counts in `STAGES`. An input that is not there is none of the first `count`.
    """

    stage: NDArray[np.int64]
    ohm: Figures
    ceiling_dbu: Figures
    noise_dbu: Figures
    count: NDArray[np.int64]
    balanced: Flags
    input_ohm: Figures
    input_ceiling_dbu: Figures
    input_noise_dbu: Figures
    is_amplifier: Flags
    full_output_v: Figures
    capacitance_pf: Figures


@dataclass(frozen=True)
class Designs:
    """Random designs. `second` hangs on the first input of `first` where `goes_on`."""

    first: Outputs
    second: Outputs
    goes_on: Flags
    is_link: Flags
    greatest_gain_db: Figures


def random_designs(seed: int, count: int, gaps: float) -> Designs:
    """So many designs; `gaps` is how often a figure is not known."""
    random = np.random.default_rng(seed)
    return Designs(
        first=_outputs(random, count, gaps),
        second=_outputs(random, count, gaps),
        goes_on=random.random(count) < 0.6,
        is_link=random.random(count) < 0.3,
        greatest_gain_db=random.choice([0.0, 6.0, 12.0], count),
    )


def _outputs(random: np.random.Generator, count: int, gaps: float) -> Outputs:
    def known(least: float, most: float, *axes: int) -> Figures:
        figures = random.uniform(least, most, (count, *axes))
        return np.where(random.random(figures.shape) < gaps, np.nan, figures)

    stage = random.integers(0, len(STAGES), count)
    is_unbalanced = stage == STAGES.index(OutputStage.UNBALANCED)
    return Outputs(
        stage=stage,
        ohm=known(10, 2200),
        ceiling_dbu=known(0, 24),
        noise_dbu=known(-110, -70),
        count=random.integers(1, MOST_INPUTS + 1, count),
        balanced=(random.random((count, MOST_INPUTS)) < 0.5) & ~is_unbalanced[:, None],
        input_ohm=10 ** known(3, 5, MOST_INPUTS),
        input_ceiling_dbu=known(4, 26, MOST_INPUTS),
        input_noise_dbu=known(-120, -80, MOST_INPUTS),
        is_amplifier=random.random((count, MOST_INPUTS)) < 0.5,
        full_output_v=known(0.2, 4, MOST_INPUTS),
        capacitance_pf=known(50, 5000, MOST_INPUTS),
    )


def chains_of(designs: Designs, number: int) -> Iterator[tuple[int, LineChain]]:
    """The chains of one design as the planner's records, each with the number of its last input."""
    first = _hops(designs.first, number, "Proc", PortRole.ASSIGNABLE, None)
    if designs.goes_on[number]:
        link = bool(designs.is_link[number])
        gains_db = (0.0, 0.0) if link else (-math.inf, float(designs.greatest_gain_db[number]))
        role = PortRole.LINK if link else PortRole.PLAIN
        for at, hop in enumerate(_hops(designs.second, number, "Box", role, gains_db)):
            yield at, _chain(first[0], hop)
    for at, hop in enumerate(first):
        if at > 0 or not designs.goes_on[number]:
            yield at, _chain(hop)


def _chain(*hops: Hop) -> LineChain:
    return LineChain(channel="LFE1", way=None, feed=hops[-1].taken.receiver.jack, treble=True, hops=hops)


def _hops(outputs: Outputs, n: int, unit: str, role: PortRole, gains_db: tuple[float, float] | None) -> list[Hop]:
    stage = STAGES[outputs.stage[n]]
    driver = Driver(
        jack=Jack(unit, "OUT", 1),
        sku=unit,
        role=role,
        contact=_PLUG,
        balanced=stage is not OutputStage.UNBALANCED,
        output_stage=stage,
        max_level_dbu=_known(outputs.ceiling_dbu[n]),
        impedance_ohm=_known(outputs.ohm[n]),
        noise_dbu=_known(outputs.noise_dbu[n]),
        gain_range_db=gains_db,
    )
    branches = tuple(_branch(outputs, n, at, unit) for at in range(outputs.count[n]))
    return [Hop(driver=driver, taken=branch, branches=branches) for branch in branches]


def _branch(outputs: Outputs, n: int, at: int, unit: str) -> Branch:
    balanced = bool(outputs.balanced[n, at])
    receiver = Receiver(
        jack=Jack(f"Behind {unit}", "IN", at + 1),
        sku="Sink",
        contact=_PLUG,
        balanced=balanced,
        max_level_dbu=_known(outputs.input_ceiling_dbu[n, at]),
        impedance_ohm=_known(outputs.input_ohm[n, at]),
        full_output_v=_known(outputs.full_output_v[n, at]),
        noise_dbu=_known(outputs.input_noise_dbu[n, at]),
        has_noise=bool(outputs.is_amplifier[n, at]),
    )
    run = Run(
        connection=_CONNECTION,
        sku=None,
        length_m=1.0,
        capacitance_pf_per_m=_known(outputs.capacitance_pf[n, at]),
        balanced=balanced,
    )
    return Branch(runs=(run,), receiver=receiver, balanced=balanced)


def _known(figure: float) -> float | None:
    return None if math.isnan(figure) else float(figure)


@dataclass(frozen=True)
class Expected:
    """What one chain comes to, with an axis of the designs, and of two or four points where it has points.

    `margin_db` is the most that any gain of the DSP unit leaves; NaN where a figure lacks.
    """

    margin_db: Figures
    maximum_dbu: Figures
    full_output_dbu: Figures
    floor_v: Figures
    treble_db: Figures
    gain_db: Figures


def direct(designs: Designs, at: int) -> Expected:
    """The chains that end at this input of the processor's output."""
    outputs = designs.first
    least, greatest, thermal_v2, treble_db = _passed(outputs, at)
    out_dbu, loss_db = outputs.ceiling_dbu, _db(least)
    sink_dbu = _db(outputs.full_output_v[:, at] / _ZERO_DBU_V)
    room_db = np.fmin(out_dbu + loss_db, _or_none(outputs.input_ceiling_dbu[:, at])) - sink_dbu
    at_output = _squared_v(outputs.noise_dbu)
    return Expected(
        margin_db=np.where(np.isnan(out_dbu + loss_db), np.nan, room_db),
        maximum_dbu=np.stack([out_dbu, out_dbu + loss_db], 1),
        full_output_dbu=np.stack([sink_dbu - loss_db, sink_dbu], 1),
        floor_v=np.sqrt(np.stack([at_output, at_output * greatest**2 + thermal_v2 + _own(outputs, at)], 1)),
        treble_db=treble_db,
        gain_db=np.zeros((len(out_dbu), 1)),
    )


def behind(designs: Designs, at: int) -> Expected:
    """The chains that go on through the first input, and end at this input of the box's output."""
    first, second = designs.first, designs.second
    least_1, greatest_1, thermal_1, treble_1 = _passed(first, 0)
    least_2, greatest_2, thermal_2, treble_2 = _passed(second, at)
    loss_1, loss_2 = _db(least_1), _db(least_2)
    sink_dbu = _db(second.full_output_v[:, at] / _ZERO_DBU_V)
    into_box_dbu = np.minimum(first.ceiling_dbu + loss_1, first.input_ceiling_dbu[:, 0])
    # At the greatest gain, or where what comes in at most is brought just to the ceiling behind it.
    turned_db = np.minimum(designs.greatest_gain_db, second.ceiling_dbu - into_box_dbu)
    gain_db = np.where(designs.is_link, 0.0, turned_db)
    greatest_gain_db = np.where(designs.is_link, 0.0, designs.greatest_gain_db)
    before_db = into_box_dbu + greatest_gain_db + loss_2
    room_db = np.minimum(before_db, second.ceiling_dbu + loss_2)
    maximum_dbu = np.minimum(into_box_dbu + gain_db, second.ceiling_dbu)
    gain = 10 ** (gain_db / 20)
    at_first = _squared_v(first.noise_dbu)
    at_box = at_first * greatest_1**2 + thermal_1 + _own(first, 0)
    at_second = at_box * gain**2 + np.where(designs.is_link, 0.0, _squared_v(second.noise_dbu))
    at_sink = at_second * greatest_2**2 + thermal_2 + _own(second, at)
    behind_db = sink_dbu - loss_2
    return Expected(
        margin_db=np.where(
            np.isnan(room_db), np.nan, np.fmin(room_db, _or_none(second.input_ceiling_dbu[:, at])) - sink_dbu
        ),
        maximum_dbu=np.stack([first.ceiling_dbu, first.ceiling_dbu + loss_1, maximum_dbu, maximum_dbu + loss_2], 1),
        full_output_dbu=np.stack([behind_db - gain_db - loss_1, behind_db - gain_db, behind_db, sink_dbu], 1),
        floor_v=np.sqrt(np.stack([at_first, at_box, at_second, at_sink], 1)),
        treble_db=treble_1 + treble_2,
        gain_db=np.stack([np.zeros_like(gain_db), gain_db], 1),
    )


def _passed(outputs: Outputs, at: int) -> tuple[Figures, Figures, Figures, Figures]:
    """Least and greatest voltage at an input re the open output, thermal noise squared there, treble loss in dB."""
    there = np.arange(MOST_INPUTS) < outputs.count[:, None]
    siemens = np.where(there, 1 / outputs.input_ohm, 0.0)
    across = np.where(outputs.balanced, siemens, 0.0).sum(1)
    to_shield = np.where(outputs.balanced, 0.0, siemens).sum(1)
    tied: Flags = np.any(there & ~outputs.balanced, axis=1)
    half, whole = outputs.ohm / 2, outputs.ohm
    short = np.full_like(whole, _SHORT_OHM)
    one_of_two = ((0.5, half), (-0.5, half))
    grounded = ((1.0, whole), (0.0, short))
    found = {
        OutputStage.UNBALANCED: _node_voltages(grounded, across, to_shield),
        OutputStage.SYMMETRICAL: _node_voltages(one_of_two, across, to_shield),
        OutputStage.IMPEDANCE_BALANCED: _node_voltages(((1.0, half), (0.0, half)), across, to_shield),
    }
    floating = np.where(
        tied[:, None], _node_voltages(grounded, across, to_shield), _node_voltages(one_of_two, across, to_shield)
    )
    found[OutputStage.SERVO] = found[OutputStage.TRANSFORMER] = floating
    seen = outputs.balanced[:, at]
    heard = {
        stage: np.where(seen, hot_cold[:, 0] - hot_cold[:, 1], hot_cold[:, 0]) for stage, hot_cold in found.items()
    }
    may_be = np.stack([heard[OutputStage.SYMMETRICAL], heard[OutputStage.IMPEDANCE_BALANCED], heard[OutputStage.SERVO]])
    least, greatest = np.full(len(whole), np.nan), np.full(len(whole), np.nan)
    for number, stage in enumerate(STAGES):
        is_it = np.flatnonzero(outputs.stage == number)
        unknown = stage is OutputStage.UNKNOWN
        least[is_it] = (may_be.min(0) if unknown else heard[stage])[is_it]
        greatest[is_it] = (may_be.max(0) if unknown else heard[stage])[is_it]
    pairs = [STAGES.index(OutputStage.SYMMETRICAL), STAGES.index(OutputStage.IMPEDANCE_BALANCED)]
    source_ohm = np.where(np.isin(outputs.stage, pairs) & ~seen, half, whole)
    together_ohm = 1 / (1 / source_ohm + siemens.sum(1))
    farads = np.where(there, outputs.capacitance_pf, 0.0).sum(1) * 1e-12
    treble_db = _db(1 / np.abs(1 + 2j * np.pi * 20e3 * source_ohm * farads))
    return least, greatest, 4 * 1.380649e-23 * 293.15 * 20e3 * together_ohm, treble_db


def _node_voltages(
    drivers: tuple[tuple[float, Figures], tuple[float, Figures]], across: Figures, to_shield: Figures
) -> Figures:
    """The voltages of hot and cold, solved from the currents at both nodes; an axis of the designs, then of two."""
    (hot_v, hot_ohm), (cold_v, cold_ohm) = drivers
    matrix = np.empty((len(across), 2, 2))
    matrix[:, 0, 0] = 1 / hot_ohm + across + to_shield
    matrix[:, 1, 1] = 1 / cold_ohm + across
    matrix[:, 0, 1] = matrix[:, 1, 0] = -across
    currents = np.stack([hot_v / hot_ohm, cold_v / cold_ohm], 1)
    solvable = np.isfinite(matrix).all((1, 2))
    voltages = np.full((len(across), 2), np.nan)
    voltages[solvable] = np.linalg.solve(matrix[solvable], currents[solvable][..., None])[..., 0]
    return voltages


def _own(outputs: Outputs, at: int) -> Figures:
    """The squared noise of the input itself, where it is that of an amplifier."""
    return np.where(outputs.is_amplifier[:, at], _squared_v(outputs.input_noise_dbu[:, at]), 0.0)


def _squared_v(level_dbu: Figures) -> Figures:
    return 0.6 * 10 ** (level_dbu / 10)


def _or_none(ceiling_dbu: Figures) -> Figures:
    """The ceiling of a sink, which counts where it is known."""
    return np.where(np.isnan(ceiling_dbu), np.inf, ceiling_dbu)


def _db(ratio: Figures) -> Figures:
    return 20 * np.log10(ratio)
