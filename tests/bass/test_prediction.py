"""The spread of whole designs (M9): the study's own figure, never more with more control, latency made up for."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from planner.bass import bass_study, prediction
from planner.bass.best_of_groups import best_of_groups
from planner.bass.best_settings import Best
from planner.bass.controls import ControlGroup, Setting
from planner.bass.option_measure import BassMeasure, bass_measures
from planner.bass.outputs import made_up_ms, subwoofer_outputs
from planner.bass.prediction import BassPrediction, NoPrediction, bass_prediction
from planner.bass.scene import Scene, field_of
from planner.bass.starting_values import starting_values
from planner.brief.records import Point
from planner.catalogue.records import Controls
from planner.design import Severity
from tests.bass.designs import Made, made
from tests.physics.rig import CONTROLS

NO_DELAY = Controls(gain=True, polarity=True, max_delay_ms=0.0, filters=0, crossover_ways=1)
NOTHING = Controls(gain=False, polarity=False, max_delay_ms=0.0, filters=0, crossover_ways=1)
FROM_COARSE_TO_FINE = (((1, 2, 3, 4),), ((1, 3), (2, 4)), ((1,), (3,), (2, 4)), ((1,), (3,), (2,), (4,)))


def predicted(one: Made) -> BassPrediction:
    found = bass_prediction(one.design, one.brief, one.catalogue)
    assert isinstance(found, BassPrediction)
    return found


def measured(one: Made) -> BassMeasure:
    (measure,) = bass_measures([one.design], one.brief, one.catalogue)
    return measure


def spread_as_set_db(found: BassPrediction) -> float:
    """From the settings as typed in and the latencies of the devices, each subwoofer by itself."""
    field = field_of(found.scene)[0]
    index = {one.member: n for n, one in enumerate(found.scene.subwoofers)}
    total = np.zeros_like(field.pressure[:, 0])
    for output, setting in zip(found.outputs, found.settings, strict=True):
        late_s = (output.latency_ms + setting.delay_ms) / 1000
        factor = (-1 if setting.inverted else 1) * 10 ** (setting.gain_db / 20)
        for member in output.members:
            total += (
                factor * np.exp(-2j * np.pi * field.frequency_hz * late_s)[:, None] * field.pressure[:, index[member]]
            )
    level_db = 20 * np.log10(np.abs(total))
    mean = level_db @ field.seat_weight
    return float(np.sqrt(((level_db - mean[:, None]) ** 2 @ field.seat_weight).mean()))


def test_more_control_never_gives_more_spread() -> None:
    spreads = [predicted(made(on_processor=groups)).spread_db for groups in FROM_COARSE_TO_FINE]
    assert all(finer <= coarser + 1e-9 for coarser, finer in pairwise(spreads))
    assert spreads[-1] < 0.8 * spreads[0]


def test_what_is_found_beside_it_counts_where_it_can_be_set(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that finds nothing for four groups: the two pairs' settings are there to be taken."""
    fine, coarse = made(on_processor=FROM_COARSE_TO_FINE[-1]), made(on_processor=FROM_COARSE_TO_FINE[1])

    def blind(scene: Scene, groups: tuple[ControlGroup, ...]) -> Best:
        found = best_of_groups(scene, groups)
        return replace(found, settings=(Setting(),) * 4, variance_db2=99.0) if len(groups) == 4 else found

    monkeypatch.setattr(prediction, "best_of_groups", blind)
    designs = [fine.design, coarse.design]
    alone = bass_prediction(fine.design, fine.brief, coarse.catalogue)
    beside = bass_prediction(fine.design, fine.brief, coarse.catalogue, beside=designs)
    assert isinstance(alone, BassPrediction)
    assert isinstance(beside, BassPrediction)
    assert alone.spread_db == pytest.approx(99.0**0.5)
    assert beside.spread_db == pytest.approx(predicted(coarse).spread_db)
    assert spread_as_set_db(beside) == pytest.approx(beside.spread_db, abs=1e-6)


@pytest.mark.parametrize("groups", FROM_COARSE_TO_FINE)
def test_the_figure_is_that_of_the_settings_as_typed_in(groups: tuple[tuple[int, ...], ...]) -> None:
    found = predicted(made(on_processor=groups))
    assert spread_as_set_db(found) == pytest.approx(found.spread_db, abs=1e-6)


def test_each_on_its_own_is_as_the_study_of_the_brief_has_it() -> None:
    """The study's last way of control, and its way of one signal, when the models are the brief's."""
    one = made(on_processor=FROM_COARSE_TO_FINE[-1])
    (group,) = one.brief.subwoofers
    fixed = replace(one.brief, subwoofers=(replace(group, candidates=("Sub 1",)),))
    units = tuple(replace(unit, sku="Sub 1") if unit.id.startswith("Sub") else unit for unit in one.design.units)
    alike = Made(design=replace(one.design, units=units), brief=fixed, catalogue=one.catalogue)
    study, found = bass_study(fixed, one.catalogue), predicted(alike)
    assert found.spread_db == pytest.approx(study.ways[-1].outcome.spread.spread_db, rel=1e-3)
    assert found.before_db == pytest.approx(study.before.spread.spread_db)


