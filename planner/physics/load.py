"""R14: what each amplifier channel has to drive, against the least load that it may.

A least load is taken for a nominal impedance, as amplifiers are rated; all feeds of one channel
in parallel are held against it. A loudspeaker's impedance dips below its nominal one: down to
80 % of it by IEC 60268-5 (from memory, not read). So a dip below 80 % of the least load is deeper
than a nominal load of that size may have, and is told apart from the limit itself. Nothing is
bridged in any design, so that the limits of bridged channels never apply.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.brief.records import Limits, PhysicalLimit
from planner.design import Figure, FigureUnit, Finding, Place, Severity
from planner.physics.amplifier_channels import AmplifierChannel
from planner.physics.findings import devices, named, note, over_limit

DEEPEST_DIP = 0.8
"""The least impedance of a loudspeaker over its nominal one (IEC 60268-5, from memory)."""

_SLIVER = 1e-9


@dataclass(frozen=True, kw_only=True, slots=True)
class ChannelLoad:
    """One amplifier channel: what hangs on it, nominally and at the dip, and the least that may.

    None: the catalogue does not say. Without a nominal impedance the least one stands in.
    """

    channel: str
    device: str
    drives: tuple[str, ...]
    nominal_ohm: float | None
    least_ohm: float | None
    least_load_ohm: float | None

    @property
    def too_low(self) -> bool:
        """Whether the nominal load is below what the channel may drive."""
        load_ohm = self.nominal_ohm or self.least_ohm
        return _below(load_ohm, self.least_load_ohm)

    @property
    def dips_too_low(self) -> bool:
        """Whether a load that is high enough nominally dips deeper than such a load may."""
        return not self.too_low and _below((self.least_ohm or 0.0) / DEEPEST_DIP or None, self.least_load_ohm)


def channel_loads(channels: Sequence[AmplifierChannel]) -> tuple[ChannelLoad, ...]:
    """The load of every channel that drives something."""
    return tuple(
        ChannelLoad(
            channel=channel.name,
            device=channel.device,
            drives=tuple(feed.unit for feed in channel.feeds),
            nominal_ohm=channel.nominal_ohm,
            least_ohm=channel.least_ohm,
            least_load_ohm=channel.least_load_ohm,
        )
        for channel in channels
    )


def load_findings(loads: Sequence[ChannelLoad], limits: Limits) -> tuple[Finding, ...]:
    """What R14 has to say: channels of one device that are alike are named together."""
    held = PhysicalLimit.LOAD in limits.physical
    alike: dict[tuple[str, float | None, float | None], list[ChannelLoad]] = {}
    for load in loads:
        alike.setdefault((load.device, load.nominal_ohm, load.least_ohm), []).append(load)
    return tuple(finding for group in alike.values() for finding in _of_alike(group, held))


def _of_alike(group: list[ChannelLoad], held: bool) -> Iterator[Finding]:
    load = group[0]
    drives = named(name for each in group for name in each.drives)
    load_ohm = load.nominal_ohm or load.least_ohm
    if load_ohm is None or load.least_load_ohm is None:
        lacking = f"the impedance of {drives}" if load_ohm is None else f"the least load of {load.device}"
        yield note("R14", load.device, f"The catalogue does not give {lacking}: the load is not checked.")
    elif load.too_low:
        together = " together" if len(load.drives) > 1 else ""
        yield over_limit(
            Finding(
                rule="R14",
                severity=Severity.CONCERN,
                subject=load.device,
                heading="Load too low",
                detail=(
                    f"A load of {load_ohm:.3g} ohm ({drives}{together}): a channel of {load.device} may drive no less"
                    f" than {load.least_load_ohm:g} ohm."
                ),
                figures=(Figure(of="load", value=load_ohm, unit=FigureUnit.OHM, limit=load.least_load_ohm),),
                places=_where(group),
                remedies=("an amplifier for that load", "a loudspeaker of higher impedance"),
            ),
            held=held,
        )
    elif load.dips_too_low and load.least_ohm is not None:
        expected_ohm = DEEPEST_DIP * load.least_load_ohm
        yield Finding(
            rule="R14",
            severity=Severity.CONCERN,
            subject=load.device,
            heading="Load dips lower than expected",
            detail=(
                f"A load that dips to {load.least_ohm:.3g} ohm ({drives}): {load.device} may drive"
                f" {load.least_load_ohm:g} ohm, which is expected to dip to {expected_ohm:.3g} ohm and no lower."
            ),
            figures=(Figure(of="least load", value=load.least_ohm, unit=FigureUnit.OHM, limit=expected_ohm),),
            places=_where(group),
            remedies=("ask the amplifier's maker", "an amplifier for a lower load"),
        )


def _where(group: list[ChannelLoad]) -> tuple[Place, ...]:
    """The amplifier and what hangs on it."""
    return devices([group[0].device, *(name for each in group for name in each.drives)])


def _below(load_ohm: float | None, limit_ohm: float | None) -> bool:
    return load_ohm is not None and limit_ohm is not None and load_ohm < limit_ohm * (1 - _SLIVER)
