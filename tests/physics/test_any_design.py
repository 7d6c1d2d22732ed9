"""Whatever the design and whatever the catalogue leaves out, the physics answers and never raises."""

from dataclasses import replace
from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue, Mains, OutputStage
from planner.catalogue.schema import ITEM_SHEETS, PORTS
from planner.design import Connection, Design, Jack, LeadBuild, LeadMethod, LeadPart, Route, Severity, Unit, UnitKind
from planner.figures_json import figures_tree
from planner.physics import Examination, examine
from planner.result_json import as_text
from tests.checks import good_designs
from tests.checks.gear import CATALOGUE

_GOOD = tuple(drawn() for drawn in good_designs.ALL)
_SKUS = tuple(item.sku for item in CATALOGUE.items())
_FIGURES = {
    "amp_power_8ohm_w": (1.0, 500.0), "amp_power_4ohm_w": (1.0, 900.0), "amp_least_load_ohm": (1.0, 16.0),
    "power_8ohm_w": (1.0, 500.0), "power_4ohm_w": (1.0, 900.0), "least_load_ohm": (1.0, 16.0),
    "latency_ms": (0.0, 50.0), "noise_dbu": (-110.0, -60.0), "sensitivity_db": (70.0, 105.0),
    "impedance_ohm": (1.0, 600.0), "least_impedance_ohm": (0.5, 16.0), "handling_w": (1.0, 500.0),
    "max_spl_db": (80.0, 130.0), "shield_mohm_per_m": (0.1, 1000.0), "area_mm2": (0.2, 12.0),
    "max_level_dbu": (-10.0, 26.0), "sensitivity_v": (0.1, 5.0), "capacitance_pf_per_m": (10.0, 500.0),
}  # fmt: skip
_REQUIRED = {"power_8ohm_w", "least_load_ohm", "latency_ms"}


def _figures(rng: Random, sheet_columns: tuple[str, ...]) -> dict[str, Any]:
    """A figure for every column that may have one; now and then none, where the catalogue allows that."""
    changes: dict[str, Any] = {}
    for name in sheet_columns:
        if name in _FIGURES:
            blank = name not in _REQUIRED and rng.random() < 0.25
            changes[name] = None if blank else rng.uniform(*_FIGURES[name])
        elif name == "sensitivity_at_2v83":
            changes[name] = rng.random() < 0.5
        elif name == "output_stage":
            changes[name] = rng.choice(tuple(OutputStage))
        elif name == "pin_order":
            changes[name] = rng.choice(((), ("+", "-"), ("+", "-", "shield")))
    return changes


def _shop(rng: Random) -> Catalogue:
    """The tests' catalogue with its figures set or left out at random."""
    sheets: dict[str, Any] = {}
    for sheet in ITEM_SHEETS:
        names = tuple(column.name for column in sheet.columns)
        rows = [replace(item, **_figures(rng, names)) for item in getattr(CATALOGUE, sheet.name)]
        if "idle_w" in names:
            mains = (Mains(), Mains(rated_w=50.0), Mains(idle_w=5.0, class_ii=True))
            rows = [replace(item, mains=rng.choice(mains)) for item in rows]
        sheets[sheet.name] = tuple(rows)
    names = tuple(column.name for column in PORTS.columns)
    ports = {sku: tuple(replace(p, **_figures(rng, names)) for p in groups) for sku, groups in CATALOGUE.ports.items()}
    return replace(CATALOGUE, **sheets, ports=ports)


def _jack(rng: Random, design: Design) -> Jack:
    unit = rng.choice(design.units)
    groups = [port.name for port in CATALOGUE.ports.get(unit.sku, ())] or ["IN", "LEG"]
    return Jack(unit.id, rng.choice((*groups, "no such")), rng.choice((1, 1, 2, 3, 0, -1)))


def _lead(rng: Random) -> LeadBuild:
    return LeadBuild(
        method=rng.choice(tuple(LeadMethod)),
        parts=tuple(LeadPart(sku=rng.choice((*_SKUS, "no such")), count=1) for _ in range(rng.randint(0, 3))),
        length_m=rng.choice((0.0, 1.0, 30.0, 1000.0)),
    )


