"""What the oracles take on, asserted, so that the tests never compare different problems."""

from planner.brief.records import Measure
from planner.catalogue.records import Card, Item, PortRole, Powering, Processor
from planner.contacts import DIGITAL, SPEAKER_LEVEL, Connector
from tests.oracle.instance import Instance


def assert_in_scope(instance: Instance) -> None:
    """Refuse an instance that the oracles would read otherwise than the planner, or not at all."""
    _assert_brief(instance)
    _assert_gear(instance)
    _assert_ports(instance)
    _assert_leads(instance)


def _assert_brief(instance: Instance) -> None:
    brief = instance.brief
    owned = [entry.sku for entry in brief.owned]
    assert len(owned) == len(set(owned)), "each owned sku once"
    assert brief.limits.spare_outputs <= brief.limits.spare_ceiling, "spare outputs wanted are counted"
    assert Measure.PRICE in brief.measures
    for speakers in brief.loudspeakers:
        assert speakers.candidates, "no choice of loudspeakers by target level"
        assert all(placement.position is not None for placement in speakers.placements)
        assert all(not placement.channel.startswith("LFE") for placement in speakers.placements)
    for subs in brief.subwoofers:
        assert subs.channel in ("LFE1", "LFE2")
        assert 0 <= subs.least <= subs.most <= len(subs.positions)


def _assert_gear(instance: Instance) -> None:
    catalogue, brief = instance.catalogue, instance.brief
    light: list[Item] = [
        *catalogue.cards,
        *catalogue.leads,
        *catalogue.adapters,
        *catalogue.splitters,
        *catalogue.bulk_cables,
        *catalogue.connectors,
    ]
    must = {entry.sku for entry in brief.owned if entry.must_use}
    assert not must & {item.sku for item in light}, "only devices that carry a signal must be used"
    assert all(card.slots >= 1 for card in catalogue.cards)
    for amplifier in catalogue.amplifiers:
        groups = catalogue.ports[amplifier.sku]
        assert all(group.count >= amplifier.channels for group in groups), "a jack a channel, as the reader demands"
    for sub in catalogue.subwoofers:
        assert sub.powering is not Powering.CROSSED, "no crossed subwoofer"
        assert sub.powering is Powering.ACTIVE or not catalogue.links(sub.sku), "no link from a passive subwoofer"
    for speaker in catalogue.loudspeakers:
        if speaker.powering is Powering.CROSSED:
            assert len(catalogue.inputs(speaker.sku)) == speaker.ways, "one group of terminals a way"
    for unit in catalogue.dsp_units:
        if unit.outputs_per_input is not None:
            assert len(catalogue.inputs(unit.sku)) == len(catalogue.outputs(unit.sku)) == 1
    house = instance.house
    assert (house.margin_percent is None) != (house.markup_percent is None)


def _assert_ports(instance: Instance) -> None:
    catalogue = instance.catalogue
    devices: tuple[Processor | Card, ...] = (*catalogue.processors, *catalogue.cards)
    for device in devices:
        for group in catalogue.outputs(device.sku):
            assert group.role is not PortRole.PLAIN, "a processor's outputs have roles"
            if group.role is PortRole.FIXED_MAIN:
                assert len(group.channels) == group.count, "a fixed output a channel"
                assert len(set(group.channels)) == group.count
            if group.role in (PortRole.FIXED_SUB, PortRole.MIRRORED_SUB):
                assert not group.channels
                assert group.connector not in SPEAKER_LEVEL, "no speaker-level bass outputs of a role of their own"
    for unit in catalogue.dsp_units:
        assert all(group.role is PortRole.PLAIN for group in catalogue.outputs(unit.sku))
    for sub in catalogue.subwoofers:
        assert all(group.connector not in SPEAKER_LEVEL for group in catalogue.links(sub.sku))


def _assert_leads(instance: Instance) -> None:
    catalogue, brief = instance.catalogue, instance.brief
    for part in catalogue.connectors:
        assert part.contact.connector not in {Connector.BINDING_POST, Connector.BARE}, "a clamp takes a bare tail"
    for splitter in catalogue.splitters:
        assert splitter.legs >= 2
        assert splitter.input.connector not in DIGITAL | SPEAKER_LEVEL
        assert splitter.leg.connector not in DIGITAL | SPEAKER_LEVEL
    assert brief.limits.largest_split >= 1
