"""Answers to hand-made briefs, read the way a person counts: prices in euros, who feeds whom."""

from collections.abc import Iterable

from planner.brief.records import Brief, Measure
from planner.catalogue.records import PortRole
from planner.design import Connection, UnitKind
from planner.options import Option, Status
from planner.plan import options
from tests.demand.shop import HOUSE, XLR, XLR_PINS, XLR_SOCKET, Shop, ins, outs

PRICE_ONLY = (Measure.PRICE,)


def answer(found: Brief, sold: Shop) -> tuple[Option, ...]:
    """The proven options; the verifier has confirmed each, or the pipeline would have stopped."""
    result = options(found, sold.catalogue(), HOUSE)
    assert result.status is Status.PROVEN, result.conflict
    return result.options


def cheapest(found: Brief, sold: Shop) -> Option:
    """The cheapest option."""
    return answer(found, sold)[0]


def impossible(found: Brief, sold: Shop) -> tuple[str, ...]:
    """The conflict of a brief that has no design."""
    result = options(found, sold.catalogue(), HOUSE)
    assert result.status is Status.INFEASIBLE
    return result.conflict


def euros(option: Option) -> float:
    """The price in euros."""
    return option.measures.price_minor / 100


def prices(found: Iterable[Option]) -> list[float]:
    """The prices in euros, in the order of the options."""
    return [euros(option) for option in found]


def skus(option: Option, kind: UnitKind) -> list[str]:
    """The units of one kind, by sku."""
    return sorted(unit.sku for unit in option.design.units if unit.kind is kind)


def feeding(option: Option, kind: UnitKind) -> list[Connection]:
    """The connections that end at units of one kind."""
    of_kind = {unit.id for unit in option.design.units if unit.kind is kind}
    return [c for c in option.design.connections if c.sink.unit in of_kind]


def links(option: Option) -> set[tuple[str, str]]:
    """(from, to) of every connection, as text."""
    return {(str(c.source), str(c.sink)) for c in option.design.connections}


def shop(outputs: int, **terms: object) -> Shop:
    """A processor of 1000 with assignable outputs, loudspeakers of 200, subwoofers of 300, leads of 10; all XLR."""
    found = Shop()
    found.processor("P", 1000, outs("A", XLR, outputs, PortRole.ASSIGNABLE), **terms)
    found.speaker("L", 200, ins("IN", XLR))
    found.sub("S", 300, ins("IN", XLR))
    found.lead("W", 10, XLR_SOCKET, XLR_PINS, 10.0)
    return found


def splitters(found: Shop, price: float = 20) -> Shop:
    found.splitter("Y", price, XLR_SOCKET, XLR_PINS, balanced=True)
    return found
