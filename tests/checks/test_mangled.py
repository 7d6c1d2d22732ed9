"""However a design is spoiled, the verifier answers with findings and does not raise.

The designs are hand-drawn good ones with several things changed, left out, doubled or
crossed over at random.
"""

from dataclasses import replace
from typing import TypeVar

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.brief.records import Owned
from planner.checks import Verifier
from planner.design import (
    Connection,
    Design,
    Jack,
    Labour,
    LeadBuild,
    LeadMethod,
    LeadPart,
    Purchase,
    Route,
    Severity,
    Unit,
    UnitKind,
)
from planner.house import Task
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE, HOUSE

_DRAWN = good_designs.ALL
_DESIGNS = tuple(drawn()[0] for drawn in _DRAWN)
_VERIFIERS = tuple(
    Verifier(
        replace(brief, owned=(*brief.owned, Owned(sku="D-TB", must_use=True)), excluded=("AD-RX",)), CATALOGUE, HOUSE
    )
    for _, brief in (drawn() for drawn in _DRAWN)
)

_SKUS = st.sampled_from(["", "NONE", *(item.sku for item in CATALOGUE.items())])
_UNIT_IDS = st.sampled_from(sorted({"", "Ghost", *(unit.id for design in _DESIGNS for unit in design.units)}))
_GROUPS = st.sampled_from(
    sorted({"", "IN", "LEG", *(group.name for groups in CATALOGUE.ports.values() for group in groups)})
)
_INDICES = st.sampled_from([-1, 0, 1, 2, 3, 4, 7, 10**9])
_COUNTS = st.sampled_from([-3, 0, 1, 2, 10**12])
_JACKS = st.builds(Jack, _UNIT_IDS, _GROUPS, _INDICES) | st.sampled_from(
    [end for design in _DESIGNS for link in design.connections for end in (link.source, link.sink)]
)
_LEADS = st.builds(
    LeadBuild,
    method=st.sampled_from(LeadMethod),
    parts=st.lists(st.builds(LeadPart, sku=_SKUS, count=_COUNTS), max_size=4).map(tuple),
    length_m=st.sampled_from([-1.0, 0.0, 3.8, 1e300, float("inf"), float("nan")]),
    cut_end=st.sampled_from([None, "", "a", "b", "c"]),
    flipped=st.booleans(),
)
_CHANNELS = st.sampled_from(["", "M+030", "M+000", "LFE1", "LFE2", "nonsense"])
_CONNECTIONS = st.builds(
    Connection,
    channel=_CHANNELS,
    source=_JACKS,
    sink=_JACKS,
    lead=_LEADS,
    way=st.sampled_from([None, -1, 0, 1, 2, 99]),
)
_MEMBERS = st.none() | st.tuples(st.sampled_from(["Front", "Bass", ""]), st.sampled_from([-1, 0, 1, 2, 99]))
_UNITS = st.builds(
    Unit,
    id=_UNIT_IDS,
    sku=_SKUS,
    kind=st.sampled_from(UnitKind),
    member=_MEMBERS,
    host=st.none() | _UNIT_IDS,
)
_ROUTES = st.builds(Route, source=_JACKS, sink=_JACKS)
_PURCHASES = st.builds(
    Purchase,
    sku=_SKUS,
    supplier=st.sampled_from(["", "owned", "Depot", "Bulk Depot", "Abroad", "Unpriced"]),
    count=_COUNTS,
    unit_price_minor=_COUNTS,
)
_LABOUR = st.builds(Labour, task=st.sampled_from(Task), count=_COUNTS, unit_price_minor=_COUNTS)

Thing = TypeVar("Thing")


def _mangled(things: tuple[Thing, ...], strangers: st.SearchStrategy[Thing]) -> st.SearchStrategy[tuple[Thing, ...]]:
    """The things as they are, or some of them in any number and order; and some strangers added."""
    jumbled = st.lists(st.sampled_from(things), max_size=2 * len(things)).map(tuple) if things else st.just(things)
    added = st.lists(strangers, max_size=3).map(tuple)
    return st.tuples(st.just(things) | jumbled, added).map(lambda parts: parts[0] + parts[1])


@st.composite
def _rewired(draw: st.DrawFn, connections: tuple[Connection, ...]) -> tuple[Connection, ...]:
    """The connections with up to three of them changed at one end, in their lead, channel or way."""
    changed = list(connections)
    for at in draw(st.sets(st.integers(0, len(changed) - 1), max_size=3)):
        stranger = draw(_CONNECTIONS)
        name = draw(st.sampled_from(["source", "sink", "lead", "channel", "way"]))
        changed[at] = replace(changed[at], **{name: getattr(stranger, name)})
    return tuple(changed)


@st.composite
def _spoiled(draw: st.DrawFn, design: Design) -> Design:
    return Design(
        units=draw(_mangled(design.units, _UNITS)),
        connections=draw(_rewired(design.connections).flatmap(lambda rewired: _mangled(rewired, _CONNECTIONS))),
        routes=draw(_mangled(design.routes, _ROUTES)),
        purchases=draw(_mangled(design.purchases, _PURCHASES)),
        labour=draw(_mangled(design.labour, _LABOUR)),
        currency=draw(st.sampled_from(["NZD", "JPY", ""])),
    )


@given(st.integers(0, len(_DESIGNS) - 1), st.data())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_the_verifier_never_raises(which: int, data: st.DataObject) -> None:
    verdict = _VERIFIERS[which].verify(data.draw(_spoiled(_DESIGNS[which])))
    assert all(finding.severity is Severity.INVALID and finding.message for finding in verdict.findings)
    assert 0 <= verdict.measures.independent_subs <= verdict.measures.control_groups
    assert verdict.measures.subs_lost_worst <= sum(verdict.drives.values())


def test_a_design_of_nothing_is_told_what_it_lacks() -> None:
    nothing = Design(units=(), connections=(), routes=(), purchases=(), labour=(), currency="NZD")
    rules = {finding.rule for finding in _VERIFIERS[0].verify(nothing).findings}
    assert {"R1", "R5", "R18"} <= rules
