"""R18, the order: what is used is owned or bought, from an offer that sells so many, at its price."""

from collections import Counter
from collections.abc import Iterator

from planner.checks.case import Case
from planner.checks.findings import broken, counted
from planner.checks.known import OWNED
from planner.checks.measures import passes_a_signal_on
from planner.checks.prices import shown
from planner.checks.usage import Usage
from planner.checks.view import RENDERERS
from planner.design import Finding, Purchase


def enough_bought(case: Case, usage: Usage) -> Iterator[Finding]:
    """R18: what is used is covered by what is owned and bought. R3: so are the tails of cut leads."""
    had: Counter[str] = Counter()
    for purchase in case.design.purchases:
        had[purchase.sku] += purchase.count
    for sku in usage.skus:
        wanted = usage.of(sku)
        if had[sku] >= wanted:
            continue
        yield broken("R18", sku, f"{counted(wanted, 'piece')} of {sku} used; {had[sku]} owned or bought.")
        if sku in usage.tails:
            a, b = usage.tails[sku]
            yield broken(
                "R3",
                sku,
                f"{counted(a, 'tail')} of end A and {b} of end B are cut from {sku}; "
                f"with those used whole that takes {wanted} leads, and {had[sku]} are had.",
            )


def owned_first(case: Case, usage: Usage) -> Iterator[Finding]:
    """R18: owned gear is listed for what is used of it, at no price; what must be used is."""
    listed: Counter[str] = Counter()
    for purchase in case.design.purchases:
        if purchase.supplier != OWNED:
            continue
        listed[purchase.sku] += purchase.count
        if purchase.unit_price_minor != 0:
            price = shown(purchase.unit_price_minor, case.known.currency)
            yield broken("R18", purchase.sku, f"{purchase.sku} is owned, but charged at {price}.")
    for sku in sorted({*listed, *case.known.owned}):
        due = min(usage.of(sku), case.known.owned[sku])
        if listed[sku] != due:
            yield broken(
                "R18",
                sku,
                f"{sku}: {listed[sku]} listed as owned; the client has {case.known.owned[sku]} "
                f"and the design uses {usage.of(sku)}.",
            )


def owned_put_to_use(case: Case, usage: Usage) -> Iterator[Finding]:
    """R18: every piece of gear that must be used carries a signal, or is part of a lead."""
    if not any(case.known.must_use.values()):
        return
    working = passes_a_signal_on(case)
    idle = Counter(
        unit.sku
        for unit in case.design.units
        if unit.id not in working and unit.kind not in RENDERERS
    )  # fmt: skip
    for sku, wanted in case.known.must_use.items():
        used = usage.of(sku) - idle[sku]
        if used < wanted:
            yield broken("R18", sku, f"{sku} must be used: the client has {wanted}, the design uses {max(0, used)}.")


def offers_hold(case: Case) -> Iterator[Finding]:
    """R18: every purchase names an offer, keeps to its stock and least order, and has its price."""
    bought: Counter[tuple[str, str]] = Counter()
    for purchase in case.design.purchases:
        if purchase.count < 1:
            yield broken(
                "R18", purchase.sku, f"{purchase.sku} is listed {purchase.count} times; a line is of one at least."
            )
        if purchase.supplier != OWNED:
            bought[purchase.sku, purchase.supplier] += purchase.count
            yield from _right_price(case, purchase)
    for (sku, supplier), count in bought.items():
        for offer, _ in case.known.priced_offers(sku, supplier)[:1]:
            if offer.stock is not None and count > offer.stock:
                yield broken("R18", sku, f"{supplier} has {offer.stock} of {sku}; {count} to be bought.")
            if 0 < count < offer.least_order:
                least = offer.least_order
                yield broken("R18", sku, f"{supplier} sells {least} of {sku} at least; {count} to be bought.")


def _right_price(case: Case, purchase: Purchase) -> Iterator[Finding]:
    offers = case.known.priced_offers(purchase.sku, purchase.supplier)
    prices = [price for _, price in offers]
    if not offers:
        yield broken("R18", purchase.sku, f"{purchase.supplier} does not offer {purchase.sku}.")
    elif None in prices:
        currency = offers[0][0].currency
        yield broken(
            "R18",
            purchase.sku,
            f"{purchase.sku} cannot be priced: {currency} has no exchange rate, or the margin leaves none.",
        )
    elif purchase.unit_price_minor not in prices:
        stated = shown(purchase.unit_price_minor, case.known.currency)
        right = " or ".join(shown(price, case.known.currency) for price in prices if price is not None)
        yield broken("R18", purchase.sku, f"{purchase.sku} is charged at {stated}; the offer comes to {right}.")


def nothing_excluded(case: Case, usage: Usage) -> Iterator[Finding]:
    """R18: gear that the brief excludes occurs nowhere."""
    occurring = {*usage.skus, *(purchase.sku for purchase in case.design.purchases)}
    for sku in case.known.brief.excluded:
        if sku in occurring:
            yield broken("R18", sku, f"{sku} is excluded by the brief, but the design has it.")
