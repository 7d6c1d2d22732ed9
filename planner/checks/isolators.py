"""R17: an isolator stands in one lead, before something that has a mains earth, and only isolates."""

from collections.abc import Iterator
from itertools import pairwise

from planner.catalogue.records import Amplifier, DspUnit, Loudspeaker, Processor, Subwoofer
from planner.checks.case import Case
from planner.checks.findings import broken, counted
from planner.checks.sockets import Level
from planner.checks.view import SPEAKERS, Link
from planner.design import Finding, LeadMethod, Unit, UnitKind

_EARTHED_GEAR = frozenset({*SPEAKERS, UnitKind.AMPLIFIER, UnitKind.DSP})


def isolators_are_sound(case: Case) -> Iterator[Finding]:
    """One lead in and one out, neither of them half of a cut one; no conversion more than without it."""
    for unit in case.view.units_of[UnitKind.ISOLATOR]:
        entering, leaving = case.view.links_entering.get(unit.id, ()), case.view.links_leaving.get(unit.id, ())
        if len(entering) != 1 or len(leaving) != 1:
            leads = f"{counted(len(entering), 'lead')} in and {len(leaving)} out"
            yield broken("R17", unit.id, f"{unit.id} has {leads}; an isolator has one of each.")
        else:
            yield from _faults(case, unit, entering[0], leaving[0])


def _earthed(case: Case, unit: Unit) -> bool:
    item = case.view.item(unit)
    return isinstance(item, Amplifier | DspUnit | Loudspeaker | Processor | Subwoofer) and item.mains.earthed


def _faults(case: Case, unit: Unit, entering: Link, leaving: Link) -> Iterator[Finding]:
    sink = leaving.sink_unit
    onward = case.view.links_leaving.get(sink.id, ()) if sink.kind in SPEAKERS else ()
    chained = bool(onward) or entering.source_unit.kind in SPEAKERS
    if sink.kind not in _EARTHED_GEAR or chained or leaving.sink.level is not Level.LINE:
        reason = "an isolator feeds an amplifier, a DSP unit, or a loudspeaker or subwoofer outside a chain"
        yield broken("R17", unit.id, f"{unit.id} feeds {sink.id}; {reason}.")
    elif not _earthed(case, sink):
        yield broken("R17", unit.id, f"{sink.id} has no mains earth; an isolator before it breaks no loop.")
    elif sink.kind is UnitKind.DSP and not all(_earthed(case, p) for p in case.view.units_of[UnitKind.PROCESSOR]):
        reason = "before a DSP unit an isolator breaks a loop only where the processor has one too"
        yield broken("R17", unit.id, f"The processor has no mains earth; {reason}.")
    if (entering.connection.channel, entering.connection.way) != (leaving.connection.channel, leaving.connection.way):
        yield broken("R17", unit.id, f"{unit.id} takes {entering.connection.channel}, and gives another signal.")
    if LeadMethod.CUT in (entering.connection.lead.method, leaving.connection.lead.method):
        yield broken("R17", unit.id, f"A lead at {unit.id} is half of a cut one; an isolator takes whole leads.")
    jacks = (entering.source, entering.sink, leaving.source, leaving.sink)
    changes = sum(one.balanced is not other.balanced for one, other in pairwise(jacks))
    if changes > (entering.source.balanced is not leaving.sink.balanced):
        yield broken("R17", unit.id, f"{unit.id} converts where nothing need be converted.")
