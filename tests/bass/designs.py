"""Small invented designs with subwoofers, whose bass can be predicted: each subwoofer is a model of its own."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from planner.brief.records import Brief, Point, SubwooferSet
from planner.catalogue.records import Catalogue, Controls
from planner.design import Design
from tests.bass.example import BRIEF
from tests.physics.rig import CONTROLS, In, Out, Rig

PLACES = (Point(0.3, 1.0, 0.2), Point(5.9, 1.0, 0.2), Point(0.3, 3.1, 0.2), Point(5.9, 3.1, 0.2))


@dataclass(frozen=True, kw_only=True)
class Made:
    """A design with the brief and the catalogue that go with it."""

    design: Design
    brief: Brief
    catalogue: Catalogue


def made(
    on_processor: Sequence[Sequence[int]] = (),
    on_dsp: Sequence[Sequence[int]] = (),
    controls: Mapping[str, Controls] | None = None,
    latency_ms: Mapping[str, float] | None = None,
) -> Made:
    """Subwoofers, by number from 1, grouped by the output that they share: of the processor, or of one DSP unit.

    `controls` and `latency_ms` are those of "Proc" and "DSP".
    """
    rig = Rig()
    rig.processor(Out(), Out())
    if on_dsp:
        rig.dsp("DSP", In(), Out())
        rig.wire("Proc/OUT2/1", "DSP/IN/1")
    outputs = [("Proc/OUT1", n, group) for n, group in enumerate(on_processor, 1)]
    outputs += [("DSP/OUT", n, group) for n, group in enumerate(on_dsp, 1)]
    for port, n, group in outputs:
        if port == "DSP/OUT":
            rig.route("DSP/IN/1", f"DSP/OUT/{n}")
        _feed(rig, f"{port}/{n}", group)
    count = sum(len(group) for _, _, group in outputs)
    return Made(
        design=_placed(rig.design()), brief=_brief(count), catalogue=_set(rig.catalogue(), controls, latency_ms)
    )


def _feed(rig: Rig, output: str, group: Sequence[int]) -> None:
    for number in group:
        rig.sub(f"Sub {number}", In())
    if len(group) == 1:
        rig.wire(output, f"Sub {group[0]}/IN/1")
        return
    split = f"Split {output}"
    rig.splitter(split.replace("/", "-"), len(group))
    rig.plug(output, split.replace("/", "-"))
    for leg, number in enumerate(group, 1):
        rig.wire(f"{split.replace('/', '-')}/LEG/{leg}", f"Sub {number}/IN/1")


def _placed(design: Design) -> Design:
    units = (
        replace(unit, member=("Subs", int(unit.id.split()[1]) - 1)) if unit.id.startswith("Sub ") else unit
        for unit in design.units
    )
    return replace(design, units=tuple(units))


def _brief(count: int) -> Brief:
    return replace(
        BRIEF,
        subwoofers=(SubwooferSet(name="Subs", least=count, most=count, positions=PLACES[:count]),),
        loudspeakers=(),
    )


def _set(
    catalogue: Catalogue, controls: Mapping[str, Controls] | None, latency_ms: Mapping[str, float] | None
) -> Catalogue:
    controls, latency_ms = controls or {}, latency_ms or {}
    (processor,) = catalogue.processors
    return replace(
        catalogue,
        processors=(
            replace(processor, controls=controls.get("Proc", CONTROLS), latency_ms=latency_ms.get("Proc", 0.0)),
        ),
        dsp_units=tuple(
            replace(unit, controls=controls.get("DSP", CONTROLS), latency_ms=latency_ms.get("DSP", 0.0))
            for unit in catalogue.dsp_units
        ),
        subwoofers=tuple(replace(one, low_corner_hz=20.0 + n) for n, one in enumerate(catalogue.subwoofers)),
    )
