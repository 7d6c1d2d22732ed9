"""What to set each subwoofer output to before measuring (D6): starting values, to be confirmed by measurement.

The delays bring the subwoofers into step with one another, latency made up for; the earliest has none. How
late the loudspeakers must be to meet them at the crossover is found by measurement.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.bass.bass_field import CROSSOVER_HZ
from planner.bass.controls import Setting
from planner.bass.outputs import SubwooferOutput, subwoofer_outputs
from planner.bass.prediction import BassPrediction, NoPrediction, bass_prediction
from planner.bass.shared_filters import PeakingFilter
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Design, Jack


@dataclass(frozen=True, kw_only=True, slots=True)
class StartingValue:
    """What to set one output to. None: its device has no such control.

    Attributes:
        output: the output as people read it; `jack` is the same, with index 0 for a mirrored group.
        device: the unit that the output is on.
        subwoofers: the unit ids of those that share it.
        gain_db: 0 or below.
        delay_ms: against the earliest subwoofer, 0 or above.
        inverted: the polarity.
        filters: peaking filters, the same on every output; empty where none is worth it.
        crossover_hz: of the low-pass that all subwoofers share, set once, in the processor's bass management.
        crossover: its kind, in words.
        predicted: whether a prediction stands behind it; if not, it is neutral, and `remark` says why.
        remark: what has to be said beside it; may be empty.
    """

    output: str
    jack: Jack
    device: str
    subwoofers: tuple[str, ...]
    gain_db: float | None
    delay_ms: float | None
    inverted: bool | None
    filters: tuple[PeakingFilter, ...]
    crossover_hz: float
    crossover: str
    predicted: bool
    remark: str

    @property
    def polarity(self) -> str:
        """The polarity in words."""
        match self.inverted:
            case None:
                return "no control"
            case True:
                return "inverted"
            case False:
                return "normal"


CROSSOVER = "fourth-order Linkwitz-Riley low-pass"


def starting_values(
    design: Design, brief: Brief, catalogue: Catalogue, beside: Sequence[Design] = ()
) -> tuple[StartingValue, ...]:
    """One for each control point that feeds subwoofers, in the order of their jacks; none without subwoofers.

    `beside`: the designs of the set that its M9 was worked out in, so that these are the settings behind that figure.
    """
    prediction = bass_prediction(design, brief, catalogue, beside=beside)
    return values_of(prediction, design, brief, catalogue)


def values_of(
    prediction: BassPrediction | NoPrediction, design: Design, brief: Brief, catalogue: Catalogue
) -> tuple[StartingValue, ...]:
    """The same, where the bass of the design is predicted already."""
    if isinstance(prediction, NoPrediction):
        outputs = subwoofer_outputs(design, brief, catalogue)
        remark = f"Not predicted, so it starts neutral. {prediction.reason}"
        return tuple(_value(one, Setting(), (), predicted=False, remark=remark) for one in outputs)
    filters = prediction.filters().filters
    return tuple(
        _value(one, setting, filters, predicted=True, remark="")
        for one, setting in zip(prediction.outputs, prediction.settings, strict=True)
    )


def _value(
    output: SubwooferOutput, setting: Setting, filters: tuple[PeakingFilter, ...], *, predicted: bool, remark: str
) -> StartingValue:
    controls = output.controls
    return StartingValue(
        output=output.name,
        jack=output.jack,
        device=output.device,
        subwoofers=output.subwoofers,
        gain_db=setting.gain_db if controls.gain else None,
        delay_ms=setting.delay_ms if controls.max_delay_ms > 0 else None,
        inverted=setting.inverted if controls.polarity else None,
        filters=filters,
        crossover_hz=CROSSOVER_HZ,
        crossover=CROSSOVER,
        predicted=predicted,
        remark=remark,
    )
