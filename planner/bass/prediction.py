"""The bass of one design: the spread (M9) at the best settings that its control points allow, and those settings."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt

from planner.bass.band import USUAL_BAND, Band
from planner.bass.bass_field import own_slope_db
from planner.bass.best_of_groups import best_of_groups
from planner.bass.best_settings import Best
from planner.bass.controls import ControlGroup, Setting, refines
from planner.bass.outcome import Outcome, outcome
from planner.bass.outputs import SubwooferOutput, control_range, made_up_ms, subwoofer_outputs
from planner.bass.refusals import bass_faults, shoebox
from planner.bass.scene import Scene, field_of
from planner.bass.shared_filters import SharedFilters, shared_filters
from planner.bass.spread import seat_mean_db
from planner.bass.subwoofers import PlacedSubwoofer, subwoofers_in
from planner.bass.task import task
from planner.bass.trials import trial
from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Design


@dataclass(frozen=True, kw_only=True, slots=True)
class BassPrediction:
    """What the seats get of one design, and what its outputs are set to for it.

    `settings` are as typed in, one an output: what makes up for latency is in their delays. `before_db` is the
    spread of the same subwoofers on one signal, nothing set; `loss_db` the level given up against that.
    """

    scene: Scene
    best: Best

    outputs: tuple[SubwooferOutput, ...]
    settings: tuple[Setting, ...]
    spread_db: float
    before_db: float
    loss_db: float

    def outcome(self) -> Outcome:
        """What the seats get at these settings."""
        return _outcome(self.scene, self.best)

    def before(self) -> Outcome:
        """What they get of the same subwoofers on one signal, nothing set."""
        return _outcome(self.scene, _on_one_signal(self.scene))

    def filters(self) -> SharedFilters:
        """A few peaking filters, the same on every output, for the mean of the seats at these settings."""
        field = field_of(self.scene)[0]
        level_db = task(field, self.best.groups).levels_db(trial(self.best.settings))[:, 0]
        return shared_filters(
            field.frequency_hz,
            seat_mean_db(level_db, field.seat_weight),
            own_slope_db(self.scene.subwoofers, field.frequency_hz),
            min(one.controls.filters for one in self.outputs),
        )


@dataclass(frozen=True, slots=True)
class NoPrediction:
    """Why the bass of a design is not predicted, in a sentence."""

    reason: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Setup:
    """What the bass of a design hangs on: its scene, its outputs, and the control groups that they make."""

    scene: Scene
    outputs: tuple[SubwooferOutput, ...]
    groups: tuple[ControlGroup, ...]


def setup(design: Design, brief: Brief, catalogue: Catalogue, band: Band = USUAL_BAND) -> Setup | NoPrediction:
    """What has to be known of a valid design, or why its bass is not predicted."""
    scene = _scene(design, brief, catalogue, band)
    if isinstance(scene, NoPrediction):
        return scene
    outputs = subwoofer_outputs(design, brief, catalogue)
    return Setup(scene=scene, outputs=outputs, groups=_groups(outputs, scene.subwoofers))


def bass_prediction(
    design: Design,
    brief: Brief,
    catalogue: Catalogue,
    band: Band = USUAL_BAND,
    beside: Sequence[Design] = (),
) -> BassPrediction | NoPrediction:
    """The bass of a valid design. What rooms and seats it shares with another is worked out once.

    `beside`: the other designs of a set. Settings found for one of them that this one can make too count for it;
    so within the set more control never comes out worse.
    """
    here = setup(design, brief, catalogue, band)
    if isinstance(here, NoPrediction):
        return here
    return predicted(here, [setup(other, brief, catalogue, band) for other in beside])


def predicted(here: Setup, beside: Sequence[Setup | NoPrediction] = ()) -> BassPrediction:
    """The same of what is known of the designs already."""
    scene, outputs, groups = here.scene, here.outputs, here.groups
    others = {other.groups for other in beside if isinstance(other, Setup) and other.scene == scene}
    found = [_as_set_by(groups, best_of_groups(scene, other)) for other in others - {groups}]
    best = min(
        (best_of_groups(scene, groups), *(one for one in found if one is not None)),
        key=lambda one: (one.variance_db2, [(a.gain_db, a.delay_ms, a.inverted) for a in one.settings]),
    )
    setting_by_members = dict(zip(best.grouping, best.settings, strict=True))
    settings = tuple(
        replace(setting, delay_ms=round(setting.delay_ms + made_up, 2))
        for made_up, setting in zip(
            made_up_ms(outputs), (setting_by_members[group.members] for group in groups), strict=True
        )
    )
    return BassPrediction(
        scene=scene,
        best=best,
        outputs=outputs,
        settings=settings,
        spread_db=sqrt(best.variance_db2),
        before_db=sqrt(_on_one_signal(scene).variance_db2),
        loss_db=best.loss_db,
    )


def _as_set_by(groups: tuple[ControlGroup, ...], other: Best) -> Best | None:
    """The settings found for coarser or equal groups, where these groups can make them too."""
    ordered = tuple(sorted(groups, key=lambda group: group.members))
    if not refines(tuple(group.members for group in ordered), other.grouping):
        return None
    settings = tuple(other.by_subwoofer[group.members[0]] for group in ordered)
    on_time = all(group.late_ms == 0 for group in (*ordered, *other.groups))
    if not on_time or not all(one.range.holds(setting) for one, setting in zip(ordered, settings, strict=True)):
        return None
    return replace(other, groups=ordered, settings=settings)


def _scene(design: Design, brief: Brief, catalogue: Catalogue, band: Band) -> Scene | NoPrediction:
    subwoofers = subwoofers_in(design, brief, catalogue)
    if not subwoofers:
        return NoPrediction("It has no subwoofer.")
    if faults := bass_faults(brief, band.low_hz):
        return NoPrediction(" ".join(f"{fault}." if not str(fault).endswith(".") else str(fault) for fault in faults))
    if len(brief.seats) == 1:
        return NoPrediction("There is one seat, and so no difference between seats.")
    return Scene(room=shoebox(brief.room), band=band, subwoofers=subwoofers, seats=brief.seats)


def _groups(outputs: Sequence[SubwooferOutput], subwoofers: Sequence[PlacedSubwoofer]) -> tuple[ControlGroup, ...]:
    """The control groups by index in `subwoofers`, one an output."""
    index_by_member = {one.member: n for n, one in enumerate(subwoofers)}
    made_up = made_up_ms(outputs)
    starts_ms = [one.latency_ms + used_ms for one, used_ms in zip(outputs, made_up, strict=True)]
    return tuple(
        ControlGroup(
            members=tuple(sorted(index_by_member[member] for member in one.members)),
            range=control_range(one.controls, used_ms),
            late_ms=round(start_ms - min(starts_ms), 6) + 0.0,
        )
        for one, used_ms, start_ms in zip(outputs, made_up, starts_ms, strict=True)
    )


def _on_one_signal(scene: Scene) -> Best:
    everything = ControlGroup(members=tuple(range(len(scene.subwoofers))))
    return best_of_groups(scene, (everything,))


def _outcome(scene: Scene, best: Best) -> Outcome:
    field = field_of(scene)[0]
    names = tuple(seat.name for seat in scene.seats)
    return outcome(task(field, best.groups), best, field, scene.subwoofers, names)
