"""Time that runs out: the answer so far is verified and marked, and what is open is said."""

import pytest

from planner.options import Status
from planner.plan import Progress, options
from tests.plan.demo import demo_brief, demo_catalogue, demo_house, demo_result

CINEMA = "cinema-7-1-4-four-mixed-subs"


def test_without_any_time_nothing_is_claimed() -> None:
    result = options(demo_brief(CINEMA), demo_catalogue(), demo_house(), time_limit_s=0.0)
    assert result.status is Status.PARTIAL
    assert result.unproven
    assert result.conflict == ()
    assert not any(option.proven for option in result.options)
    for answer in result.shortlist:
        assert answer.option_id is not None or "No valid" not in answer.reason


@pytest.mark.parametrize("name", ["small-5-1-2-two-subs", "stereo-one-sub"])
def test_what_is_found_in_time_is_proven_and_the_rest_is_named(name: str) -> None:
    """The time ends when something was settled for the second time: some cells are, not all."""
    whole = {option.measures for option in demo_result(name).options}
    stopped = _Clock()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("planner.allocation.trade_off.time", stopped)
        result = options(demo_brief(name), demo_catalogue(), demo_house(), time_limit_s=100.0, progress=stopped.tick)
    assert result.status is Status.PARTIAL
    assert result.unproven
    assert all(sentence.startswith("Not settled: ") for sentence in result.unproven)
    assert result.options
    assert {option.measures for option in result.options if option.proven} <= whole
    assert result.shortlist[0].option_id == "1"


class _Clock:
    """A clock that stands still, and jumps past every deadline when solves were settled for the second time."""

    def __init__(self) -> None:
        self._settled: set[int] = set()

    def tick(self, progress: Progress) -> None:
        if progress.found:
            self._settled.add(progress.done)

    def monotonic(self) -> float:
        import time

        return time.monotonic() + (1e6 if len(self._settled) >= 2 else 0.0)
