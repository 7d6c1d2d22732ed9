"""Where signals flow: a graph whose nodes are the links of a design.

One link follows another when the device between them passes the signal on: a splitter to
its legs, an isolator to its output, an amplifier channel to its terminals, a DSP unit along its routes, a subwoofer
to its link output.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence

from planner.checks.view import RENDERERS, Link, View
from planner.design import UnitKind


class SignalGraph:
    """The links in order of flow. `roots` leave the processor or its cards.

    `alive` are the links that a signal from the processor reaches, `to_subwoofers` those
    of them from which it goes on to a subwoofer.
    """

    def __init__(self, view: View) -> None:
        self.view = view
        self.roots = tuple(link for link in view.links if link.source_unit.kind in RENDERERS)
        self.following = {link: _following(view, link) for link in view.links}
        self.alive = _reached(self.roots, self.following)
        self.to_subwoofers = self._upstream_of_subwoofers()

    def reached(self, start: Link) -> set[Link]:
        """The links that a signal on this one reaches, itself included."""
        return _reached((start,), self.following)

    def playing_subwoofers(self, without: Collection[Link] = ()) -> set[str]:
        """The ids of the subwoofers that a signal reaches when the links of `without` are cut."""
        starts = [link for link in self.roots if link in self.to_subwoofers]
        reached = _reached(starts, self.following, without)
        return {link.sink_unit.id for link in reached if link.sink_unit.kind is UnitKind.SUBWOOFER}

    def _upstream_of_subwoofers(self) -> set[Link]:
        preceding: dict[Link, list[Link]] = {}
        for link in self.alive:
            for then in self.following[link]:
                preceding.setdefault(then, []).append(link)
        return _reached([link for link in self.alive if link.sink_unit.kind is UnitKind.SUBWOOFER], preceding)


def _reached(
    starts: Iterable[Link], following: Mapping[Link, Sequence[Link]], without: Collection[Link] = ()
) -> set[Link]:
    """All links that can be come to from `starts`, these included, without passing any of `without`."""
    reached: set[Link] = set()
    waiting = list(starts)
    while waiting:
        link = waiting.pop()
        if link not in reached and link not in without:
            reached.add(link)
            waiting.extend(following.get(link, ()))
    return reached


def _following(view: View, link: Link) -> tuple[Link, ...]:
    unit, jack = link.sink_unit, link.connection.sink
    match unit.kind:
        case UnitKind.SPLITTER | UnitKind.ISOLATOR | UnitKind.LOUDSPEAKER | UnitKind.SUBWOOFER:
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
