"""R11: the levels along a line chain, and how far each stage is from clipping.

Everything is worked out from the most that arrives forwards, and from the sink at full output
backwards. Where two figures are possible, an output of unknown build, the lesser level counts.

The gain of a DSP unit is the one that leaves most room: at which what may come in at most
just reaches the ceiling of its output, or its greatest gain where that is less. Less gain
leaves less room before it, more gain leaves no more behind it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.design import Jack
from planner.formulas.capacitance import low_pass_loss_db
from planner.formulas.clipping import first_to_clip
from planner.formulas.levels import dbu_from_v, dbv_from_dbu, v_from_dbu
from planner.formulas.loading import parallel_ohm
from planner.formulas.output_circuit import arriving_db, seen_ohm
from planner.physics.stages import Branch, Driver, Hop, LineChain

TREBLE_HZ = 20_000.0

_SLIVER_DB = 1e-9

_NO_SIGNAL_DBU, _BEYOND_ALL_DBU = -1_000.0, 1_000.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Point:
    """One jack of a chain, and the levels there, dBu rms; None: not known.

    `at_maximum_dbu` is with the source at its maximum, or as far up as what comes before does
    not clip; `at_full_output_dbu` with the sink at full output. `gain_after_db` is the gain
    from here to the sink.
    """

    jack: Jack
    ceiling_dbu: float | None
    at_maximum_dbu: float | None
    gain_after_db: float | None
    at_full_output_dbu: float | None

    @property
    def margin_db(self) -> float | None:
        """How far this jack is from clipping with the sink at full output."""
        return difference_db(self.ceiling_dbu, self.at_full_output_dbu)


@dataclass(frozen=True, kw_only=True, slots=True)
class ChainLevels:
    """The levels of one chain. `points` are output and input of each hop, in the order of flow.

    `losses_db` are, for each hop, the least and the greatest level that arrives re the open
    output; `gains_db` the gain set before each hop's output, 0 dB before the first.
    `treble_loss_db` is what the leads take at 20 kHz, all hops together.
    `least_margin_db` is None where something that it needs is not known; a shortfall at a
    stage whose figures are known is given all the same, since nothing else can mend it.
    """

    chain: LineChain
    losses_db: tuple[tuple[float, float] | None, ...]
    gains_db: tuple[float | None, ...]
    points: tuple[Point, ...]
    full_output_dbu: float | None
    treble_loss_db: float | None
    least_margin_db: float | None
    first_to_clip: Jack | None

    @property
    def arriving_dbu(self) -> float | None:
        """The most that arrives at the sink with nothing before it clipping."""
        return self.points[-1].at_maximum_dbu


def chain_levels(chain: LineChain) -> ChainLevels:
    """The levels of one chain, as far as the catalogue's figures go."""
    losses = tuple(loss_db(hop) for hop in chain.hops)
    least = [None if loss is None else loss[0] for loss in losses]
    full_output_v = chain.sink.full_output_v
    full_output_dbu = None if full_output_v is None else dbu_from_v(full_output_v)
    gains, maxima = _forwards(chain.hops, least)
    afters = _gains_after(gains, least)
    points = tuple(_points(chain.hops, maxima, afters, full_output_dbu))
    margin_db, jack = _least_margin(points, full_output_dbu)
    return ChainLevels(
        chain=chain,
        losses_db=losses,
        gains_db=gains,
        points=points,
        full_output_dbu=full_output_dbu,
        treble_loss_db=_sum_db([hop_treble_loss_db(hop) for hop in chain.hops]),
        least_margin_db=margin_db,
        first_to_clip=jack,
    )


def loss_db(hop: Hop) -> tuple[float, float] | None:
    """The least and the greatest level at the input of a hop re the open output; None: not known."""
    source_ohm = hop.driver.impedance_ohm
    inputs_ohm = [branch.receiver.impedance_ohm for branch in hop.branches]
    if source_ohm is None or None in inputs_ohm:
        return None
    return arriving_db(
        hop.driver.output_stage,
        source_ohm,
        _impedances_ohm(hop.branches, balanced=True),
        _impedances_ohm(hop.branches, balanced=False),
        into_balanced=hop.taken.balanced,
    )


def hop_treble_loss_db(hop: Hop) -> float | None:
    """What the capacitance of all leads on an output takes at 20 kHz behind its source impedance.

    The inputs beside it would lessen the loss a little, and are left out.
    """
    capacitances_pf = {id(run): run.capacitance_pf for branch in hop.branches for run in branch.runs}.values()
    if hop.driver.impedance_ohm is None or None in capacitances_pf:
        return None
    source_ohm = source_impedance_ohm(hop, hop.driver.impedance_ohm)
    return low_pass_loss_db(TREBLE_HZ, source_ohm, sum(c for c in capacitances_pf if c is not None))


def source_impedance_ohm(hop: Hop, driver_ohm: float) -> float:
    """The impedance that the input of a hop is driven from: both legs, or one."""
    return seen_ohm(
        hop.driver.output_stage,
        driver_ohm,
        grounds_cold=any(not branch.balanced for branch in hop.branches),
        into_balanced=hop.taken.balanced,
    )


