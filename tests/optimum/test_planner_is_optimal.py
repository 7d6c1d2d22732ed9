"""The planner's trade-off set against both oracles, cell by cell ("Trade-off set", DEVELOPERS.md)."""

from functools import cache

import pytest

from planner.brief.records import Drive
from planner.design import LeadMethod, UnitKind
from planner.options import Option, Status
from planner.plan import options
from tests.optimum.campaign import planner_differences
from tests.optimum.seeds import SMALL, TINY, TINY_INFEASIBLE
from tests.oracle.brute import Table
from tests.oracle.instances import seeded, small, tiny
from tests.oracle.trade_off import bounds_of, dominates, implied_price, loosest_corners, own_cell


@cache
def answered(seed: int) -> tuple[Option, ...]:
    """The planner's options for a tiny instance, all of which must be proven."""
    instance = seeded(tiny, seed)
    result = options(instance.brief, instance.catalogue, instance.house)
    assert result.status is (Status.PROVEN if result.options else Status.INFEASIBLE)
    assert all(option.proven for option in result.options)
    return result.options


@pytest.mark.parametrize("seed", [*TINY, *TINY_INFEASIBLE])
def test_every_cell_has_the_price_that_brute_force_finds(seed: int) -> None:
    """Each option is the cheapest for its own measures, and no cell holds a cheaper design."""
    instance = seeded(tiny, seed)
    chosen, table = instance.brief.measures, Table(instance)
    found = [option.measures for option in answered(seed)]
    for cell in (*(own_cell(one, chosen) for one in found), *loosest_corners(found, chosen)):
        assert implied_price(found, cell) == table.price_minor(bounds_of(cell)), cell


@pytest.mark.parametrize("seed", SMALL)
def test_every_cell_has_the_price_that_the_programme_finds(seed: int) -> None:
    assert planner_differences(seeded(small, seed)) == []


@pytest.mark.parametrize("seed", TINY)
def test_no_option_is_dominated_and_none_is_there_twice(seed: int) -> None:
    chosen = seeded(tiny, seed).brief.measures
    found = [option.measures for option in answered(seed)]
    assert found
    assert not [(one, other) for one in found for other in found if dominates(one, other, chosen)]
    cells = [tuple(own_cell(one, chosen).values()) for one in found]
    assert len(cells) == len(set(cells))


def test_the_instances_call_on_every_drive_lead_and_device() -> None:
    """Agreement is worth little where the instances leave a part of the rules alone."""
    found = [option for seed in TINY for option in answered(seed)]
    assert {drive for option in found for drive, count in option.drives.items() if count} == set(Drive)
    assert {connection.lead.method for option in found for connection in option.design.connections} == set(LeadMethod)
    kinds = {unit.kind for option in found for unit in option.design.units}
    assert kinds == set(UnitKind) - {UnitKind.ISOLATOR}  # these have instances of their own, see test_isolators
    assert any(connection.way for option in found for connection in option.design.connections)
