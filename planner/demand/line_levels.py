"""What a line output must give so that an input on it is driven to full output (R11).

Levels are in dBu rms. None stands for what the catalogue does not say; what follows from
it is not known either, and is never refused for that.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from planner.catalogue.records import Amplifier, DspUnit, Item, OutputStage, PortGroup
from planner.formulas.amplifiers import input_for_full_output_v
from planner.formulas.levels import dbu_from_v
from planner.formulas.output_circuit import arriving_db

_LEAST_OHM = 1e-6
"""An impedance below this, however it came into a catalogue, is counted as this: nothing hears it."""


@dataclass(frozen=True, slots=True)
class LineOutput:
    """An output as its level is reckoned; equal ones drive alike."""

    balanced: bool
    stage: OutputStage
    max_level_dbu: float | None
    impedance_ohm: float | None


@dataclass(frozen=True, slots=True)
class LineInput:
    """An input as its level is reckoned: `full_output_dbu` is what it must be driven to."""

    balanced: bool
    impedance_ohm: float | None
    full_output_dbu: float | None
    max_level_dbu: float | None


@dataclass(frozen=True, slots=True)
class Reached:
    """An input on an output; `balanced` where hot and cold both come to it."""

    input: LineInput
    balanced: bool


@dataclass(frozen=True, slots=True)
class ChainStep:
    """From one subwoofer of a daisy chain to the next.

    `link` is None where the link output is wired straight through to the input before it.
    """

    link: LineOutput | None
    link_balanced: bool
    into: LineInput


def line_output(port: PortGroup) -> LineOutput:
    """An output port group as its level is reckoned."""
    stage = port.output_stage if port.balanced else OutputStage.UNBALANCED
    return LineOutput(port.balanced, stage, port.max_level_dbu, _ohm(port))


def line_input(port: PortGroup, item: Item | None) -> LineInput:
    """An input port group; the sensitivity is the port's, else its amplifier's, else from power and gain.

    A DSP unit has no full output: what its input asks for is what its outputs are asked for.
    """
    sensitivity_v = None if isinstance(item, DspUnit) else port.sensitivity_v
    if sensitivity_v is None and isinstance(item, Amplifier):
        sensitivity_v = item.sensitivity_v
        if sensitivity_v is None and item.gain_db is not None:
            sensitivity_v = input_for_full_output_v(item.power_8ohm_w, 8.0, item.gain_db)
    full_output_dbu = None if sensitivity_v is None else dbu_from_v(sensitivity_v)
    return LineInput(port.balanced, _ohm(port), full_output_dbu, port.max_level_dbu)


def chain_step(link: PortGroup, into: LineInput) -> ChainStep:
    """The step from a link output to the next input."""
    return ChainStep(None if link.wired_through else line_output(link), link.balanced, into)


@lru_cache(maxsize=65536)
def loss_db(output: LineOutput, taken: Reached, beside: tuple[Reached, ...] = ()) -> float | None:
    """The least level at an input re the open output, with `beside` on the same output."""
    reached = (taken, *beside)
    if output.impedance_ohm is None or any(each.input.impedance_ohm is None for each in reached):
        return None
    least_db, _ = arriving_db(
        output.stage,
        output.impedance_ohm,
        _impedances_ohm(reached, balanced=True),
        _impedances_ohm(reached, balanced=False),
        into_balanced=taken.balanced,
    )
    return least_db


def need_dbu(output: LineOutput, taken: Reached, beside: tuple[Reached, ...] = ()) -> float | None:
    """What the output must give at its open jack to drive one input to full output."""
    loss = loss_db(output, taken, beside)
    full_output_dbu = taken.input.full_output_dbu
    return None if loss is None or full_output_dbu is None else full_output_dbu - loss


def own_margin_db(taken: LineInput) -> float | None:
    """How far an input is from clipping when it is driven to full output."""
    return _less(taken.max_level_dbu, taken.full_output_dbu)


def arriving_dbu(output: LineOutput, taken: LineInput) -> float | None:
    """The most that an input passes on, alone on an output: no more than either can take."""
    loss = loss_db(output, Reached(taken, output.balanced and taken.balanced))
    if loss is None or output.max_level_dbu is None or taken.max_level_dbu is None:
        return None
    return min(output.max_level_dbu + loss, taken.max_level_dbu)


def chain_need(output: LineOutput, head: LineInput, steps: Sequence[ChainStep]) -> tuple[float | None, float | None]:
    """What an output must give to drive a whole daisy chain, dBu, and the least margin after it, dB.

    Inputs wired straight through load the output together; a link with electronics passes
    on what comes in, at 0 dB, and is loaded by what follows.
    """
    balanced = output.balanced and head.balanced
    reached = [Reached(head, balanced)]
    wanted = [head.full_output_dbu]
    margins = [own_margin_db(head)]
    for number, step in enumerate(steps):
        if step.link is not None:
            behind_dbu, margin_db = chain_need(step.link, step.into, steps[number + 1 :])
            before = reached[-1].input
            margins += [margin_db, _less(step.link.max_level_dbu, behind_dbu), _less(before.max_level_dbu, behind_dbu)]
            wanted[-1] = _greatest((wanted[-1], behind_dbu))
            break
        balanced = balanced and step.link_balanced and step.into.balanced
        reached.append(Reached(step.into, balanced))
        wanted.append(step.into.full_output_dbu)
        margins.append(own_margin_db(step.into))
    needs = [_less(level, _loss_among(output, reached, place)) for place, level in enumerate(wanted)]
    return _greatest(needs), least(margins)


def least(values: Iterable[float | None]) -> float | None:
    """The least of those known; None where none is."""
    return min((value for value in values if value is not None), default=None)


def _greatest(values: Iterable[float | None]) -> float | None:
    return max((value for value in values if value is not None), default=None)


def _loss_among(output: LineOutput, reached: Sequence[Reached], place: int) -> float | None:
    return loss_db(output, reached[place], (*reached[:place], *reached[place + 1 :]))


def _impedances_ohm(reached: Iterable[Reached], *, balanced: bool) -> list[float]:
    return [
        each.input.impedance_ohm
        for each in reached
        if each.balanced is balanced and each.input.impedance_ohm is not None
    ]


def _less(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one - other


def _ohm(port: PortGroup) -> float | None:
    return None if port.impedance_ohm is None else max(port.impedance_ohm, _LEAST_OHM)
