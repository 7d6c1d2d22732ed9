"""Control points, what each feeds, and by which drive every feed is reached."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.brief.records import Drive
from planner.catalogue.records import Controls, DspUnit, PortRole, Processor
from planner.checks.signal_graph import SignalGraph
from planner.checks.view import RENDERERS, SPEAKERS, Link, View
from planner.design import Jack, Unit, UnitKind


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class ControlPoint:
    """One output that can be set on its own, and all that hangs on it.

    `jack` names it; a mirrored group is one control point, named by index 0. `links` leave
    its jacks. `heads` reach a feed with nothing chained before it, `chained` come from a
    link output, `dsp_inputs` go into a DSP unit. `controls` are those of its device, None
    where there are none to be found.
    """

    jack: Jack
    unit: Unit
    controls: Controls | None
    links: tuple[Link, ...]
    heads: tuple[Link, ...]
    chained: tuple[Link, ...]
    dsp_inputs: tuple[Link, ...]

    @property
    def feeds(self) -> tuple[Link, ...]:
        """The links that end in a feed of this control group."""
        return self.heads + self.chained

    @property
    def is_dsp(self) -> bool:
        """Whether it is an output of a DSP unit."""
        return self.unit.kind is UnitKind.DSP

    @property
    def subwoofers(self) -> frozenset[str]:
        """The ids of the subwoofers in its control group."""
        return frozenset(link.sink_unit.id for link in self.feeds if link.sink_unit.kind is UnitKind.SUBWOOFER)

    def drive_of(self, link: Link) -> Drive:
        """How the feed at the end of this link is reached."""
        if link.source_unit.kind in SPEAKERS:
            return Drive.DAISY_CHAINED
        if len(self.heads) > 1:
            return Drive.SPLIT
        return Drive.DSP if self.is_dsp else Drive.DEDICATED

    def is_independent(self, filters_wanted: int) -> bool:
        """Whether a single subwoofer has it to itself, and it offers all that is asked (R10)."""
        return (
            len(self.feeds) == len(self.subwoofers) == 1
            and self.controls is not None
            and self.controls.independent(filters_wanted)
        )

    def __str__(self) -> str:
        return str(self.jack) if self.jack.index else f"{self.jack.unit} / {self.jack.group} (mirrored)"


def control_points(graph: SignalGraph) -> tuple[ControlPoint, ...]:
    """Every control point in use that a signal reaches, in the order of the connections."""
    links_by_jack: dict[Jack, list[Link]] = {}
    for link in graph.view.links:
        kind = link.source_unit.kind
        if link in graph.alive and (kind in RENDERERS or kind is UnitKind.DSP):
            links_by_jack.setdefault(_naming_jack(link), []).append(link)
    return tuple(_control_point(graph, jack, links) for jack, links in links_by_jack.items())


def control_point_by_unit(points: Iterable[ControlPoint]) -> Mapping[str, list[ControlPoint]]:
    """The control points that feed each loudspeaker and subwoofer, by unit id."""
    found: dict[str, list[ControlPoint]] = {}
    for point in points:
        for link in point.feeds:
            found.setdefault(link.sink_unit.id, []).append(point)
    return found


def _naming_jack(link: Link) -> Jack:
    jack = link.connection.source
    return Jack(jack.unit, jack.group, 0) if link.source.role is PortRole.MIRRORED_SUB else jack


def _control_point(graph: SignalGraph, jack: Jack, links: list[Link]) -> ControlPoint:
    heads: list[Link] = []
    chained: list[Link] = []
    dsp_inputs: list[Link] = []
    seen: set[Link] = set()
    waiting = list(reversed(links))
    while waiting:
        link = waiting.pop()
        if link in seen:
            continue
        seen.add(link)
        if link.sink_unit.kind is UnitKind.DSP:
            dsp_inputs.append(link)
            continue
        if link.sink_unit.kind in SPEAKERS:
            (chained if link.source_unit.kind in SPEAKERS else heads).append(link)
        waiting.extend(reversed(graph.following[link]))
    unit = links[0].source_unit
    return ControlPoint(
        jack=jack,
        unit=unit,
        controls=_controls(graph.view, unit),
        links=tuple(links),
        heads=tuple(heads),
        chained=tuple(chained),
        dsp_inputs=tuple(dsp_inputs),
    )


def _controls(view: View, unit: Unit) -> Controls | None:
    device = unit if unit.kind is UnitKind.DSP else view.processor_of(unit)
    item = view.item(device) if device is not None else None
    return item.controls if isinstance(item, Processor | DspUnit) else None