def test_an_output_of_the_dsp_unit_does_as_much_as_one_of_the_processor() -> None:
    """Both have delay enough to make up for the unit's latency."""
    direct = predicted(made(on_processor=((1, 3), (2, 4))))
    mixed = predicted(made(on_processor=((1, 3),), on_dsp=((2, 4),), latency_ms={"Proc": 2.0, "DSP": 1.5}))
    assert mixed.spread_db == pytest.approx(direct.spread_db)
    assert spread_as_set_db(mixed) == pytest.approx(mixed.spread_db, abs=1e-6)
    latency_ms = {output.device: output.latency_ms for output in mixed.outputs}
    assert latency_ms == {"Proc": 2.0, "DSP": 3.5}
    made_up = dict(zip(latency_ms, made_up_ms(mixed.outputs), strict=True))
    assert made_up == {"Proc": 1.5, "DSP": 0.0}


def test_latency_that_cannot_be_made_up_for_counts() -> None:
    """The processor has no delay: its subwoofers stay 5 ms ahead of the unit's, which have none either."""
    one = made(
        on_processor=((1, 3),),
        on_dsp=((2, 4),),
        controls={"Proc": NO_DELAY, "DSP": NO_DELAY},
        latency_ms={"DSP": 5.0},
    )
    found = predicted(one)
    assert [setting.delay_ms for setting in found.settings] == [0.0, 0.0]
    assert spread_as_set_db(found) == pytest.approx(found.spread_db, abs=1e-6)


def test_no_setting_is_beyond_what_the_device_can_do() -> None:
    narrow = Controls(gain=True, polarity=False, max_delay_ms=4.0, filters=2, crossover_ways=1)
    found = predicted(made(on_processor=FROM_COARSE_TO_FINE[-1], controls={"Proc": narrow}))
    assert all(0 <= one.delay_ms <= 4.0 and not one.inverted for one in found.settings)
    wide = predicted(made(on_processor=FROM_COARSE_TO_FINE[-1]))
    assert wide.spread_db <= found.spread_db
    fixed = predicted(made(on_processor=FROM_COARSE_TO_FINE[-1], controls={"Proc": NOTHING}))
    assert set(fixed.settings) == {Setting()}
    assert fixed.spread_db == pytest.approx(fixed.before_db)


def test_the_measure_comes_with_a_note_that_it_is_a_prediction() -> None:
    one = made(on_processor=((1,), (2,)))
    measure = measured(one)
    assert measure.spread_db == round(predicted(one).spread_db, 2)
    (note,) = measure.findings
    assert (note.rule, note.severity) == ("M9", Severity.NOTE)
    assert "to be confirmed by measurement" in note.message
    assert f"{measure.spread_db:.2f} dB" in note.message


def test_a_refused_room_has_no_figure_and_a_reason() -> None:
    one = made(on_processor=((1,), (2,)))
    outside = replace(one.brief, seats=(*one.brief.seats, replace(one.brief.seats[0], position=Point(9.0, 1.0, 1.0))))
    measure = measured(replace(one, brief=outside))
    assert measure.spread_db is None
    assert "rectangular room" in measure.findings[0].message


def test_a_single_seat_has_no_figure() -> None:
    one = made(on_processor=((1,), (2,)))
    found = bass_prediction(one.design, replace(one.brief, seats=one.brief.seats[:1]), one.catalogue)
    assert found == NoPrediction("There is one seat, and so no difference between seats.")


def test_starting_values_are_one_a_control_point() -> None:
    one = made(on_processor=((1, 3),), on_dsp=((2, 4),), latency_ms={"DSP": 1.5})
    found, values = predicted(one), starting_values(one.design, one.brief, one.catalogue)
    assert [value.subwoofers for value in values] == [output.subwoofers for output in found.outputs]
    assert [(v.gain_db, v.delay_ms, v.inverted) for v in values] == [
        (s.gain_db, s.delay_ms, s.inverted) for s in found.settings
    ]
    assert len({value.filters for value in values}) == 1
    assert all(value.predicted and not value.remark for value in values)


def test_what_a_device_lacks_is_no_value() -> None:
    one = made(on_processor=((1, 2),), controls={"Proc": NOTHING})
    (value,) = starting_values(one.design, one.brief, one.catalogue)
    assert (value.gain_db, value.delay_ms, value.inverted, value.filters) == (None, None, None, ())
    assert value.polarity == "no control"


def test_without_a_prediction_values_are_neutral_and_say_why() -> None:
    one = made(on_processor=((1,), (2,)))
    values = starting_values(one.design, replace(one.brief, seats=one.brief.seats[:1]), one.catalogue)
    assert [(v.gain_db, v.delay_ms, v.polarity) for v in values] == [(0.0, 0.0, "normal")] * 2
    assert all(not value.predicted and "one seat" in value.remark for value in values)


def test_a_mirrored_or_split_output_is_one_group() -> None:
    (output,) = subwoofer_outputs(**vars(made(on_processor=((1, 2, 3),))))
    assert output.members == (("Subs", 0), ("Subs", 1), ("Subs", 2))
    assert output.controls == CONTROLS
