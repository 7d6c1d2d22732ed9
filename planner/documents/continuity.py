"""What a meter must find on a finished lead: which pins are joined through it, and which at one end."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from planner.wiring.ends import LeadEnd
from planner.wiring.make_up import MakeUp

_Node = tuple[str, str]
_SOURCE, _SINK = "source", "sink"


@dataclass(frozen=True, kw_only=True, slots=True)
class Continuity:
    """`closed`: (source pin, sink pin) that read closed; all other of the `readings` read open.

    `bridged`: pins of one end that are joined on purpose, as words; no other two may be.
    """

    closed: tuple[tuple[str, str], ...]
    readings: int
    bridged: tuple[str, ...]


def continuity(lead: MakeUp) -> Continuity:
    """What to expect of one lead, its pins in the order of the connectors."""
    group_of = _groups(lead)
    source = [pin.pin for pin in lead.source.pins]
    sink = [pin.pin for pin in lead.sink.pins]
    return Continuity(
        closed=tuple((a, b) for a in source for b in sink if group_of[_SOURCE, a] == group_of[_SINK, b]),
        readings=len(source) * len(sink),
        bridged=tuple(
            f"{a} with {b} at the {name}"
            for name, pins in ((_SOURCE, source), (_SINK, sink))
            for a, b in combinations(pins, 2)
            if group_of[name, a] == group_of[name, b]
        ),
    )


def _groups(lead: MakeUp) -> dict[_Node, frozenset[_Node]]:
    """For each pin of either end, all that are joined to it."""
    groups = [frozenset([node]) for node in (*_nodes(_SOURCE, lead.source), *_nodes(_SINK, lead.sink))]
    for joined in _joins(lead):
        touched = [group for group in groups if group & joined]
        groups = [group for group in groups if not group & joined] + [frozenset().union(*touched)]
    return {node: group for group in groups for node in group}


def _joins(lead: MakeUp) -> Iterator[frozenset[_Node]]:
    ends = ((_SOURCE, lead.source), (_SINK, lead.sink))
    for core in lead.cores:
        yield frozenset((name, pin.pin) for name, end in ends for pin in end.pins if core in pin.cores)
    for name, end in ends:
        for pin in end.pins:
            if pin.joined_to is not None:
                yield frozenset([(name, pin.pin), (name, pin.joined_to)])


def _nodes(name: str, end: LeadEnd) -> Iterator[_Node]:
    return ((name, pin.pin) for pin in end.pins)
