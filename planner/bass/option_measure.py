"""M9 of an option: the spread as a figure, and what has to be said beside it as a finding."""

from dataclasses import dataclass

from planner.bass.notes import PREDICTION
from planner.bass.prediction import BassPrediction, NoPrediction, bass_prediction
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Design, Finding, Severity
from planner.words import counted

RULE = "M9"


@dataclass(frozen=True, kw_only=True, slots=True)
class BassMeasure:
    """The spread in dB, to the hundredth; None where it cannot be predicted, and a note says why."""

    spread_db: float | None
    findings: tuple[Finding, ...] = ()


def bass_measure(design: Design, brief: Brief, catalogue: Catalogue) -> BassMeasure:
    """The measure of a valid design. A brief without subwoofers has neither figure nor note."""
    if not any(group.most for group in brief.subwoofers):
        return BassMeasure(spread_db=None)
    predicted = bass_prediction(design, brief, catalogue)
    if isinstance(predicted, NoPrediction):
        return BassMeasure(spread_db=None, findings=(_note(f"The bass is not predicted. {predicted.reason}"),))
    return BassMeasure(spread_db=round(predicted.spread_db, 2), findings=(_note(_words(predicted)),))


def _note(message: str) -> Finding:
    return Finding(rule=RULE, severity=Severity.NOTE, subject="subwoofers", message=message)


def _words(predicted: BassPrediction) -> str:
    band = predicted.scene.band
    groups = counted(len(predicted.outputs), "output")
    return (
        f"Predicted spread over {counted(len(predicted.scene.seats), 'seat')} from {band.low_hz:g} to"
        f" {band.high_hz:g} Hz: {predicted.spread_db:.2f} dB, with the subwoofers set by {groups};"
        f" {predicted.before_db:.2f} dB with one signal to all and nothing set. {PREDICTION}"
    )
