"""The reader of the published values gives out what can be an oracle, and nothing else."""

import pytest

from tests.published.check_values import oracle, oracles


def test_a_value_comes_with_its_source() -> None:
    found = oracle("price.half_up_2_665")
    assert (found.value, found.status) == ("2.67", "computed")
    assert "ROUND_HALF_UP" in str(found)


def test_a_value_from_memory_is_refused() -> None:
    with pytest.raises(ValueError, match="is no oracle"):
        oracle("spl.ref_pressure")


def test_an_unknown_name_is_an_error() -> None:
    with pytest.raises(KeyError):
        oracle("price.no_such_entry")


def test_a_prefix_finds_all_of_a_kind_but_those_from_memory() -> None:
    names = [value.name for value in oracles("price.minor_units_")]
    assert "price.minor_units_JPY" in names
    assert all(name.startswith("price.minor_units_") for name in names)
    assert all(value.status != "from memory" for value in oracles("spl."))
