"""R11 and R12 as JSON: each line chain, jack by jack, and each output with what loads it."""

from collections.abc import Sequence

from planner.figures_json.ports import port_words
from planner.figures_json.rounding import hundredths, significant
from planner.formulas.levels import dbv_from_dbu
from planner.physics.levels import (
    ChainLevels,
    Point,
    hop_treble_loss_db,
    load_impedance_ohm,
    source_impedance_ohm,
    voltage_v,
)
from planner.physics.noise import ChainNoise
from planner.physics.stages import Hop, Run

Json = dict[str, object]


def chain_trees(levels: Sequence[ChainLevels], noises: Sequence[ChainNoise]) -> list[Json]:
    """The chains of one design, in the order of its connections."""
    return [_chain(each, noise) for each, noise in zip(levels, noises, strict=True)]


def _chain(levels: ChainLevels, noise: ChainNoise) -> Json:
    chain, clips = levels.chain, levels.first_to_clip
    return {
        "channel": chain.channel,
        "way": chain.way,
        "feeds_device": chain.feed.unit,
        "feeds_port": port_words(chain.feed),
        "full_output_dbu": hundredths(levels.full_output_dbu),
        "least_margin_db": hundredths(levels.least_margin_db),
        "first_to_clip": None if clips is None else {"device": clips.unit, "port": port_words(clips)},
        "noise_re_full_output_db": hundredths(noise.re_full_output_db),
        "treble_loss_db": hundredths(levels.treble_loss_db),
        "points": [_point(point, floor) for point, floor in zip(levels.points, noise.floors_dbu, strict=True)],
        "hops": [
            _hop(hop, gain_db, loss)
            for hop, gain_db, loss in zip(chain.hops, levels.gains_db, levels.losses_db, strict=True)
        ],
    }


def _point(point: Point, floor_dbu: float | None) -> Json:
    return {
        "device": point.jack.unit,
        "port": port_words(point.jack),
        "maximum": _level(point.at_maximum_dbu),
        "full_output": _level(point.at_full_output_dbu),
        "ceiling_dbu": hundredths(point.ceiling_dbu),
        "margin_db": hundredths(point.margin_db),
        "noise_dbu": hundredths(floor_dbu),
    }


def _level(level_dbu: float | None) -> Json | None:
    if level_dbu is None:
        return None
    return {
        "v": significant(voltage_v(level_dbu)),
        "dbu": hundredths(level_dbu),
        "dbv": hundredths(dbv_from_dbu(level_dbu)),
    }


def _hop(hop: Hop, gain_db: float | None, loss: tuple[float, float] | None) -> Json:
    driver_ohm = hop.driver.impedance_ohm
    return {
        "gain_set_db": hundredths(gain_db),
        "source_ohm": None
        if driver_ohm is None or hop.driver.passive
        else significant(source_impedance_ohm(hop, driver_ohm)),
        "load_ohm": significant(load_impedance_ohm(hop)),
        "inputs": len(hop.branches),
        "balanced": hop.taken.balanced,
        "least_arriving_db": None if loss is None else hundredths(loss[0]),
        "greatest_arriving_db": None if loss is None else hundredths(loss[1]),
        "treble_loss_db": hundredths(hop_treble_loss_db(hop)),
        "joints": [_joint(run) for run in hop.taken.runs],
    }


def _joint(run: Run) -> Json:
    source, sink = run.connection.source, run.connection.sink
    return {
        "from_device": source.unit,
        "from_port": port_words(source),
        "to_device": sink.unit,
        "to_port": port_words(sink),
        "length_m": hundredths(run.length_m),
    }
