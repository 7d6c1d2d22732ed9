"""R11 and R12 in words: clipping, too little drive, noise, treble lost in leads, and how conversions must be wired."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from planner.brief.records import Limits, PhysicalLimit
from planner.catalogue.records import OutputStage
from planner.design import Figure, FigureUnit, Finding, Jack, LeadMethod, Severity
from planner.physics.findings import jack_place, lead_place, named, note, over_limit, told_together
from planner.physics.levels import ChainLevels, hop_treble_loss_db
from planner.physics.line_unknowns import unknown_findings
from planner.physics.noise import ChainNoise, NoiseSource
from planner.physics.shortfall import LEAST_SHORT_DB, shortfall
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
    held = PhysicalLimit.LEVEL in limits.physical
    beyond = [each for each in levels if _is_beyond(each, limits)]
    within = [each for each in levels if each not in beyond]
    noisy = [noise_finding(of, each, limits.most_noise_db) for of, each in zip(levels, noises, strict=True)]
    return (
        *_alike(over_limit(found, held=held) for found in map(shortfall, beyond) if found),
        *_alike(map(shortfall, within)),
        *_alike(_margin_finding(each, limits) for each in levels),
        *_alike(noisy),
        *_alike(map(treble_finding, levels)),
        *_conversions([each.chain for each in levels]),
        *unknown_findings([each.chain for each in levels]),
    )


def _alike(found: Iterable[Finding | None]) -> Iterator[Finding]:
    """One finding for all chains of which the same is to be said."""
    return told_together((each.subject, replace(each, subject="")) for each in found if each is not None)


def _is_beyond(levels: ChainLevels, limits: Limits) -> bool:
    """Whether a chain falls short by more than the brief tolerates."""
    margin_db = levels.least_margin_db
    return margin_db is not None and margin_db <= -limits.level_tolerance_db - LEAST_SHORT_DB


def _margin_finding(levels: ChainLevels, limits: Limits) -> Finding | None:
    """How far a chain is from the least margin that the brief asks of every one (M8)."""
    margin_db, wanted_db = levels.least_margin_db, limits.least_margin_db
    if margin_db is None or wanted_db is None or margin_db > wanted_db - LEAST_SHORT_DB:
        return None
    first = () if levels.first_to_clip is None else (levels.first_to_clip,)
    return Finding(
        rule="R11",
        severity=Severity.INVALID,
        subject=str(levels.chain),
        heading="Level margin below what is asked",
        detail=f"The least level margin is {margin_db:.1f} dB, and the brief asks for {wanted_db:g} dB.",
        figures=(Figure(of="least level margin", value=margin_db, unit=FigureUnit.DB, limit=wanted_db),),
        places=tuple(jack_place(jack) for jack in dict.fromkeys((*first, levels.chain.sink.jack))),
        remedies=("an output or a DSP unit that passes more", "a more sensitive input", "a lower margin asked"),
    )


def noise_finding(levels: ChainLevels, noise: ChainNoise, most_noise_db: float) -> Finding | None:
    """How far the noise is above what is tolerated, where most of it comes from, and the remedy."""
    noise_db, loudest = noise.re_full_output_db, noise.loudest
    if noise_db is None or loudest is None or noise_db <= most_noise_db:
        return None
    return Finding(
        rule="R12",
        severity=Severity.CONCERN,
        subject=str(levels.chain),
        heading="Too much noise",
        detail=(
            f"Noise stands {-noise_db:.1f} dB below full output, and the brief asks {-most_noise_db:g} dB. Most of it"
            f" comes from {loudest.origin}."
        ),
        figures=(Figure(of="noise re full output", value=noise_db, unit=FigureUnit.DB, limit=most_noise_db),),
        places=tuple(jack_place(jack) for jack in dict.fromkeys((loudest.jack, levels.chain.sink.jack))),
        remedies=(_quieter(levels, loudest, noise_db - most_noise_db),),
    )


def _quieter(levels: ChainLevels, loudest: NoiseSource, excess_db: float) -> str:
    room_db = levels.least_margin_db
    if loudest.jack == levels.chain.sink.jack:
        return f"a quieter device than {levels.chain.sink.sku}"
    if room_db is not None and room_db >= excess_db:
        return f"turn the input level of the device down by {excess_db:.1f} dB; the chain has {room_db:.1f} dB to spare"
    return f"a quieter device in place of {loudest.jack.unit}, or a less sensitive input"


def treble_finding(levels: ChainLevels) -> Finding | None:
    """What the leads of a chain take at 20 kHz, where it is worth a word."""
    loss_db = levels.treble_loss_db
    if not levels.chain.treble or loss_db is None or loss_db >= MOST_TREBLE_LOSS_DB:
        return None
    worst = min(levels.chain.hops, key=lambda hop: hop_treble_loss_db(hop) or 0.0)
    runs = {id(run): run for branch in worst.branches for run in branch.runs}.values()
    return Finding(
        rule="R11",
        severity=Severity.NOTE,
        subject=str(levels.chain),
        heading="Too much treble lost in leads",
        detail=(
            f"The leads take {-loss_db:.1f} dB at 20 kHz, most of it {sum(run.length_m for run in runs):g} m on"
            f" {worst.driver.jack.unit} / {worst.driver.jack.group} of {worst.driver.impedance_ohm:g} ohm."
        ),
        figures=(Figure(of="level at 20 kHz", value=loss_db, unit=FigureUnit.DB, limit=MOST_TREBLE_LOSS_DB),),
        places=tuple(lead_place(run.connection) for run in runs if run.connection.lead.method is not LeadMethod.DIRECT),
        remedies=("shorter leads", "leads of lower capacitance", "an output of lower impedance"),
    )


def _conversions(chains: Iterable[LineChain]) -> Iterator[Finding]:
    """One NOTE for each group of balanced outputs that feed unbalanced inputs."""
    inputs: dict[tuple[str, OutputStage], dict[Jack, None]] = {}
    for chain in chains:
        for hop in chain.hops:
            if hop.driver.balanced and not hop.taken.balanced and hop.driver.output_stage in _WIRING:
                of = (f"{hop.driver.jack.unit} / {hop.driver.jack.group}", hop.driver.output_stage)
                inputs.setdefault(of, {})[hop.taken.receiver.jack] = None
    for (outputs, stage), jacks in inputs.items():
        words = f"It feeds {named(map(str, jacks))} unbalanced. {_WIRING[stage]}"
        yield note("R11", outputs, words, map(jack_place, jacks))
