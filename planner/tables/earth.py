"""R17 for people: each independent earth loop, the leads in it, and what breaks it."""

from collections.abc import Sequence

from planner.physics.earth import EarthLoop
from planner.physics.earth_remedies import Means, Remedy, remedies
from planner.tables.cells import NOT_KNOWN

LOOP_HEADINGS = ("Runs through", "Unbalanced leads in it", "Hum estimated, µV", "What breaks it")
LOOP_FIGURES = LOOP_HEADINGS[2:3]

NEVER_LIFTED = "A protective earth is never lifted or disconnected."


def loop_rows(loops: Sequence[EarthLoop]) -> list[tuple[str, ...]]:
    """A row a loop."""
    return [
        (
            ", ".join((*loop.members, *(("the safety earth",) if loop.earthed else ()))),
            "; ".join(edge.lead for edge in loop.unbalanced) or "none",
            NOT_KNOWN if loop.hum_v is None else f"{loop.hum_v * 1e6:.1f}",
            remedy_words(loop),
        )
        for loop in loops
    ]


def remedy_words(loop: EarthLoop) -> str:
    """What to do about one loop, if anything."""
    if loop.bundled and loop.unbalanced:
        return "Run these leads side by side: they do no harm then."
    if not loop.unbalanced:
        return "Nothing needed in practice: its shields carry no signal."
    return f"Any one of these: {'; '.join(_means_words(remedy) for remedy in remedies(loop))}."


def _means_words(remedy: Remedy) -> str:
    places = " or ".join(remedy.any_of)
    match remedy.by:
        case Means.ISOLATOR:
            return f"a line isolating transformer at the receiving end of {places}"
        case Means.BALANCED_LINK:
            return "a balanced link with the right lead instead"
        case Means.CLASS_II:
            return f"gear of class II, which has no mains earth, in place of {places}"