def _connection(rng: Random, design: Design) -> Connection:
    return Connection(
        channel=rng.choice(("M+030", "LFE1")),
        source=_jack(rng, design),
        sink=_jack(rng, design),
        lead=_lead(rng),
        way=rng.choice((None, 1, 2)),
    )


def _spoiled(rng: Random, design: Design) -> Design:
    """Connections dropped, doubled, added and rewired; units given another sku, kind, place or id."""
    connections = [rng.choice(design.connections) for _ in range(rng.randint(0, 2 * len(design.connections)))]
    connections += [_connection(rng, design) for _ in range(rng.randint(0, 5))]
    units = list(design.units)
    for at in rng.sample(range(len(units)), rng.randint(0, 3)):
        units[at] = replace(
            units[at],
            **rng.choice(
                (
                    {"sku": rng.choice(_SKUS)},
                    {"kind": rng.choice(tuple(UnitKind))},
                    {"member": rng.choice((None, ("Front", 9), ("Bass", -1), ("Front", 0)))},
                    {"host": rng.choice((None, units[0].id, "no such"))},
                    {"id": units[0].id},
                )
            ),
        )
    routes = [*design.routes, *(Route(source=_jack(rng, design), sink=_jack(rng, design)) for _ in range(3))]
    return replace(design, units=tuple(units), connections=tuple(connections), routes=tuple(routes))


def _examined(seed: int, spoil: bool) -> tuple[Examination, Brief]:
    rng = Random(seed)
    design, brief = rng.choice(_GOOD)
    brief = replace(brief, room=replace(brief.room, temperature_c=rng.choice((-30.0, 20.0, 60.0))))
    return examine(_spoiled(rng, design) if spoil else design, brief, _shop(rng)), brief


_GRAVITY = (Severity.INVALID, Severity.CONCERN, Severity.NOTE)


@given(st.integers(0, 10**9), st.booleans())
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_design_and_no_gap_in_the_catalogue_stops_it(seed: int, spoil: bool) -> None:
    found, brief = _examined(seed, spoil)
    assert all(finding.message for finding in found.findings)
    broken = {finding.rule for finding in found.findings if finding.severity is Severity.INVALID}
    assert broken <= {"R11", "R13", "R14", "R15"}
    gravity = [_GRAVITY.index(finding.severity) for finding in found.findings]
    assert gravity == sorted(gravity)
    assert all(line.early_ms >= -1e-9 for line in found.delays)
    assert all(-1e-9 <= line.set_ms <= line.range_ms + 1e-9 for line in found.delays)
    assert all(bass.incoherent_db <= bass.coherent_db + 1e-9 for bass in found.levels_at_seats.bass)
    seats = {seat.name for seat in brief.seats}
    assert {level.seat for level in found.levels_at_seats.seats} <= seats
    assert as_text(figures_tree(found))  # no figure that JSON has no form for


@given(st.integers(0, 10**9))
@settings(max_examples=100, deadline=None)
def test_all_that_can_be_aligned_arrives_together(seed: int) -> None:
    """With range enough, the last feed of every control point arrives with the last of all."""
    found, _ = _examined(seed, spoil=False)
    if not found.delays:
        return
    latest_ms = max(line.arrival_ms for line in found.delays)
    for control in {line.control for line in found.delays}:
        lines = [line for line in found.delays if line.control == control]
        arrives_ms = max(line.arrival_ms + line.before_ms + line.set_ms for line in lines)
        assert arrives_ms + lines[0].short_ms == pytest.approx(latest_ms)


@pytest.mark.parametrize("kind", [UnitKind.LOUDSPEAKER, UnitKind.SUBWOOFER, UnitKind.AMPLIFIER])
def test_a_unit_that_hangs_on_nothing_is_no_trouble(kind: UnitKind) -> None:
    design, brief = good_designs.amplified()
    lone = Unit(id="Lone", sku={"loudspeaker": "LS-PAS", "subwoofer": "SW-PAS"}.get(kind, "A-2"), kind=kind)
    assert examine(replace(design, units=(*design.units, lone)), brief, CATALOGUE).findings
