"""Gear left out, and gear that is to be used, as requirements."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from planner.brief.records import Brief
from planner.requirements.requirement import Requirement, Sacrifice


def of_exclusion(brief: Brief) -> Iterator[Requirement]:
    """Each article left out."""
    for sku in brief.excluded:
        yield Requirement(f"{sku} is excluded", partial(_allow, sku=sku), Sacrifice.FITTING, f"{sku} may be used")


def of_use(brief: Brief) -> Iterator[Requirement]:
    """All of each owned article that must be used."""
    for entry in brief.owned:
        if entry.must_use:
            sentence = f"all {entry.count} of the owned {entry.sku} are used"
            change = partial(_may_use, sku=entry.sku)
            yield Requirement(sentence, change, Sacrifice.FITTING, f"the owned {entry.sku} may stand idle")


def _allow(brief: Brief, *, sku: str) -> Brief:
    return replace(brief, excluded=tuple(s for s in brief.excluded if s != sku))


def _may_use(brief: Brief, *, sku: str) -> Brief:
    return replace(brief, owned=tuple(replace(o, must_use=o.must_use and o.sku != sku) for o in brief.owned))
