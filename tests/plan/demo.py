"""The demo catalogue and its briefs, read and answered once a process."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from planner.brief import read_brief
from planner.brief.records import Brief, Measure
from planner.catalogue import read_catalogue
from planner.catalogue.records import Catalogue
from planner.design import Measures
from planner.house import House
from planner.house_file import read_house
from planner.options import Result
from planner.plan import options

DEMO = Path(__file__).resolve().parents[2] / "catalogue_demo"
NAMES = tuple(sorted(path.stem for path in (DEMO / "briefs").glob("*.toml")))
LONG_ENOUGH_S = 600.0  # the machine may be busy; the work takes seconds


@cache
def demo_brief(name: str) -> Brief:
    """A demo brief by its file's name."""
    return read_brief(DEMO / "briefs" / f"{name}.toml")


@cache
def demo_catalogue() -> Catalogue:
    """The demo catalogue."""
    return read_catalogue(DEMO)


@cache
def demo_house() -> House:
    """The demo's house settings."""
    return read_house(DEMO / "house.toml")


@cache
def demo_result(name: str) -> Result:
    """The answer to a demo brief."""
    return options(demo_brief(name), demo_catalogue(), demo_house(), time_limit_s=LONG_ENOUGH_S)


def timeless(result: Result) -> Result:
    """A result but for how long it took."""
    return replace(result, seconds=0.0)


def weighed(measures: Measures, brief: Brief) -> tuple[int, ...]:
    """The measures that a brief weighs, each so that less is better."""
    values = {
        Measure.PRICE: measures.price_minor,
        Measure.INDEPENDENT_SUBWOOFERS: -measures.independent_subs,
        Measure.SPARE_OUTPUTS: -measures.spare_outputs,
        Measure.JOINTS: measures.joints,
        Measure.SUBWOOFERS_LOST: measures.subs_lost_worst,
        Measure.CONVERSIONS: measures.conversions,
        Measure.EARTH_LOOPS: measures.earth_loops or 0,
    }
    return tuple(values[measure] for measure in brief.measures)
