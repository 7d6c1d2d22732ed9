"""The requirements of a brief one by one: each in the brief's words, and how to do without it."""

from planner.brief.records import Brief
from planner.requirements.of_gear import of_exclusion, of_use
from planner.requirements.of_limits import of_limits
from planner.requirements.of_sets import of_loads, of_models
from planner.requirements.requirement import Looser, Requirement, Sacrifice

__all__ = ["Looser", "Requirement", "Sacrifice", "requirements"]


def requirements(brief: Brief) -> tuple[Requirement, ...]:
    """All requirements that a brief really makes: limits, gear left out, models, loads, gear to be used.

    Use comes last because it hangs on the loads: what is there for a loudspeaker cannot be
    used without it.
    """
    return (*of_limits(brief), *of_exclusion(brief), *of_models(brief), *of_loads(brief), *of_use(brief))
