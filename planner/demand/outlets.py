"""Where a signal can leave a device, seen alike where it is alike."""

from dataclasses import dataclass
from enum import StrEnum

from planner.catalogue.records import Controls, PortGroup, PortRole
from planner.channels import is_bass
from planner.contacts import DIGITAL, SPEAKER_LEVEL
from planner.demand.kinds import Kinds
from planner.demand.leads import Kind


class Carries(StrEnum):
    """What an outlet may carry: any channel, bass only, or the channels listed."""

    ANY = "any"
    BASS = "bass"
    LISTED = "listed"


@dataclass(frozen=True, kw_only=True, slots=True, order=True)
class Outlet:
    """A run of output jacks between which nothing in this brief distinguishes.

    Two port groups, of one device or of two, are the same outlet if everything here agrees.
    `listed` holds only channels of the brief. `jacks` counts the jacks of one signal: more
    than one where they are mirrored. `fixed`: each listed channel has one jack of its own.
    `others` is the number of listed channels that the brief does not use (they bound what a
    spare jack is worth), None where any channel will do. `ordinal` tells groups apart that
    look alike on one device but have such a bound each.
    """

    kind: Kind
    speaker: bool
    carries: Carries
    listed: tuple[str, ...] = ()
    fixed: bool = False
    jacks: int = 1
    capable: bool = False
    crossover_ways: int = 1
    others: int | None = None
    ordinal: int = 0

    def may_carry(self, channel: str) -> bool:
        """Whether its role allows this channel (rule R4)."""
        match self.carries:
            case Carries.ANY:
                return True
            case Carries.BASS:
                return is_bass(channel)
            case Carries.LISTED:
                return channel in self.listed


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """What of an outlet this brief can tell apart; the rest is left out, so that more is alike."""

    kinds: Kinds
    channels: frozenset[str]
    filters_wanted: int
    most_ways: int
    most_spare: int

    def outlet(self, group: PortGroup, controls: Controls) -> Outlet | None:
        """The outlet that an output port group is; None for a digital one, which no design uses."""
        if group.connector in DIGITAL:
            return None
        carries = _carries(group)
        fixed = group.role is PortRole.FIXED_MAIN
        known = [c for c in group.channels if c in self.channels]
        listed = tuple(known if fixed else sorted(known)) if carries is Carries.LISTED else ()
        bass = carries is not Carries.LISTED or any(is_bass(c) for c in listed)
        others = len(set(group.channels) - self.channels) if carries is Carries.LISTED else None
        return Outlet(
            kind=self.kinds.of(group),
            speaker=group.connector in SPEAKER_LEVEL,
            carries=carries,
            listed=listed,
            fixed=fixed,
            jacks=group.count if group.role is PortRole.MIRRORED_SUB else 1,
            capable=bass and controls.independent(self.filters_wanted),
            crossover_ways=1 if fixed else min(controls.crossover_ways, self.most_ways),
            others=None if others is None else min(others, self.most_spare),
        )


def signals_of(group: PortGroup) -> int:
    """How many signals a port group can carry at once."""
    return 1 if group.role is PortRole.MIRRORED_SUB else group.count


def _carries(group: PortGroup) -> Carries:
    if group.role in (PortRole.FIXED_SUB, PortRole.MIRRORED_SUB):
        return Carries.BASS
    return Carries.LISTED if group.channels else Carries.ANY
