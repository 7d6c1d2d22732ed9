"""Jobs to write papers of: the demo briefs, and the same brief on other terms."""

from dataclasses import replace
from functools import cache

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.documents.job import Job, job_of
from planner.house import House
from planner.plan import options
from tests.plan.demo import LONG_ENOUGH_S, demo_brief, demo_catalogue, demo_house, demo_result

SMALL, NONE, LARGE = "stereo-one-sub", "desk-no-subwoofer", "sixteen-outputs-one-short"
QUICK = (SMALL, NONE, LARGE, "small-5-1-2-two-subs", "upgrade-around-owned-gear")


@cache
def demo_job(name: str, option_id: str | None = None) -> Job:
    """The papers of one option of a demo brief, the cheapest unless another is named."""
    return job_of(option_id, demo_result(name), brief=demo_brief(name), catalogue=demo_catalogue(), house=demo_house())


def solved(brief: Brief, catalogue: Catalogue, house: House) -> Job:
    """The papers of the cheapest option of any brief."""
    result = options(brief, catalogue, house, time_limit_s=LONG_ENOUGH_S)
    return job_of(None, result, brief=brief, catalogue=catalogue, house=house)


def quoted_in(name: str, currency: str, house: House | None = None) -> Job:
    """The cheapest option of a demo brief, quoted in another currency, and on other terms than the demo's."""
    brief = demo_brief(name)
    asked = replace(brief, project=replace(brief.project, currency=currency), limits=replace(brief.limits, budget=None))
    return solved(asked, demo_catalogue(), house or demo_house())
