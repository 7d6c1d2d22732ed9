"""The demo catalogue and its briefs: without fault, wide enough to demonstrate with, and plausible.

Counts and kinds are those that the demo was ordered with; physical checks name their source.
"""

import math
from pathlib import Path

import pytest

from planner.brief import read_brief
from planner.brief.against import brief_faults
from planner.brief.records import Brief, Drive
from planner.catalogue import read_catalogue
from planner.catalogue.records import CableKind, Catalogue, Loudspeaker, OutputStage, PortRole, Powering, Subwoofer
from planner.contacts import DIGITAL, SPEAKER_LEVEL, Connector, Contact, Direction, Gender
from planner.house import House, Task
from planner.house_file import read_house
from planner.placement import placement_deviation

DEMO = Path(__file__).resolve().parent.parent / "catalogue_demo"
BRIEFS = tuple(sorted((DEMO / "briefs").glob("*.toml")))
OWNED_ONLY = {"receiver-7-old", "subwoofer-10-old"}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return read_catalogue(DEMO)


@pytest.fixture(scope="module")
def house() -> House:
    return read_house(DEMO)


def _brief(name: str) -> Brief:
    return read_brief(DEMO / "briefs" / f"{name}.toml")


def _jacks(catalogue: Catalogue, sku: str) -> int:
    """The analogue output jacks of a device."""
    return sum(p.count for p in catalogue.outputs(sku) if p.connector not in DIGITAL)


def _line_connectors(catalogue: Catalogue, sku: str, direction: Direction) -> set[Connector]:
    """The connectors of a device's analogue line inputs or outputs, link outputs left out."""
    ports = catalogue.inputs(sku) if direction is Direction.IN else catalogue.outputs(sku)
    return {p.connector for p in ports} - DIGITAL - SPEAKER_LEVEL


def _contacts(*texts: str) -> tuple[Contact, ...]:
    words = (text.split() for text in texts)
    return tuple(Contact(Connector(connector), Gender(gender)) for connector, gender in words)


# What the catalogue offers


def test_at_least_seventeen_processors_have_8_to_32_output_jacks(catalogue: Catalogue) -> None:
    within = [p for p in catalogue.processors if 8 <= _jacks(catalogue, p.sku) <= 32]
    assert len(within) >= 17


def test_processors_have_every_role_of_output(catalogue: Catalogue) -> None:
    roles = {port.role for p in catalogue.processors for port in catalogue.outputs(p.sku)}
    assert roles >= {PortRole.FIXED_MAIN, PortRole.FIXED_SUB, PortRole.MIRRORED_SUB, PortRole.ASSIGNABLE}


@pytest.mark.parametrize(
    ("jacks", "connector"),
    [
        (12, Connector.XLR),
        (16, Connector.RCA),
        (16, Connector.XLR),
        (20, Connector.XLR),
        (24, Connector.XLR),
        (32, Connector.XLR),
    ],
)
def test_processor_with_every_output_assignable(catalogue: Catalogue, jacks: int, connector: Connector) -> None:
    groups = [[g for g in catalogue.outputs(p.sku) if g.connector not in DIGITAL] for p in catalogue.processors]
    assert any(
        len(own) == 1 and own[0].role is PortRole.ASSIGNABLE and own[0].count == jacks and own[0].connector is connector
        for own in groups
    )


def test_some_processors_render_or_process_fewer_than_they_have_jacks(catalogue: Catalogue) -> None:
    assert any(p.rendered_channels < p.processed_outputs for p in catalogue.processors)
    lines = {p.sku: _jacks(catalogue, p.sku) for p in catalogue.processors if p.amp_power_8ohm_w is None}
    mirrored = {p.sku for p in catalogue.processors if _has_mirrored(catalogue, p.sku)}
    assert any(
        p.processed_outputs < lines[p.sku] for p in catalogue.processors if p.sku in lines and p.sku not in mirrored
    )


def _has_mirrored(catalogue: Catalogue, sku: str) -> bool:
    return any(g.role is PortRole.MIRRORED_SUB for g in catalogue.outputs(sku))


def test_two_processors_take_cards_that_add_xlr_outputs_or_channels(catalogue: Catalogue) -> None:
    slotted = {p.sku for p in catalogue.processors if p.card_slots}
    assert len(slotted) == 2
    assert {sku for card in catalogue.cards for sku in card.fits} == slotted
    assert any(card.adds_rendered_channels for card in catalogue.cards)
    assert any(
        card.adds_processed_outputs and _line_connectors(catalogue, card.sku, Direction.OUT) == {Connector.XLR}
        for card in catalogue.cards
    )


