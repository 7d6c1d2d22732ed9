"""R11, what to say of a chain that cannot drive its sink to full output, with what would mend it."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.catalogue.records import OutputStage
from planner.design import Figure, FigureUnit, Finding, Severity
from planner.physics.findings import jack_place
from planner.physics.levels import ChainLevels, Point, difference_db, level_words, loss_db
from planner.physics.stages import Driver, Hop, Receiver

LEAST_SHORT_DB = 0.05
"""Less than this is shown as 0.0 dB, and is within the tolerance of any figure here."""

_WORTH_A_WORD_DB = 0.1
_HALVES_THE_VOLTAGE = (OutputStage.SYMMETRICAL, OutputStage.UNKNOWN)


def shortfall(levels: ChainLevels) -> Finding | None:
    """What is missing, where the chain clips first, and the remedy; None where nothing is short.

    Jacks are named by model and port group, so that the same is said of chains alike.
    """
    needed_dbu, margin_db = levels.full_output_dbu, levels.least_margin_db
    if needed_dbu is None or margin_db is None or margin_db > -LEAST_SHORT_DB:
        return None
    stages = [stage for hop in levels.chain.hops for stage in (hop.driver, hop.taken.receiver)]
    at = next(number for number, stage in enumerate(stages) if stage.jack == levels.first_to_clip)
    return Finding(
        rule="R11",
        severity=Severity.CONCERN,
        subject=str(levels.chain),
        heading=_heading(stages, at),
        detail=(
            f"Full output takes {level_words(needed_dbu)}, and at most {level_words(needed_dbu + margin_db)} arrives"
            f" clean.{_where_words(_group(stages[at]), levels.points[at])}"
        ),
        figures=(Figure(of="least level margin", value=margin_db, unit=FigureUnit.DB, limit=0.0),),
        places=tuple(jack_place(jack) for jack in dict.fromkeys((stages[at].jack, levels.chain.sink.jack))),
        remedies=tuple(_remedies(levels, at)),
    )


def _heading(stages: Sequence[Driver | Receiver], at: int) -> str:
    """The head of the chain gives too little; anything behind it clips; a sink that does contradicts itself."""
    if at == 0:
        return "Too little drive"
    if at == len(stages) - 1:
        return f"{_group(stages[at])} clips below its own full output"
    return f"{_group(stages[at])} clips before full output"


def _where_words(name: str, point: Point) -> str:
    """Which stage clips first, at what level, and what it would have to pass."""
    if point.ceiling_dbu is None or point.at_full_output_dbu is None:
        return ""
    return (
        f" {name} clips first, at {level_words(point.ceiling_dbu)};"
        f" it would have to pass {level_words(point.at_full_output_dbu)}."
    )


def _remedies(levels: ChainLevels, at: int) -> Iterator[str]:
    """What would bring more behind the stage that clips, and then what would replace it."""
    hops, sink = levels.chain.hops, _group(levels.chain.sink)
    if at == 2 * len(hops) - 1:
        yield f"correct the sensitivity or the greatest level of {sink} in the catalogue: they contradict each other"
        return
    for number, hop in enumerate(hops):
        least_db, greatest_db = hop.driver.gain_range_db or (0.0, 0.0)
        if 2 * number > at and least_db < greatest_db:
            yield f"a DSP unit with more gain than the {greatest_db:g} dB of {hop.driver.sku}"
        if 2 * number >= at:
            yield from _less_loss(hop)
    if at % 2 == 0:
        yield f"an output in place of {_group(hops[at // 2].driver)} that passes it"
    else:
        yield f"an input in place of {_group(hops[at // 2].taken.receiver)} that passes it"
    yield f"a more sensitive input than {sink}"


def _less_loss(hop: Hop) -> Iterator[str]:
    """How a hop would lose less: without a conversion that halves the voltage, or without sharing."""
    driver, receiver = hop.driver, hop.taken.receiver
    if driver.balanced and not hop.taken.balanced and driver.output_stage in _HALVES_THE_VOLTAGE:
        yield f"a balanced input in place of {_group(receiver)}, or a line transformer before it, for 6 dB more"
    now, alone = loss_db(hop), loss_db(replace(hop, branches=(hop.taken,)))
    gained_db = difference_db(alone and alone[0], now and now[0])
    if gained_db is not None and gained_db >= _WORTH_A_WORD_DB:
        yield f"an output that it does not share, for {gained_db:.1f} dB more"


def _group(stage: Driver | Receiver) -> str:
    return f"{stage.sku} / {stage.jack.group}"
