"""Daisy chains that levels tell apart: by what each output of the brief can drive of them (R11, M8)."""

from collections.abc import Iterable
from dataclasses import dataclass

from planner.demand.flows import Chain
from planner.demand.kinds import Kinds
from planner.demand.line_reach import Steps
from planner.demand.loads import LoadSet


@dataclass(frozen=True, slots=True)
class Strain:
    """Chains alike in what can drive them. Number 0: whatever drives the head alone drives them all.

    `head` is the set and the model of the head, `steps` the links of one of the chains.
    """

    number: int
    head: tuple[str, str] = ("", "")
    steps: Steps = ()


NO_STRAIN = Strain(0)


class Strains:
    """Numbers the strains of one brief in the order in which its chains are met."""

    def __init__(self, sets: Iterable[LoadSet], kinds: Kinds) -> None:
        self._heads = {(load.name, model.sku): model.line for load in sets if load.bass for model in load.models}
        self._kinds = kinds
        self._strains: dict[object, Strain] = {}

    def of(self, chain: Chain) -> Strain:
        """The strain of a chain."""
        head = chain.members[0][:2]
        row = self._kinds.chain_row(self._heads[head], chain.steps)
        if row is None:
            return NO_STRAIN
        return self._strains.setdefault((head, row), Strain(len(self._strains) + 1, head, chain.steps))

    def number(self, chain: Chain) -> int:
        """The number of a chain's strain."""
        return self.of(chain).number