def test_receivers_have_internal_amplifiers_and_line_outputs(catalogue: Catalogue) -> None:
    receivers = [p for p in catalogue.processors if p.amp_power_8ohm_w is not None]
    assert len(receivers) >= 7
    for receiver in receivers:
        outputs = catalogue.outputs(receiver.sku)
        assert any(g.connector is Connector.BINDING_POST for g in outputs)
        assert _line_connectors(catalogue, receiver.sku, Direction.OUT)
    assert any(not r.controls.independent(1) for r in receivers)
    assert any(r.controls.independent(8) for r in receivers)


def test_dsp_units_of_every_kind_asked_for(catalogue: Catalogue) -> None:
    units = catalogue.dsp_units
    assert len(units) >= 11
    assert {(u.inputs, u.outputs) for u in units} >= {(1, 2), (2, 4), (2, 8), (4, 8), (8, 8)}
    assert any(u.outputs_per_input for u in units)
    assert any(not u.controls.polarity for u in units)
    ends = [tuple(_line_connectors(catalogue, u.sku, way) for way in (Direction.IN, Direction.OUT)) for u in units]
    assert ({Connector.RCA}, {Connector.XLR}) in ends
    for connector in (Connector.RCA, Connector.XLR, Connector.TERMINAL):
        assert ({connector}, {connector}) in ends


def test_amplifiers_of_1_to_16_channels_and_50_to_1000_watts(catalogue: Catalogue) -> None:
    amplifiers = catalogue.amplifiers
    assert len(amplifiers) >= 22
    assert {a.channels for a in amplifiers} == {1, 2, 3, 4, 5, 7, 8, 12, 16}
    watts = [a.power_8ohm_w for a in amplifiers]
    assert (min(watts), max(watts)) == (50, 1000)
    inputs = [_line_connectors(catalogue, a.sku, Direction.IN) for a in amplifiers]
    for connectors in ({Connector.RCA}, {Connector.XLR}, {Connector.RCA, Connector.XLR}, {Connector.TERMINAL}):
        assert connectors in inputs


def test_loudspeakers_of_every_powering(catalogue: Catalogue) -> None:
    loudspeakers = catalogue.loudspeakers
    assert len(loudspeakers) >= 18
    assert {s.powering for s in loudspeakers} == set(Powering)
    assert {s.ways for s in loudspeakers if s.powering is Powering.CROSSED} == {2, 3}
    active = [_line_connectors(catalogue, s.sku, Direction.IN) for s in loudspeakers if s.powering is Powering.ACTIVE]
    assert {Connector.RCA} in active
    assert {Connector.XLR} in active
    assert {Connector.RCA, Connector.XLR} in active


def test_ways_of_a_crossed_loudspeaker_sort_lowest_first(catalogue: Catalogue) -> None:
    crossed = [s for s in catalogue.loudspeakers if s.powering is Powering.CROSSED]
    names = {s.ways: tuple(p.name for p in catalogue.inputs(s.sku)) for s in crossed}
    assert names == {2: ("1 LOW", "2 HIGH"), 3: ("1 LOW", "2 MID", "3 HIGH")}


def test_subwoofers_of_every_input_with_and_without_link(catalogue: Catalogue) -> None:
    subwoofers = catalogue.subwoofers
    assert len(subwoofers) >= 12
    inputs = [_line_connectors(catalogue, s.sku, Direction.IN) for s in subwoofers if s.powering is Powering.ACTIVE]
    for connectors in ({Connector.RCA}, {Connector.XLR}, {Connector.RCA, Connector.XLR}):
        assert connectors in inputs
    linked = [s for s in subwoofers if catalogue.links(s.sku)]
    assert 0 < len(linked) < len(subwoofers)
    assert 1 <= sum(s.powering is Powering.PASSIVE for s in subwoofers) <= 2


@pytest.mark.parametrize(
    "ends",
    [("rca male", "rca male"), ("xlr female", "xlr male"), ("rca male", "xlr male"), ("xlr female", "rca male")],
)
def test_leads_of_each_pair_of_ends_from_half_a_metre_to_fifteen(catalogue: Catalogue, ends: tuple[str, str]) -> None:
    lengths = {lead.length_m for lead in catalogue.leads if (lead.end_a, lead.end_b) == _contacts(*ends)}
    assert {0.5, 1, 3, 5, 10, 15} <= lengths


