"""R16 for people: what the rack and the room take from the mains, and give off as heat."""

from planner.physics.mains import SUPPLIES_V, MainsTotals, Supply
from planner.tables.cells import decimals

MAINS_HEADINGS = ("Gear", "Idle, W", "At rated output, W", "Heat idle, BTU/h", "Heat at rated output, BTU/h")
MAINS_FIGURES = MAINS_HEADINGS[1:]

MAINS_CAUTION = (
    "Gear with large supplies draws many times its rated current for a moment when it is switched on: switch it on in"
    " turn. How circuits are loaded is for a licensed electrician, by the local code."
)


def mains_rows(totals: MainsTotals) -> list[tuple[str, ...]]:
    """The rack, the room, and both."""
    return [
        _row("In the rack", totals.rack),
        _row("Loudspeakers and subwoofers", totals.room),
        _row("In all", totals.whole),
    ]


def mains_sentences(totals: MainsTotals) -> list[str]:
    """Height, current and what is not known."""
    amperes = " or ".join(f"{totals.whole.rated_w / volts:.1f} A at {volts} V" for volts in SUPPLIES_V)
    sentences = [
        f"{totals.rack_units} rack units. In all {amperes} at rated output, more with a poor power factor.",
        MAINS_CAUTION,
    ]
    if totals.unstated:
        sentences.append(f"The catalogue gives no mains power for {', '.join(totals.unstated)}: left out here.")
    return sentences


def _row(words: str, supply: Supply) -> tuple[str, ...]:
    figures = (supply.idle_w, supply.rated_w, supply.idle_btu_per_h, supply.rated_btu_per_h)
    return (words, *(decimals(figure, 0) for figure in figures))
