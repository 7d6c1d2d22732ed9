"""R11 and R12 in words: too little drive, noise, treble lost in leads, and how conversions must be wired."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

from planner.brief.records import Limits, PhysicalLimit
from planner.catalogue.records import OutputStage
from planner.design import Finding
from planner.physics.findings import concern, named, note, over_limit
from planner.physics.levels import ChainLevels, hop_treble_loss_db
from planner.physics.line_unknowns import unknown_findings
from planner.physics.noise import ChainNoise
from planner.physics.shortfall import LEAST_SHORT_DB, shortfall_words
from planner.physics.stages import LineChain

MOST_TREBLE_LOSS_DB = -0.5
"""Loss at 20 kHz that is worth a word: common practice, no published source."""

_WIRING = {
    OutputStage.SYMMETRICAL: (
        "It is a symmetrical output: one leg is used, and 6.0 dB less arrives. Leave the cold core open at the"
        " unbalanced end; joined to the shell it overloads the output."
    ),
    OutputStage.SERVO: (
        "It is a servo-balanced output: join the cold core to the shell at the unbalanced end. Left open, the level"
        " falls, and the output may become unstable."
    ),
    OutputStage.TRANSFORMER: (
        "It is a transformer output: join the cold core to the shell at the unbalanced end. Left open, hardly any"
        " signal passes."
    ),
    OutputStage.UNKNOWN: (
        "The catalogue does not say how the output is built: 6.0 dB less may arrive, and is counted. Leave the cold"
        " core open at the unbalanced end, and ask the maker."
    ),
}
"""How a balanced output wants its cold core wired to an unbalanced input; see `planner.formulas.balance`."""


def line_findings(levels: Sequence[ChainLevels], noises: Sequence[ChainNoise], limits: Limits) -> tuple[Finding, ...]:
    """What R11, R12 and the limit on M8 have to say of the chains of one design, the gravest first."""
    chains = [each.chain for each in levels]
    beyond = [each for each in levels if _is_beyond(each, limits)]
    within = [each for each in levels if each not in beyond]
    held = partial(over_limit, held=PhysicalLimit.LEVEL in limits.physical)
    noisy = ((of.chain, noise_words(of, each, limits.most_noise_db)) for of, each in zip(levels, noises, strict=True))
    return (
        *_alike(held, "R11", ((each.chain, shortfall_words(each)) for each in beyond)),
        *_alike(concern, "R11", ((each.chain, shortfall_words(each)) for each in within)),
        *_alike(partial(over_limit, held=True), "R11", ((each.chain, _margin_words(each, limits)) for each in levels)),
        *_alike(concern, "R12", noisy),
        *_alike(note, "R11", ((each.chain, treble_words(each)) for each in levels)),
        *_conversions(chains),
        *unknown_findings(chains),
    )


def _is_beyond(levels: ChainLevels, limits: Limits) -> bool:
    """Whether a chain falls short by more than the brief tolerates."""
    margin_db = levels.least_margin_db
    return margin_db is not None and margin_db <= -limits.level_tolerance_db - LEAST_SHORT_DB


def _margin_words(levels: ChainLevels, limits: Limits) -> str | None:
    """How far a chain is from the least margin that the brief asks of every one (M8)."""
    margin_db, wanted_db = levels.least_margin_db, limits.least_margin_db
    if margin_db is None or wanted_db is None or margin_db > wanted_db - LEAST_SHORT_DB:
        return None
    return (
        f"The least level margin is {margin_db:.1f} dB, and the brief asks for {wanted_db:g} dB. Remedy: an output or a"
        " DSP unit that passes more, a more sensitive input, or a lower margin asked."
    )


def noise_words(levels: ChainLevels, noise: ChainNoise, most_noise_db: float) -> str | None:
    """How far the noise is above what is tolerated, where most of it comes from, and the remedy."""
    noise_db, loudest = noise.re_full_output_db, noise.loudest
    if noise_db is None or loudest is None or noise_db <= most_noise_db:
        return None
    excess_db = noise_db - most_noise_db
    room_db = levels.least_margin_db
    if loudest.jack == levels.chain.sink.jack:
        remedy = f"a quieter device than {levels.chain.sink.sku}"
    elif room_db is not None and room_db >= excess_db:
        remedy = (
            f"turn the input level of the device down by {excess_db:.1f} dB; the chain has {room_db:.1f} dB to spare"
        )
    else:
        remedy = f"a quieter device in place of {loudest.jack.unit}, or a less sensitive input"
    return (
        f"Noise stands {-noise_db:.1f} dB below full output, {excess_db:.1f} dB short of the {-most_noise_db:g} dB"
        f" that the brief asks. Most of it comes from {loudest.origin}. Remedy: {remedy}."
    )


def treble_words(levels: ChainLevels) -> str | None:
    """What the leads of a chain take at 20 kHz, where it is worth a word."""
    loss_db = levels.treble_loss_db
    if not levels.chain.treble or loss_db is None or loss_db >= MOST_TREBLE_LOSS_DB:
        return None
    worst = min(levels.chain.hops, key=lambda hop: hop_treble_loss_db(hop) or 0.0)
    length_m = sum({id(run): run.length_m for branch in worst.branches for run in branch.runs}.values())
    return (
        f"The leads take {-loss_db:.1f} dB at 20 kHz, most of it {length_m:g} m on {worst.driver.jack.unit} /"
        f" {worst.driver.jack.group} of {worst.driver.impedance_ohm:g} ohm. Remedy: shorter leads, leads of lower"
        " capacitance, or an output of lower impedance."
    )


def _alike(
    grade: Callable[[str, str, str], Finding], rule: str, told: Iterable[tuple[LineChain, str | None]]
) -> Iterator[Finding]:
    """One finding for all chains of which the same is to be said."""
    chains: dict[str, list[str]] = {}
    for chain, message in told:
        if message is not None:
            chains.setdefault(message, []).append(str(chain))
    for message, names in chains.items():
        yield grade(rule, named(names), message)


def _conversions(chains: Iterable[LineChain]) -> Iterator[Finding]:
    """One NOTE for each group of balanced outputs that feed unbalanced inputs."""
    inputs: dict[tuple[str, OutputStage], dict[str, None]] = {}
    for chain in chains:
        for hop in chain.hops:
            if hop.driver.balanced and not hop.taken.balanced and hop.driver.output_stage in _WIRING:
                of = (f"{hop.driver.jack.unit} / {hop.driver.jack.group}", hop.driver.output_stage)
                inputs.setdefault(of, {})[str(hop.taken.receiver.jack)] = None
    for (outputs, stage), names in inputs.items():
        yield note("R11", outputs, f"It feeds {named(names)} unbalanced. {_WIRING[stage]}")