def load_impedance_ohm(hop: Hop) -> float | None:
    """All inputs on the output of a hop in parallel; None where one is not known."""
    inputs_ohm = [branch.receiver.impedance_ohm for branch in hop.branches]
    known_ohm = [ohm for ohm in inputs_ohm if ohm is not None]
    return parallel_ohm(known_ohm) if len(known_ohm) == len(inputs_ohm) else None


def voltage_v(level_dbu: float) -> float:
    """A level in volts, for people; figures beyond all sense are told as such and do not raise."""
    return v_from_dbu(min(max(level_dbu, _NO_SIGNAL_DBU), _BEYOND_ALL_DBU))


def level_words(level_dbu: float) -> str:
    """A level in the three units of the trade.

    >>> level_words(4.0)
    '1.23 V (+4.0 dBu, +1.8 dBV)'
    """
    volts = voltage_v(level_dbu)
    figure = f"{volts:.2f} V" if volts >= 0.1 else f"{volts * 1000:.3g} mV"
    return f"{figure} ({level_dbu:+.1f} dBu, {dbv_from_dbu(level_dbu):+.1f} dBV)"


def difference_db(one_db: float | None, other_db: float | None) -> float | None:
    """One level less another, where both are known."""
    return None if one_db is None or other_db is None else one_db - other_db


def _impedances_ohm(branches: Sequence[Branch], *, balanced: bool) -> list[float]:
    return [
        branch.receiver.impedance_ohm
        for branch in branches
        if branch.balanced is balanced and branch.receiver.impedance_ohm is not None
    ]


def _forwards(
    hops: Sequence[Hop], least: Sequence[float | None]
) -> tuple[tuple[float | None, ...], list[tuple[float | None, float | None]]]:
    """The gain before each output, and the greatest level at each output and each input."""
    gains: list[float | None] = []
    maxima: list[tuple[float | None, float | None]] = []
    most_dbu: float | None = None
    for hop, loss in zip(hops, least, strict=True):
        gain = 0.0 if not gains else _gain_db(hop.driver, most_dbu)
        most_dbu = hop.driver.max_level_dbu if not gains else _least_of(_sum_db([most_dbu, gain]), hop.driver)
        arriving_dbu = _sum_db([most_dbu, loss])
        gains.append(gain)
        maxima.append((most_dbu, arriving_dbu))
        ceiling_dbu = hop.taken.receiver.max_level_dbu
        most_dbu = None if arriving_dbu is None or ceiling_dbu is None else min(arriving_dbu, ceiling_dbu)
    return tuple(gains), maxima


def _gain_db(driver: Driver, entering_dbu: float | None) -> float | None:
    """The gain to set before an output: what brings the most that enters to the output's ceiling."""
    least_db, greatest_db = driver.gain_range_db or (0.0, 0.0)
    if least_db == greatest_db:
        return greatest_db
    wanted_db = difference_db(driver.max_level_dbu, entering_dbu)
    return None if wanted_db is None else min(max(wanted_db, least_db), greatest_db)


def _least_of(level_dbu: float | None, driver: Driver) -> float | None:
    return None if level_dbu is None or driver.max_level_dbu is None else min(level_dbu, driver.max_level_dbu)


def _gains_after(gains: Sequence[float | None], least: Sequence[float | None]) -> list[float | None]:
    """The gain to the sink from each output and each input, in the order of flow."""
    afters: list[float | None] = []
    after_db: float | None = 0.0
    for gain, loss in zip(reversed(gains), reversed(least), strict=True):
        from_output_db = _sum_db([after_db, loss])
        afters += [after_db, from_output_db]
        after_db = _sum_db([from_output_db, gain])
    return afters[::-1]


def _points(
    hops: Sequence[Hop],
    maxima: Sequence[tuple[float | None, float | None]],
    afters: Sequence[float | None],
    full_output_dbu: float | None,
) -> Iterator[Point]:
    stages = [stage for hop in hops for stage in (hop.driver, hop.taken.receiver)]
    at_maximum = [level for pair in maxima for level in pair]
    for stage, most_dbu, after_db in zip(stages, at_maximum, afters, strict=True):
        yield Point(
            jack=stage.jack,
            ceiling_dbu=stage.max_level_dbu,
            at_maximum_dbu=most_dbu,
            gain_after_db=after_db,
            at_full_output_dbu=difference_db(full_output_dbu, after_db),
        )


def _least_margin(points: Sequence[Point], full_output_dbu: float | None) -> tuple[float | None, Jack | None]:
    """The least margin and the jack that clips first; the sink's own ceiling may be unknown."""
    known = [
        (point.jack, (point.ceiling_dbu, point.gain_after_db))
        for point in points
        if point.ceiling_dbu is not None and point.gain_after_db is not None
    ]
    if full_output_dbu is None or not known:
        return None, None
    _, at_sink_dbu = first_to_clip([limit for _, limit in known])
    complete = {jack for jack, _ in known} >= {point.jack for point in points[:-1]}
    if not complete and at_sink_dbu >= full_output_dbu:
        return None, None
    # A DSP unit's output and what comes before it clip together by the gain set between them;
    # the output is named, since more before it would be taken away by less gain.
    together = [jack for jack, (limit, after) in known if limit + after <= at_sink_dbu + _SLIVER_DB]
    return at_sink_dbu - full_output_dbu, together[-1]


def _sum_db(levels: Sequence[float | None]) -> float | None:
    known = [level for level in levels if level is not None]
    return sum(known) if len(known) == len(levels) else None