def test_parts_that_join_leads(catalogue: Catalogue) -> None:
    splitters = {(s.input, s.leg, s.balanced) for s in catalogue.splitters}
    assert (*_contacts("rca male", "rca female"), False) in splitters
    assert (*_contacts("xlr female", "xlr male"), True) in splitters
    assert catalogue.adapters
    assert catalogue.isolators
    assert {cable.kind for cable in catalogue.bulk_cables} == set(CableKind)
    assert {part.contact for part in catalogue.connectors} >= {
        *_contacts("xlr male", "xlr female", "rca male", "speaker_4pole male")
    }


# Prices and the house


def test_everything_has_a_price_but_two_devices_that_can_only_be_owned(catalogue: Catalogue) -> None:
    assert {item.sku for item in catalogue.items()} - set(catalogue.offers) == OWNED_ONLY


def test_prices_show_several_currencies_suppliers_stocks_and_least_orders(catalogue: Catalogue) -> None:
    offers = [offer for own in catalogue.offers.values() for offer in own]
    assert {offer.currency for offer in offers} == {"EUR", "USD", "GBP"}
    assert sum(offer.currency == "EUR" for offer in offers) > len(offers) / 2
    assert sum(len(own) > 1 for own in catalogue.offers.values()) >= 5
    assert any(offer.stock is not None for offer in offers)
    assert any(offer.least_order == 10 for offer in offers)


def test_house_has_every_task_and_a_rate_for_every_currency(catalogue: Catalogue, house: House) -> None:
    assert set(house.minutes) == set(Task)
    assert {o.currency for own in catalogue.offers.values() for o in own} <= {house.currency, *house.rates}
    assert "JPY" in house.rates  # no minor unit: ISO 4217 list of 2026-01-01


# Figures that must agree with one another


def test_amplifier_gain_takes_its_sensitivity_to_its_rated_power(catalogue: Catalogue) -> None:
    """V = sqrt(P R): the definition of power in a resistance. Gains are given to 0.1 dB."""
    for amplifier in catalogue.amplifiers:
        assert amplifier.sensitivity_v is not None
        gain_db = 20 * math.log10(math.sqrt(amplifier.power_8ohm_w * 8) / amplifier.sensitivity_v)
        assert amplifier.gain_db == pytest.approx(gain_db, abs=0.051), amplifier.sku
        inputs = {p.sensitivity_v for p in catalogue.inputs(amplifier.sku)}
        assert inputs == {amplifier.sensitivity_v}, amplifier.sku


def test_noise_of_amplifiers_is_that_of_good_ones(catalogue: Catalogue) -> None:
    """100 to 116 dB below full output, unweighted in 20 kHz: common practice, no published source.

    No input can be quieter than the heat in 150 ohm, -130.9 dBu by 4 k T R B at 20 °C.
    """
    for amplifier in catalogue.amplifiers:
        assert amplifier.noise_dbu is not None
        assert amplifier.sensitivity_v is not None
        below_full_output_db = 20 * math.log10(amplifier.sensitivity_v / math.sqrt(0.6)) - amplifier.noise_dbu
        assert 100 <= below_full_output_db <= 116, amplifier.sku
        assert amplifier.noise_dbu > -130.9, amplifier.sku


def test_power_into_4_ohm_is_more_than_into_8_and_at_most_twice(catalogue: Catalogue) -> None:
    """P = V² / R: halving R at one voltage doubles P, and a real supply sags."""
    pairs = [(a.sku, a.power_8ohm_w, a.power_4ohm_w) for a in catalogue.amplifiers]
    pairs += [(p.sku, p.amp_power_8ohm_w, p.amp_power_4ohm_w) for p in catalogue.processors if p.amp_power_8ohm_w]
    for sku, at_8, at_4 in pairs:
        assert at_8 is not None
        assert at_4 is not None
        assert at_8 < at_4 <= 2 * at_8, sku


def test_unbalanced_outputs_of_processors_are_of_consumer_level(catalogue: Catalogue) -> None:
    """2 V rms is +8.24 dBu (0 dBu = sqrt(0.6) V). That consumer outputs give 2 to 4 V is common practice, no source."""
    for processor in catalogue.processors:
        for port in catalogue.outputs(processor.sku):
            if port.output_stage is OutputStage.UNBALANCED:
                assert port.max_level_dbu is not None
                assert 1.9 < math.sqrt(0.6) * 10 ** (port.max_level_dbu / 20) < 4.0, (processor.sku, port.name)


def test_least_impedance_of_loudspeakers_is_below_the_rated_one(catalogue: Catalogue) -> None:
    """IEC 60268-5 lets it fall to 0.8 of the rated (from memory); common loudspeakers go lower, to about a half."""
    gear: list[Loudspeaker | Subwoofer] = [*catalogue.loudspeakers, *catalogue.subwoofers]
    for item in gear:
        if item.impedance_ohm is not None:
            assert item.least_impedance_ohm is not None
            assert 0.5 <= item.least_impedance_ohm / item.impedance_ohm < 1, item.sku


