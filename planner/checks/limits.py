"""R10, R16 and R18: the limits that the brief sets on the design as a whole."""

from collections.abc import Iterator

from planner.brief.records import Drive
from planner.catalogue.records import Amplifier, Card, DspUnit, Item, Loudspeaker, Processor, Subwoofer
from planner.checks.case import Case
from planner.checks.findings import broken, counted
from planner.checks.measures import spare_outputs
from planner.checks.sockets import Level
from planner.design import Finding, Measures, UnitKind

_DRIVE_IN_WORDS = {
    Drive.DEDICATED: "on a processor output of its own",
    Drive.DSP: "on an output of a DSP unit",
    Drive.SPLIT: "on a split output",
    Drive.DAISY_CHAINED: "daisy-chained",
}


def enough_control(case: Case, measures: Measures) -> Iterator[Finding]:
    """R10: as many subwoofers and groups as asked can be set on their own."""
    limits = case.known.brief.limits
    if measures.independent_subs < limits.least_independent_subwoofers:
        yield broken(
            "R10",
            "independent subwoofers",
            f"{counted(measures.independent_subs, 'subwoofer')} can be set alone in gain, polarity, delay and "
            f"{counted(limits.filters_per_subwoofer, 'filter')}; "
            f"the brief asks for {limits.least_independent_subwoofers}.",
        )
    if measures.control_groups < limits.least_control_groups:
        yield broken(
            "R10",
            "control groups",
            f"The subwoofers make {counted(measures.control_groups, 'control group')}; "
            f"the brief asks for {limits.least_control_groups}.",
        )  # fmt: skip


def drives_allowed(case: Case) -> Iterator[Finding]:
    """R18: no feed is reached by a drive that the brief does not allow."""
    allowed = case.known.brief.limits.drives
    for point in case.points:
        for link in point.feeds:
            reached_by = [point.drive_of(link)]
            if point.is_dsp and Drive.DSP not in reached_by:
                reached_by.append(Drive.DSP)
            for drive in reached_by:
                if drive not in allowed:
                    feed = link.sink_unit.id
                    yield broken("R18", feed, f"{feed} is {_DRIVE_IN_WORDS[drive]}; the brief does not allow that.")


def asked_of_the_whole(case: Case, measures: Measures) -> Iterator[Finding]:
    """R18: spare outputs, subwoofers lost and DSP units are within what the brief asks."""
    limits = case.known.brief.limits
    spare, units = spare_outputs(case), len(case.view.units_of[UnitKind.DSP])
    if spare < limits.spare_outputs:
        yield broken(
            "R18", "spare outputs", f"{counted(spare, 'output')} to spare; the brief asks for {limits.spare_outputs}."
        )
    if limits.most_subwoofers_lost is not None and measures.subs_lost_worst > limits.most_subwoofers_lost:
        yield broken(
            "R18",
            "subwoofers lost",
            f"One failure can silence {counted(measures.subs_lost_worst, 'subwoofer')}; "
            f"the brief allows {limits.most_subwoofers_lost}.",
        )  # fmt: skip
    if units > limits.most_dsp_units:
        yield broken(
            "R18",
            "DSP units",
            f"The design has {counted(units, 'DSP unit')}; the brief allows {limits.most_dsp_units}.",
        )


def all_balanced(case: Case) -> Iterator[Finding]:
    """R18: where the brief wants balanced lines only, both jacks of every line are balanced."""
    if not case.known.brief.limits.balanced_only:
        return
    for link in case.view.links:
        if link.source.level is Level.LINE and not (link.source.balanced and link.sink.balanced):
            yield broken("R18", str(link), f"{link} is not balanced at both ends, as the brief asks.")


def fits_the_rack(case: Case) -> Iterator[Finding]:
    """R16: the rack units of all gear together fit the rack."""
    room = case.known.brief.rack.units
    taken = sum(_rack_units(case.view.item(unit)) for unit in case.view.units.values())
    if room is not None and taken > room:
        yield broken("R16", "rack", f"The gear takes {counted(taken, 'rack unit')}; the rack has {room}.")


def _rack_units(item: Item) -> int:
    if isinstance(item, Processor | Card | DspUnit | Amplifier | Loudspeaker | Subwoofer):
        return item.mains.rack_units
    return 0
