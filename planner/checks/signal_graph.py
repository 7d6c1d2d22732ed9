"""Where signals flow: a graph whose nodes are the links of a design.

One link follows another when the device between them passes the signal on: a splitter to
its legs, an amplifier channel to its terminals, a DSP unit along its routes, a subwoofer
to its link output.
"""

from collections.abc import Collection, Iterable

from planner.checks.view import RENDERERS, Link, View
from planner.design import UnitKind


class SignalGraph:
    """The links in order of flow. `roots` leave the processor or its cards.

    `alive` are the links that a signal from the processor reaches.
    """

    def __init__(self, view: View) -> None:
        self.view = view
        self.roots = tuple(link for link in view.links if link.source_unit.kind in RENDERERS)
        self.following = {link: _following(view, link) for link in view.links}
        self.alive = self.reached(self.roots)

    def reached(self, starts: Iterable[Link], without: Collection[Link] = ()) -> set[Link]:
        """The links that a signal on `starts` reaches when those of `without` are cut, starts included."""
        reached: set[Link] = set()
        waiting = [link for link in starts if link not in without]
        while waiting:
            link = waiting.pop()
            if link in reached:
                continue
            reached.add(link)
            waiting.extend(then for then in self.following[link] if then not in reached and then not in without)
        return reached

    def playing_subwoofers(self, without: Collection[Link] = ()) -> set[str]:
        """The ids of the subwoofers that a signal reaches when the links of `without` are cut."""
        reached = self.reached(self.roots, without) if without else self.alive
        return {link.sink_unit.id for link in reached if link.sink_unit.kind is UnitKind.SUBWOOFER}


def _following(view: View, link: Link) -> tuple[Link, ...]:
    unit, jack = link.sink_unit, link.connection.sink
    match unit.kind:
        case UnitKind.SPLITTER | UnitKind.LOUDSPEAKER | UnitKind.SUBWOOFER:
            return tuple(view.links_leaving.get(unit.id, ()))
        case UnitKind.AMPLIFIER:
            leaving = view.links_leaving.get(unit.id, ())
            return tuple(then for then in leaving if then.connection.source.index == jack.index)
        case UnitKind.DSP:
            routes = view.routes_from.get(jack, ())
            return tuple(
                then
                for route in routes
                if route.sink.unit == unit.id
                for then in view.links_from.get(route.sink, ())
            )  # fmt: skip
        case _:
            return ()
