"""Names the devices of a design."""

from collections import Counter

from planner.assembly.members import MemberKey
from planner.demand.build import Demand
from planner.demand.counts import Counts
from planner.demand.gear import ProcessorChoice
from planner.design import Unit, UnitKind


def processor_units(choice: ProcessorChoice) -> list[Unit]:
    """The processor, then its cards."""
    processor = Unit(id="Processor", sku=choice.sku, kind=UnitKind.PROCESSOR)
    cards = [
        Unit(id=f"Card {number}", sku=sku, kind=UnitKind.CARD, host=processor.id)
        for number, sku in enumerate(choice.cards, start=1)
    ]
    return [processor, *cards]


def load_units(demand: Demand, counts: Counts) -> dict[MemberKey, Unit]:
    """Loudspeakers by their channel, subwoofers by number, in the brief's order."""
    units: dict[MemberKey, Unit] = {}
    used: Counter[str] = Counter()
    model = {(set_name, index): sku for set_name, sku, index in counts.present}
    for load in demand.sets:
        for member in load.members:
            sku = model.get((load.name, member.index))
            if sku is None:
                continue
            stem = "Sub" if load.bass else member.channel
            used[stem] += 1
            name = f"{stem} {used[stem]}" if load.bass or used[stem] > 1 else stem
            units[load.name, sku, member.index] = Unit(
                id=name,
                sku=sku,
                kind=UnitKind.SUBWOOFER if load.bass else UnitKind.LOUDSPEAKER,
                member=(load.name, member.index),
            )
    return units
