"""R12: the noise at the sink of a line chain, referred to its full output.

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
from planner.physics.levels import ChainLevels, difference_db, source_impedance_ohm
from planner.physics.stages import Hop


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
    """The noise of one chain. `at_sink_dbu` is None where some of it is not known.

    `re_full_output_db` is below 0 dB in any usable chain. `sources` are those known, in the
    order of flow.
    """

    sources: tuple[NoiseSource, ...]
    at_sink_dbu: float | None
    re_full_output_db: float | None

    @property
    def loudest(self) -> NoiseSource | None:
        """The source that makes most of the noise at the sink."""
        return max(self.sources, key=lambda source: source.at_sink_dbu, default=None)


def chain_noise(levels: ChainLevels) -> ChainNoise:
    """The noise at the sink of one chain, as far as the catalogue's figures go."""
    found = list(_sources(levels))
    sources = tuple(source for source in found if source is not None)
    complete = len(sources) == len(found)
    at_sink_dbu = noise_at_sink_dbu([(s.level_dbu, s.gain_after_db) for s in sources]) if complete else None
    return ChainNoise(
        sources=sources,
        at_sink_dbu=at_sink_dbu,
        re_full_output_db=difference_db(at_sink_dbu, levels.full_output_dbu),
    )


def _sources(levels: ChainLevels) -> Iterator[NoiseSource | None]:
    """Every source of noise, None in place of one whose level or gain is not known."""
    afters = _greatest_gains_after(levels)
    for hop, from_output_db, from_input_db in zip(levels.chain.hops, afters[::2], afters[1::2], strict=True):
        driver, receiver = hop.driver, hop.taken.receiver
        if driver.role is not PortRole.LINK:
            yield _source(driver.jack.unit, driver.jack, driver.noise_dbu, from_output_db)
        yield _source("heat in the resistance of the line", receiver.jack, _thermal_dbu(hop), from_input_db)
        if receiver.has_noise:
            yield _source(receiver.jack.unit, receiver.jack, receiver.noise_dbu, from_input_db)


def _source(origin: str, jack: Jack, level_dbu: float | None, gain_after_db: float | None) -> NoiseSource | None:
    if level_dbu is None or gain_after_db is None:
        return None
    return NoiseSource(origin=origin, jack=jack, level_dbu=level_dbu, gain_after_db=gain_after_db)


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
    inputs_ohm = [branch.receiver.impedance_ohm for branch in hop.branches]
    known_ohm = [each for each in inputs_ohm if each is not None]
    if hop.driver.impedance_ohm is None or len(known_ohm) < len(inputs_ohm):
        return None
    source_ohm = source_impedance_ohm(hop, hop.driver.impedance_ohm)
    return dbu_from_v(johnson_noise_v(parallel_ohm([source_ohm, *known_ohm])))
