"""The planner's trade-off set against both oracles, cell by cell ("Trade-off set", DEVELOPERS.md)."""

import pytest

from planner.design import Measures
from planner.options import Status
from planner.plan import options
from tests.optimum.campaign import planner_differences
from tests.oracle.brute import Table
from tests.oracle.instance import Instance
from tests.oracle.instances import seeded, small, tiny
from tests.oracle.trade_off import bounds_of, dominates, implied_price, loosest_corners, own_cell

TINY = range(100, 125)
SMALL = range(10)


def answered(instance: Instance) -> list[Measures]:
    """The measures of the planner's options, which must be proven."""
    result = options(instance.brief, instance.catalogue, instance.house)
    assert result.status is (Status.PROVEN if result.options else Status.INFEASIBLE)
    assert all(option.proven for option in result.options)
    return [option.measures for option in result.options]


@pytest.mark.parametrize("seed", TINY)
def test_every_cell_has_the_price_that_brute_force_finds(seed: int) -> None:
    """Each option is the cheapest for its own measures, and no cell holds a cheaper design."""
    instance = seeded(tiny, seed)
    chosen, table, found = instance.brief.measures, Table(instance), answered(instance)
    for cell in (*(own_cell(one, chosen) for one in found), *loosest_corners(found, chosen)):
        assert implied_price(found, cell) == table.price_minor(bounds_of(cell)), cell


@pytest.mark.parametrize("seed", SMALL)
def test_every_cell_has_the_price_that_the_programme_finds(seed: int) -> None:
    assert planner_differences(seeded(small, seed)) == []


@pytest.mark.parametrize("seed", TINY)
def test_no_option_is_dominated_and_none_is_there_twice(seed: int) -> None:
    instance = seeded(tiny, seed)
    chosen, found = instance.brief.measures, answered(instance)
    assert not [(one, other) for one in found for other in found if dominates(one, other, chosen)]
    cells = [tuple(own_cell(one, chosen).values()) for one in found]
    assert len(cells) == len(set(cells))
