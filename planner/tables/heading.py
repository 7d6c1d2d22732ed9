"""The top of the printed answer: whose system it is, and how far the answer is settled."""

from collections.abc import Iterator

from planner.brief.records import Brief, SubwooferSet
from planner.options import Result, Status
from planner.tables.layout import paragraph
from planner.words import MEASURE_WORDS, counted, listed

MOST_UNPROVEN = 6
"""How many open questions are printed one by one."""


def heading(brief: Brief) -> list[str]:
    """Project, room, layout, loudspeakers and subwoofers."""
    project, room = brief.project, brief.room
    loudspeakers = sum(len(group.placements) for group in brief.loudspeakers)
    named = (project.name, project.client, project.reference, project.dated.isoformat())
    return [
        *paragraph(", ".join(part for part in named if part)),
        *paragraph(
            f"Room {room.length_m:.2f} x {room.width_m:.2f} x {room.height_m:.2f} m; layout {brief.layout};"
            f" {counted(loudspeakers, 'loudspeaker')}; {_subwoofers(brief.subwoofers)}"
        ),
    ]


def status_lines(result: Result, brief: Brief) -> list[str]:
    """How far the answer is settled, in sentences."""
    lines: list[str] = [""]
    for text in status_sentences(result, brief):
        lines.extend(paragraph(text))
    told, left = result.unproven[:MOST_UNPROVEN], len(result.unproven) - MOST_UNPROVEN
    more = (f"And {counted(left, 'question')} more, which the JSON result names.",) if left > 0 else ()
    for text in (*told, *more):
        lines.extend(paragraph(text, indent="  ", first="- "))
    return lines


def status_sentences(result: Result, brief: Brief) -> Iterator[str]:
    """How far the answer is settled; what `result.unproven` lists follows the last sentence."""
    found = counted(len(result.options), "option")
    match result.status:
        case Status.PROVEN:
            measures = listed(tuple(MEASURE_WORDS[measure] for measure in brief.measures))
            yield (
                f"Proven: {found} in {result.seconds:.1f} s. Each is the cheapest for what it offers, and no"
                f" valid design is as good in every measure and better in one. Measures: {measures}."
            )
        case Status.PARTIAL:
            so_far = f"{found} so far, each a valid design. There may be cheaper ones, and others."
            none_yet = "no design was found in it. That says nothing against the brief: give it more time."
            yield f"Time ran out after {result.seconds:.1f} s: {so_far if result.options else none_yet}"
        case Status.INFEASIBLE:
            yield "No valid design exists for this brief and this catalogue."


def _subwoofers(sets: tuple[SubwooferSet, ...]) -> str:
    least, most = sum(group.least for group in sets), sum(group.most for group in sets)
    if least == most:
        return counted(most, "subwoofer")
    return f"{least} to {most} subwoofers"
