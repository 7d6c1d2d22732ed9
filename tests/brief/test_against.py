"""A brief held against a catalogue: unknown skus, wrong kinds of gear, a currency without a rate."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from planner.brief import parse_brief
from planner.brief.against import brief_faults
from planner.catalogue.records import Amplifier, Catalogue, Loudspeaker, Powering, Processor, Subwoofer
from planner.catalogue.records import Controls as ControlsOf
from planner.house import House, Rate
from tests.brief.example import SMALL, documented

CONTROLS = ControlsOf(gain=True, polarity=True, max_delay_ms=20, filters=10, crossover_ways=1)
CATALOGUE = Catalogue(
    processors=(Processor(sku="PROC-X", name="", rendered_channels=16, processed_outputs=16, controls=CONTROLS),),
    amplifiers=(Amplifier(sku="AMP-1", name="", channels=4, power_8ohm_w=100),),
    loudspeakers=(Loudspeaker(sku="LS-1", name="", powering=Powering.PASSIVE),),
    subwoofers=tuple(
        Subwoofer(sku=sku, name="", powering=Powering.ACTIVE, low_corner_hz=20) for sku in ("SUB-1", "SUB-2")
    ),
)
HOUSE = House(name="", currency="EUR", rates={"USD": Rate(per_house_unit=Decimal("1.1"), dated=date(2026, 3, 2))})
BRIEF = parse_brief(documented())


def test_a_brief_whose_gear_is_all_in_the_catalogue_has_no_fault() -> None:
    assert brief_faults(BRIEF, CATALOGUE, HOUSE) == ()


def test_every_unknown_or_misplaced_sku_is_told() -> None:
    front, around = BRIEF.loudspeakers
    brief = replace(
        BRIEF,
        excluded=("PROC-Y", "SUB-2"),
        loudspeakers=(replace(front, candidates=("LS-l",)), replace(around, candidates=("LS-1", "SUB-1"))),
        subwoofers=(replace(BRIEF.subwoofers[0], candidates=("LS-1",)),),
        owned=(replace(BRIEF.owned[0], sku="entirely different"),),
    )
    assert [str(fault) for fault in brief_faults(brief, CATALOGUE, name="villa.toml")] == [
        'villa.toml excluded[0]: found "PROC-Y"; expected a sku of the catalogue. Did you mean PROC-X?',
        'villa.toml loudspeakers[0].model: found "LS-l"; expected a loudspeaker of the catalogue. Did you mean LS-1?',
        'villa.toml loudspeakers[1].candidates[1]: found "SUB-1", which is a subwoofer; expected a loudspeaker of the '
        "catalogue. Name a loudspeaker here.",
        'villa.toml subwoofers[0].model: found "LS-1", which is a loudspeaker; expected a subwoofer of the catalogue. '
        "Name a subwoofer here.",
        'villa.toml owned[0].sku: found "entirely different"; expected a sku of the catalogue. '
        "Correct the sku, or add the gear to the catalogue.",
    ]


@pytest.mark.parametrize(("currency", "count"), [("EUR", 0), ("USD", 0), ("CHF", 1)])
def test_the_quoting_currency_needs_a_rate(currency: str, count: int) -> None:
    brief = parse_brief(SMALL.replace("EUR", currency))
    faults = brief_faults(brief, CATALOGUE, HOUSE)
    assert len(faults) == count
    assert brief_faults(brief, CATALOGUE) == ()
    for fault in faults:
        assert str(fault) == (
            'brief.toml project.currency: found "CHF"; expected a currency with a rate: EUR, USD. '
            "Add a rate for CHF to the house settings, or quote in another currency."
        )
