"""R11 and R12 for people: every line chain in a row, one chain jack by jack, and what it says in words."""

from collections.abc import Sequence

from planner.formulas.levels import dbv_from_dbu
from planner.physics.levels import (
    ChainLevels,
    hop_treble_loss_db,
    load_impedance_ohm,
    source_impedance_ohm,
    voltage_v,
)
from planner.physics.noise import ChainNoise
from planner.physics.stages import Hop
from planner.tables.cells import NOT_KNOWN, decimals, impedance, loss
from planner.words import carried_words

CHAIN_HEADINGS = (
    "Chain",
    "Least margin, dB",
    "First to clip",
    "Full output, dBu",
    "Noise below full output, dB",
    "Treble loss at 20 kHz, dB",
)
CHAIN_FIGURES = (CHAIN_HEADINGS[1], *CHAIN_HEADINGS[3:])

JACK_HEADINGS = (
    "Jack",
    "Greatest, V",
    "Greatest, dBu",
    "Greatest, dBV",
    "At full output, V",
    "At full output, dBu",
    "At full output, dBV",
    "Ceiling, dBu",
    "Margin, dB",
    "Noise, dBu",
)
JACK_FIGURES = JACK_HEADINGS[1:]

HOP_HEADINGS = (
    "Output",
    "By way of",
    "To input",
    "Gain set before it, dB",
    "Source, ohm",
    "Load, ohm",
    "Greatest loss, dB",
    "Least loss, dB",
    "Treble loss, dB",
)
HOP_FIGURES = HOP_HEADINGS[3:]


def chain_name(levels: ChainLevels) -> str:
    """What a chain carries, where it ends, and what that drives where it is an amplifier."""
    chain = levels.chain
    drives = "" if chain.feed.unit == chain.sink.jack.unit else f", for {chain.feed.unit}"
    return f"{carried_words(chain.channel, chain.way)} to {chain.sink.jack}{drives}"


def chain_rows(levels: Sequence[ChainLevels], noises: Sequence[ChainNoise]) -> list[tuple[str, ...]]:
    """A row a chain."""
    return [
        (
            chain_name(each),
            decimals(each.least_margin_db),
            NOT_KNOWN if each.first_to_clip is None else str(each.first_to_clip),
            decimals(each.full_output_dbu),
            loss(noise.re_full_output_db, 1),
            loss(each.treble_loss_db),
        )
        for each, noise in zip(levels, noises, strict=True)
    ]


def jack_rows(levels: ChainLevels, noise: ChainNoise) -> list[tuple[str, ...]]:
    """A row a jack of one chain, in the order of flow."""
    return [
        (
            str(point.jack),
            *_in_three_units(point.at_maximum_dbu),
            *_in_three_units(point.at_full_output_dbu),
            decimals(point.ceiling_dbu),
            decimals(point.margin_db),
            decimals(floor_dbu),
        )
        for point, floor_dbu in zip(levels.points, noise.floors_dbu, strict=True)
    ]


def hop_rows(levels: ChainLevels) -> list[tuple[str, ...]]:
    """A row an output of one chain: what loads it, and what is lost on the way to the next input."""
    return [
        (
            str(hop.driver.jack),
            way_words(hop),
            str(hop.taken.receiver.jack),
            decimals(gain_db),
            impedance(_source_ohm(hop)),
            impedance(load_impedance_ohm(hop)),
            NOT_KNOWN if lost is None else loss(lost[0]),
            NOT_KNOWN if lost is None else loss(lost[1]),
            loss(hop_treble_loss_db(hop)),
        )
        for hop, gain_db, lost in zip(levels.chain.hops, levels.gains_db, levels.losses_db, strict=True)
    ]


def way_words(hop: Hop) -> str:
    """The leads and splitters between an output and an input, and how many inputs load it."""
    parts = [
        f"{run.length_m:g} m of {run.sku}" if run.length_m else f"{run.connection.sink.unit}, plugged on"
        for run in hop.taken.runs
    ]
    fellows = len(hop.branches)
    return ", ".join(parts) + (f"; {fellows} inputs on one output" if fellows > 1 else "")


def chain_sentences(levels: ChainLevels, noise: ChainNoise) -> list[str]:
    """What one chain comes to: the least margin first, then noise and the gains to set."""
    return [_margin_words(levels), _noise_words(levels, noise), *_gain_words(levels)]


def _margin_words(levels: ChainLevels) -> str:
    margin_db, jack, sink = levels.least_margin_db, levels.first_to_clip, levels.chain.sink.jack
    if margin_db is None or jack is None:
        return "Least margin not known: the catalogue leaves a figure of this chain open, and the findings say which."
    if decimals(margin_db).startswith("-"):
        short, at_head = f"{-margin_db:.1f} dB", jack == levels.chain.hops[0].driver.jack
        return (
            f"{f'{short} of drive are lacking' if at_head else f'{jack} clips'}: {jack} is at its ceiling {short}"
            f" before {sink} has what it needs for full output."
        )
    return (
        f"Least margin {decimals(margin_db)} dB, at {jack}: with {sink} at full output, it is this far from clipping."
    )


def _noise_words(levels: ChainLevels, noise: ChainNoise) -> str:
    re_full_output_db, sink = noise.re_full_output_db, levels.chain.sink.jack
    if re_full_output_db is None:
        return "Noise re full output not known: the catalogue leaves a figure that it takes open."
    return f"Noise at {sink}: {-re_full_output_db:.1f} dB below full output."


def _gain_words(levels: ChainLevels) -> list[str]:
    """The gains that somebody has to set."""
    return [
        f"Gain to set before {hop.driver.jack}: {gain_db:+.1f} dB."
        for hop, gain_db in zip(levels.chain.hops, levels.gains_db, strict=True)
        if hop.driver.gain_range_db not in (None, (0.0, 0.0)) and not hop.driver.passive and gain_db is not None
    ]


def _in_three_units(level_dbu: float | None) -> tuple[str, str, str]:
    if level_dbu is None:
        return NOT_KNOWN, NOT_KNOWN, NOT_KNOWN
    return decimals(voltage_v(level_dbu), 3), decimals(level_dbu), decimals(dbv_from_dbu(level_dbu))


def _source_ohm(hop: Hop) -> float | None:
    driver_ohm = hop.driver.impedance_ohm
    return None if driver_ohm is None or hop.driver.passive else source_impedance_ohm(hop, driver_ohm)
