"""One design laid beside what is known: all that a rule may ask for."""

from dataclasses import dataclass

from planner.checks.control_points import ControlPoint, control_points
from planner.checks.known import Known
from planner.checks.signal_graph import SignalGraph
from planner.checks.view import View
from planner.design import Design


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """A design read against one brief, catalogue and house."""

    design: Design
    known: Known
    view: View
    graph: SignalGraph
    points: tuple[ControlPoint, ...]

    @classmethod
    def of(cls, design: Design, known: Known) -> "Case":
        """Resolve and walk a design once, for every rule to read."""
        view = View(design, known)
        graph = SignalGraph(view)
        return cls(design=design, known=known, view=view, graph=graph, points=control_points(graph))