# Briefs


def test_there_are_eight_briefs_and_seven_of_the_physics() -> None:
    about_limits = [path.stem for path in BRIEFS if path.stem.startswith("limit-") or "four-ohm" in path.stem]
    assert len(about_limits) == 7
    assert len(BRIEFS) == 8 + len(about_limits)


@pytest.mark.parametrize("path", BRIEFS, ids=lambda path: path.stem)
def test_brief_reads_and_names_only_gear_of_the_catalogue(path: Path, catalogue: Catalogue, house: House) -> None:
    assert brief_faults(read_brief(path), catalogue, house, path.name) == ()


@pytest.mark.parametrize("path", BRIEFS, ids=lambda path: path.stem)
def test_brief_says_that_it_is_invented(path: Path) -> None:
    assert path.read_text(encoding="utf-8").startswith("# Invented brief")


@pytest.mark.parametrize("path", BRIEFS, ids=lambda path: path.stem)
def test_loudspeakers_stand_within_the_ranges_of_the_layout(path: Path) -> None:
    """Ranges: ITU-R BS.2051-3, Tables 3 to 12, as `planner.layouts` holds them."""
    outside = [placed for placed in placement_deviation(read_brief(path)) if not placed.within]
    assert outside == []


def test_main_demo_has_eight_seats_in_two_rows_and_subwoofers_that_share_no_connector(catalogue: Catalogue) -> None:
    brief = _brief("cinema-7-1-4-four-mixed-subs")
    assert len(brief.seats) == 8
    assert len({seat.position.x_m for seat in brief.seats}) == 2
    assert _mains(brief) == 11
    inputs = [
        (group.most, *(_line_connectors(catalogue, sku, Direction.IN) for sku in group.candidates))
        for group in brief.subwoofers
    ]
    assert inputs == [(2, {Connector.XLR}), (2, {Connector.RCA})]


def _mains(brief: Brief) -> int:
    return sum(len(group.placements) for group in brief.loudspeakers)


def test_one_output_short_needs_seventeen_outputs_and_allows_every_drive(catalogue: Catalogue) -> None:
    brief = _brief("sixteen-outputs-one-short")
    (subwoofers,) = brief.subwoofers
    assert _mains(brief) + subwoofers.least == 17
    assert brief.limits.drives == frozenset(Drive)
    links = [bool(catalogue.links(sku)) for sku in subwoofers.candidates]
    assert sorted(links) == [False, True]
    assert not brief.owned


def test_reference_brief_has_three_way_fronts_and_a_range_of_subwoofers(catalogue: Catalogue) -> None:
    brief = _brief("reference-9-1-6-crossed-fronts")
    front = next(s for s in catalogue.loudspeakers if s.sku in brief.loudspeakers[0].candidates)
    assert (front.powering, front.ways) == (Powering.CROSSED, 3)
    assert [(group.least, group.most) for group in brief.subwoofers] == [(2, 4)]


def test_upgrade_needs_the_owned_power_amplifier_beside_the_old_receiver(catalogue: Catalogue) -> None:
    """The old receiver has the passive front pair at line level only."""
    brief = _brief("upgrade-around-owned-gear")
    owned = {entry.sku for entry in brief.owned}
    assert owned >= OWNED_ONLY
    assert brief.excluded
    assert brief.later
    assert any(a.sku in owned for a in catalogue.amplifiers)
    (receiver,) = (p for p in catalogue.processors if p.sku in owned)
    amplified = {c for g in catalogue.outputs(receiver.sku) if g.connector in SPEAKER_LEVEL for c in g.channels}
    front = brief.loudspeakers[0]
    assert {placement.channel for placement in front.placements} == {"M+030", "M-030"}
    assert amplified.isdisjoint({"M+030", "M-030"})


def test_impossible_brief_asks_for_balanced_lines_to_unbalanced_subwoofers(catalogue: Catalogue) -> None:
    brief = _brief("impossible-balanced-with-rca-subs")
    (subwoofers,) = brief.subwoofers
    (sku,) = subwoofers.candidates
    assert brief.limits.balanced_only
    assert _line_connectors(catalogue, sku, Direction.IN) == {Connector.RCA}


def test_smallest_briefs_have_one_subwoofer_and_none() -> None:
    assert [group.most for group in _brief("stereo-one-sub").subwoofers] == [1]
    assert _brief("desk-no-subwoofer").subwoofers == ()
