"""An independent formulation of designs that buy together: the programmes of the oracle joined, put to HiGHS.

Each design is one scenario written down by `tests.oracle`; the programmes stand side by side in one,
and what each uses of every article is tied to purchases that they share.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product

from planner.brief.records import Brief
from planner.placement import member_positions
from tests.oracle.formulation import Formulation
from tests.oracle.instance import Instance
from tests.oracle.leads import Leads
from tests.oracle.linear import Programme, Sum, total
from tests.oracle.purchase import _labour
from tests.oracle.scenario import scenarios
from tests.oracle.terms import offer_price

Pieces = dict[str, Sum]


def placed(brief: Brief, subwoofers: int) -> Brief:
    """The brief as the oracle wants it: every position given, and so many subwoofers in its only set."""
    at = member_positions(brief)
    speakers = tuple(
        replace(group, placements=tuple(replace(p, position=at[group.name, n]) for n, p in enumerate(group.placements)))
        for group in brief.loudspeakers
    )
    (subs,) = brief.subwoofers
    return replace(brief, loudspeakers=speakers, subwoofers=(replace(subs, least=subwoofers, most=subwoofers),))


class _Design:
    """One scenario in a joint programme: what it uses, and its labour."""

    def __init__(self, formulation: Formulation, joint: Programme) -> None:
        offset = len(joint._uppers)
        own = formulation._c.programme.copy()
        joint._uppers += own._uppers
        joint._rows += [({v + offset: c for v, c in terms.items()}, low, high) for terms, low, high in own._rows]

        def moved(expression: Sum) -> Sum:
            return Sum({v + offset: c for v, c in expression.terms.items()}, expression.constant)

        made = formulation._made
        self.used: Pieces = {sku: moved(total(uses)) for sku, uses in made.used.items()}
        self.labour = moved(total((_labour(formulation._c, made),)))


def _designs(instances: Sequence[Instance]) -> Iterator[tuple[Programme, list[_Design]]]:
    """Every choice of a scenario for each instance, in one programme."""
    written = [
        [Formulation(instance, scenario, Leads(instance)) for scenario in scenarios(instance)] for instance in instances
    ]
    for chosen in product(*written):
        joint = Programme()
        yield joint, [_Design(formulation, joint) for formulation in chosen]


def least_for_stages(instances: Sequence[Instance], factors: Sequence[Fraction]) -> Fraction:
    """The least price before tax of all stages, each by its factor; later ones use what earlier ones bought."""
    weights = [int(factor * 10_000) for factor in factors]
    best: int | None = None
    for joint, designs in _designs(instances):
        held: dict[str, list[Sum]] = {}
        cost = Sum()
        for instance, design, weight in zip(instances, designs, weights, strict=True):
            cost += weight * design.labour
            for sku, used in design.used.items():
                pieces, price = _buy(instance, sku, joint)
                cost += weight * price
                held.setdefault(sku, []).append(pieces)
                joint.at_most(used, total(held[sku]))
        found = joint.least(cost)
        best = found if best is None or (found is not None and found < best) else best
    assert best is not None
    return Fraction(best, 10_000)


def least_for_order(instances: Sequence[Instance]) -> int:
    """The least price before tax of several rooms in one order."""
    best: int | None = None
    for joint, designs in _designs(instances):
        skus = {sku for design in designs for sku in design.used}
        cost = total(design.labour for design in designs)
        for sku in sorted(skus):
            pieces, price = _buy(instances[0], sku, joint)
            cost += price
            joint.at_most(total(design.used[sku] for design in designs if sku in design.used), pieces)
        found = joint.least(cost)
        best = found if best is None or (found is not None and found < best) else best
    assert best is not None
    return best


def _buy(instance: Instance, sku: str, joint: Programme) -> tuple[Sum, Sum]:
    """(pieces, price) of an order of one article: any of its offers, each within its terms."""
    pieces, price = Sum(), Sum()
    for offer in instance.catalogue.offers.get(sku, ()):
        count = joint.whole(offer.stock)
        if offer.least_order > 1:
            ordered = joint.binary()
            joint.at_least(count, offer.least_order * ordered)
            joint.at_most(count, 1000 * ordered)
        pieces += count
        price += offer_price(instance, offer) * count
    return pieces, price
