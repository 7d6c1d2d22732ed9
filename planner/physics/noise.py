"""R12: the noise along a line chain, and at its sink referred to full output.

Counted are the processor, the DSP unit at the gain that its levels ask for, the thermal noise
of every output with the inputs on it, and the input of a power amplifier; all rms in 20 kHz,
unweighted, at 20 °C. The catalogue has no figure for the noise of a link output or of an
active loudspeaker or subwoofer, so theirs is not in it. Noise is taken to pass a joint as the
signal does, with the greater of two levels where the output's build is not known.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.catalogue.records import PortRole
from planner.design import Jack
from planner.formulas.levels import dbu_from_v
from planner.formulas.loading import parallel_ohm
from planner.formulas.noise import johnson_noise_v, noise_at_sink_dbu
from planner.physics.levels import ChainLevels, difference_db, load_impedance_ohm, source_impedance_ohm
from planner.physics.stages import Driver, Hop


@dataclass(frozen=True, kw_only=True, slots=True)
class NoiseSource:
    """One origin of noise: the jack where it arises, its level there, and the gain from there to the sink."""

    origin: str
    jack: Jack
    level_dbu: float
    gain_after_db: float

    @property
    def at_sink_dbu(self) -> float:
        """What it makes at the sink."""
        return self.level_dbu + self.gain_after_db


@dataclass(frozen=True, kw_only=True, slots=True)
class ChainNoise:
    """The noise of one chain. `floors_dbu` is the noise floor at each of its points.

    That is what the stages up to a point make there together: at an output its own noise is in
    it, at an input the heat of the line, and at that of a power amplifier the amplifier's own.
    A floor is None where some of it is not known. `re_full_output_db` is below 0 dB in any
    usable chain. `sources` are those known, in the order of flow.
    """

    sources: tuple[NoiseSource, ...]
    floors_dbu: tuple[float | None, ...]
    re_full_output_db: float | None

    @property
    def at_sink_dbu(self) -> float | None:
        """The noise floor at the sink; None where some of it is not known."""
        return self.floors_dbu[-1]

    @property
    def loudest(self) -> NoiseSource | None:
        """The source that makes most of the noise at the sink."""
        return max(self.sources, key=lambda source: source.at_sink_dbu, default=None)


def chain_noise(levels: ChainLevels) -> ChainNoise:
    """The noise of one chain from point to point, as far as the catalogue's figures go."""
    floors_dbu = _floors_dbu(levels)
    return ChainNoise(
        sources=tuple(_sources(levels)),
        floors_dbu=floors_dbu,
        re_full_output_db=difference_db(floors_dbu[-1], levels.full_output_dbu),
    )


def _floors_dbu(levels: ChainLevels) -> tuple[float | None, ...]:
    """The noise floor at the output and at the input of each hop, in the order of flow."""
    floors: list[float | None] = []
    for hop, gain_db, loss in zip(levels.chain.hops, levels.gains_db, levels.losses_db, strict=True):
        driver, receiver = hop.driver, hop.taken.receiver
        own = [(driver.noise_dbu, 0.0)] if _has_noise(driver) else []
        floors.append(_floor_dbu([*((floor, gain_db) for floor in floors[-1:]), *own]))
        own = [(receiver.noise_dbu, 0.0)] if receiver.has_noise else []
        floors.append(_floor_dbu([(floors[-1], None if loss is None else loss[1]), (_thermal_dbu(hop), 0.0), *own]))
    return tuple(floors)


def _floor_dbu(noises: Sequence[tuple[float | None, float | None]]) -> float | None:
    """Noises with the gain from each to here, added up; None where one is not known, or none is counted."""
    known = [(noise_dbu, gain_db) for noise_dbu, gain_db in noises if noise_dbu is not None and gain_db is not None]
    return noise_at_sink_dbu(known) if known and len(known) == len(noises) else None


def _has_noise(driver: Driver) -> bool:
    """Whether the catalogue has a place for the noise of an output's device: it has none for a subwoofer's."""
    return driver.role is not PortRole.LINK


def _sources(levels: ChainLevels) -> Iterator[NoiseSource]:
    """Every source of noise whose level, and gain to the sink, is known."""
    afters = _greatest_gains_after(levels)
    for hop, from_output_db, from_input_db in zip(levels.chain.hops, afters[::2], afters[1::2], strict=True):
        driver, receiver = hop.driver, hop.taken.receiver
        if _has_noise(driver):
            yield from _source(driver.jack.unit, driver.jack, driver.noise_dbu, from_output_db)
        yield from _source("heat in the resistance of the line", receiver.jack, _thermal_dbu(hop), from_input_db)
        if receiver.has_noise:
            yield from _source(receiver.jack.unit, receiver.jack, receiver.noise_dbu, from_input_db)


def _source(origin: str, jack: Jack, level_dbu: float | None, gain_after_db: float | None) -> Iterator[NoiseSource]:
    if level_dbu is not None and gain_after_db is not None:
        yield NoiseSource(origin=origin, jack=jack, level_dbu=level_dbu, gain_after_db=gain_after_db)


def _greatest_gains_after(levels: ChainLevels) -> Sequence[float | None]:
    """The greatest gain to the sink from each output and each input, in the order of flow."""
    afters: list[float | None] = []
    after_db: float | None = 0.0
    for gain_db, loss in zip(reversed(levels.gains_db), reversed(levels.losses_db), strict=True):
        afters.append(after_db)
        after_db = None if after_db is None or loss is None else after_db + loss[1]
        afters.append(after_db)
        after_db = None if after_db is None or gain_db is None else after_db + gain_db
    return afters[::-1]


def _thermal_dbu(hop: Hop) -> float | None:
    """The thermal noise that an input hears: of its source and of all inputs, in parallel."""
    load_ohm = load_impedance_ohm(hop)
    if hop.driver.impedance_ohm is None or load_ohm is None:
        return None
    source_ohm = source_impedance_ohm(hop, hop.driver.impedance_ohm)
    return dbu_from_v(johnson_noise_v(parallel_ohm([source_ohm, load_ohm])))
