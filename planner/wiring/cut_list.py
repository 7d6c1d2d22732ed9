"""What is cut from what: tails from made leads cut in half, and lengths from bulk cable.

A lead cut in half gives one tail of each of its ends. The design says which lead, and which end
of it, each tail comes from; leads of one kind and length are alike, so with `a` tails of one end
and `b` of the other, max(a, b) leads are the fewest that give them all, and that many are cut.
They are those that the bill buys, or that the client has. Whether a spare half of another kind of
lead could save one of them is told by `planner.wiring.spare_halves`.

Bulk cable is bought in whole steps for each lead. The steps of one lead lie together.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from planner.catalogue.records import BulkCable, Catalogue, Item, Lead
from planner.contacts import Contact
from planner.design import Connection, Design, LeadMethod
from planner.errors import PlannerBug
from planner.wiring.labels import lead_marks


@dataclass(frozen=True, kw_only=True, slots=True)
class Tail:
    """One half of a cut lead: the plug that it keeps, its length, and the mark of the lead that it becomes.

    `mark` of None: a spare, `wanted_m` is then 0. Cut back what is longer than wanted only once
    the lead is laid.
    """

    plug: Contact
    half_m: float
    wanted_m: float = 0.0
    mark: str | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class CutLead:
    """One made lead that is cut in half. `number` counts those of its sku, from 1.

    `balanced`: two cores and a shield, as in `Lead`.
    """

    sku: str
    name: str
    number: int
    length_m: float
    balanced: bool
    end_a: Tail
    end_b: Tail

    @property
    def spares(self) -> int:
        """How many of its tails nobody needs."""
        return sum(tail.mark is None for tail in (self.end_a, self.end_b))


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """One length of bulk cable: the mark of its lead, the length wanted, and what is sold for it."""

    mark: str
    wanted_m: float
    steps: int
    sold_m: float


@dataclass(frozen=True, kw_only=True, slots=True)
class CableCuts:
    """All lengths of one bulk cable, in the order of the marks."""

    sku: str
    name: str
    step_m: float
    pieces: tuple[Piece, ...]

    @property
    def steps(self) -> int:
        """How many steps are taken, as many as the bill has."""
        return sum(piece.steps for piece in self.pieces)

    @property
    def sold_m(self) -> float:
        """The length sold."""
        return self.steps * self.step_m

    @property
    def left_m(self) -> float:
        """What is left over, to the centimetre."""
        return round(self.sold_m - sum(piece.wanted_m for piece in self.pieces), 2)


@dataclass(frozen=True, kw_only=True, slots=True)
class CutList:
    """Everything that is cut for one design: leads by sku and number, cables by sku."""

    leads: tuple[CutLead, ...]
    cables: tuple[CableCuts, ...]


def cut_list(design: Design, catalogue: Catalogue) -> CutList:
    """What is cut for a valid design. Raises PlannerBug where it refers to what the catalogue has not."""
    items = {item.sku: item for item in catalogue.items()}
    marked = [(mark, connection) for connection, mark in lead_marks(design).items()]
    return CutList(leads=tuple(_leads(marked, items)), cables=tuple(_cables(marked, items)))


def _leads(marked: Sequence[tuple[str, Connection]], items: dict[str, Item]) -> list[CutLead]:
    ends: dict[str, dict[str, list[tuple[str, Connection]]]] = defaultdict(lambda: {"a": [], "b": []})
    for mark, connection in marked:
        if connection.lead.method is LeadMethod.CUT:
            ends[connection.lead.parts[0].sku][connection.lead.cut_end or "a"].append((mark, connection))
    found = []
    for sku, tails in sorted(ends.items()):
        lead = items.get(sku)
        if not isinstance(lead, Lead):
            raise PlannerBug(f"{sku} is cut, and is no lead")
        pairs = zip_longest(tails["a"], tails["b"])
        found += [_cut(lead, number, *pair) for number, pair in enumerate(pairs, start=1)]
    return found


def _cut(lead: Lead, number: int, at_a: tuple[str, Connection] | None, at_b: tuple[str, Connection] | None) -> CutLead:
    return CutLead(
        sku=lead.sku,
        name=lead.name,
        number=number,
        length_m=lead.length_m,
        balanced=lead.balanced,
        end_a=_tail(lead.end_a, lead, at_a),
        end_b=_tail(lead.end_b, lead, at_b),
    )


def _tail(plug: Contact, lead: Lead, use: tuple[str, Connection] | None) -> Tail:
    if use is None:
        return Tail(plug=plug, half_m=lead.length_m / 2)
    mark, connection = use
    return Tail(plug=plug, half_m=lead.length_m / 2, wanted_m=connection.lead.length_m, mark=mark)


def _cables(marked: Sequence[tuple[str, Connection]], items: dict[str, Item]) -> list[CableCuts]:
    pieces: dict[str, list[Piece]] = defaultdict(list)
    cables: dict[str, BulkCable] = {}
    for mark, connection in marked:
        for part in connection.lead.parts:
            cable = items.get(part.sku)
            if isinstance(cable, BulkCable):
                cables[cable.sku] = cable
                pieces[cable.sku].append(
                    Piece(
                        mark=mark,
                        wanted_m=connection.lead.length_m,
                        steps=part.count,
                        sold_m=part.count * cable.step_m,
                    )
                )
    return [
        CableCuts(sku=sku, name=cable.name, step_m=cable.step_m, pieces=tuple(pieces[sku]))
        for sku, cable in sorted(cables.items())
    ]
