"""Jobs to write papers of: the demo briefs, and the same brief on other terms."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

from planner.brief.records import Brief
from planner.documents.job import Job
from planner.house import House
from planner.plan import options
from tests.plan.demo import LONG_ENOUGH_S, demo_brief, demo_catalogue, demo_house, demo_result

SMALL, NONE, LARGE = "stereo-one-sub", "desk-no-subwoofer", "sixteen-outputs-one-short"
QUICK = (SMALL, NONE, LARGE, "small-5-1-2-two-subs", "upgrade-around-owned-gear")


@cache
def demo_job(name: str, place: int = 0) -> Job:
    """The papers of one option of a demo brief, the cheapest unless another place is named."""
    result = demo_result(name)
    return Job(
        brief=demo_brief(name),
        catalogue=demo_catalogue(),
        house=demo_house(),
        result=result,
        option=result.options[place],
        compared=result.options[:3],
    )


def job_of(name: str, *, brief: Callable[[Brief], Brief], house: Callable[[House], House]) -> Job:
    """The cheapest option of a demo brief with other terms."""
    asked, terms = brief(demo_brief(name)), house(demo_house())
    result = options(asked, demo_catalogue(), terms, time_limit_s=LONG_ENOUGH_S)
    return Job(
        brief=asked,
        catalogue=demo_catalogue(),
        house=terms,
        result=result,
        option=result.options[0],
        compared=result.options[:3],
    )


def quoted_in(name: str, currency: str, **terms: object) -> Job:
    """The cheapest option of a demo brief, quoted in another currency and on other terms of the house."""
    return job_of(
        name,
        brief=lambda brief: replace(brief, project=replace(brief.project, currency=currency), limits=replace(brief.limits, budget=None)),
        house=lambda house: replace(house, **terms),
    )
