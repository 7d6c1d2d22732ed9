"""M9 of an option: the spread as a figure, and what has to be said beside it as a finding."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.bass.notes import PREDICTION
from planner.bass.prediction import BassPrediction, NoPrediction, predicted, setup
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Design, Figure, FigureUnit, Finding, Severity
from planner.words import counted

RULE = "M9"


@dataclass(frozen=True, kw_only=True, slots=True)
class BassMeasure:
    """The spread in dB, to the hundredth; None where it cannot be predicted, and a note says why."""

    spread_db: float | None
    findings: tuple[Finding, ...] = ()


def bass_measures(designs: Sequence[Design], brief: Brief, catalogue: Catalogue) -> tuple[BassMeasure, ...]:
    """The measures of a set of valid designs, in their order."""
    if not any(group.most for group in brief.subwoofers):
        return tuple(BassMeasure(spread_db=None) for _ in designs)
    setups = [setup(design, brief, catalogue) for design in designs]
    return tuple(_measure(one if isinstance(one, NoPrediction) else predicted(one, setups)) for one in setups)


def _measure(found: BassPrediction | NoPrediction) -> BassMeasure:
    if isinstance(found, NoPrediction):
        return BassMeasure(spread_db=None, findings=(_note(f"The bass is not predicted. {found.reason}"),))
    spread_db = round(found.spread_db, 2)
    figure = Figure(of="predicted bass spread", value=spread_db, unit=FigureUnit.DB)
    return BassMeasure(spread_db=spread_db, findings=(replace(_note(_words(found)), figures=(figure,)),))


def _note(message: str) -> Finding:
    return Finding(rule=RULE, severity=Severity.NOTE, subject="subwoofers", detail=message)


def _words(found: BassPrediction) -> str:
    band = found.scene.band
    groups = counted(len(found.outputs), "output")
    return (
        f"Predicted spread over {counted(len(found.scene.seats), 'seat')} from {band.low_hz:g} to"
        f" {band.high_hz:g} Hz: {found.spread_db:.2f} dB, with the subwoofers set by {groups};"
        f" {found.before_db:.2f} dB with one signal to all and nothing set. {PREDICTION}"
    )
