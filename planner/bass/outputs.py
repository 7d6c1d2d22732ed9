"""The outputs of a design that set subwoofers: what hangs on each, and what can be set there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.bass.controls import USUAL_RANGE, ControlRange
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue, Controls
from planner.checks.case import Case
from planner.checks.control_points import ControlPoint
from planner.checks.known import Known
from planner.design import Design, Jack
from planner.house import House
from planner.physics.delay import delay_table
from planner.placement import Member

NO_CONTROLS = Controls(gain=False, polarity=False, max_delay_ms=0.0, filters=0, crossover_ways=0)


@dataclass(frozen=True, kw_only=True, slots=True)
class SubwooferOutput:
    """One control point that feeds subwoofers, and the control group that it makes.

    `jack` has index 0 where all jacks of a mirrored group are one; `name` is how people read it. `device` is the
    processor, card or DSP unit that the jack is on. `latency_ms` is that of processor and DSP unit on the way there.
    """

    jack: Jack
    name: str
    device: str
    controls: Controls
    latency_ms: float
    subwoofers: tuple[str, ...]
    members: tuple[Member, ...]


def subwoofer_outputs(design: Design, brief: Brief, catalogue: Catalogue) -> tuple[SubwooferOutput, ...]:
    """One for each control group of a valid design, in the order of their jacks."""
    no_prices = House(name="", currency=brief.project.currency)  # nothing here asks for one
    case = Case.of(design, Known(brief, catalogue, no_prices))
    latency_ms = {line.control: line.latency_ms for line in delay_table(case)}
    found = [_output(design, point, latency_ms) for point in case.points if point.subwoofers]
    return tuple(sorted(found, key=lambda one: one.jack))


def _output(design: Design, point: ControlPoint, latency_ms: Mapping[str, float]) -> SubwooferOutput:
    subwoofers = [unit for unit in design.units if unit.id in point.subwoofers and unit.member is not None]
    return SubwooferOutput(
        jack=point.jack,
        name=str(point),
        device=point.unit.id,
        controls=point.controls or NO_CONTROLS,
        latency_ms=latency_ms.get(str(point), 0.0),
        subwoofers=tuple(unit.id for unit in subwoofers),
        members=tuple(unit.member for unit in subwoofers if unit.member is not None),
    )


def made_up_ms(outputs: Sequence[SubwooferOutput]) -> tuple[float, ...]:
    """The delay that each output needs before all else, to be no earlier than the latest: by latency alone.

    No more than it has: the rest can't be made up.
    """
    latest_ms = max((one.latency_ms for one in outputs), default=0.0)
    return tuple(min(latest_ms - one.latency_ms, one.controls.max_delay_ms) for one in outputs)


def control_range(controls: Controls, used_ms: float = 0.0) -> ControlRange:
    """What is left to search in at an output once so much of its delay is used.

    Of gain and delay no more than is usual, whatever the device has beyond. The catalogue does not tell steps.
    """
    left_ms = min(controls.max_delay_ms - used_ms, USUAL_RANGE.most_delay_ms)
    steps = int(left_ms / USUAL_RANGE.delay_step_ms + 1e-9)
    return ControlRange(
        least_gain_db=USUAL_RANGE.least_gain_db if controls.gain else 0.0,
        most_delay_ms=round(max(steps, 0) * USUAL_RANGE.delay_step_ms, 6),
        polarity=controls.polarity,
    )
