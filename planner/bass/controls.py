"""What can be set for a group of subwoofers that share one adjustable output, and what is set."""

from collections.abc import Sequence
from dataclasses import dataclass

Grouping = tuple[tuple[int, ...], ...]
"""Which subwoofers share an output: their indices, each in exactly one group. Groups are sorted
by their first member, and members within a group."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Setting:
    """What one output is set to."""

    gain_db: float = 0.0
    delay_ms: float = 0.0
    inverted: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class ControlRange:
    """The range and steps of an output's gain, delay and polarity.

    Gain only cuts, from `least_gain_db` to 0 dB, since a boost would use up headroom. A least gain
    of 0 dB, or a greatest delay of 0 ms, means that there is no such control. The figures that stand
    here are common practice, no published source; 30 ms let a subwoofer wait for the sound of another at
    the far wall of a room of 10 m.
    """

    least_gain_db: float = -12.0
    gain_step_db: float = 0.5
    most_delay_ms: float = 30.0
    delay_step_ms: float = 0.1
    polarity: bool = True

    def holds(self, setting: Setting) -> bool:
        """Whether the setting is within the range."""
        return self.nearest(setting) == setting

    def nearest(self, setting: Setting) -> Setting:
        """The setting within the range that is nearest to this one.

        >>> ControlRange(most_delay_ms=5.0, polarity=False).nearest(Setting(gain_db=-3.0, delay_ms=8.0, inverted=True))
        Setting(gain_db=-3.0, delay_ms=5.0, inverted=False)
        """
        return Setting(
            gain_db=min(max(setting.gain_db, self.least_gain_db), 0.0),
            delay_ms=min(max(setting.delay_ms, 0.0), self.most_delay_ms),
            inverted=setting.inverted and self.polarity,
        )


USUAL_RANGE = ControlRange()
"""What is assumed where no device is chosen yet."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ControlGroup:
    """Subwoofers, by index, that share one output, and what that output offers.

    `late_ms`: how much later its sound sets out than that of the earliest group, before anything is set.
    """

    members: tuple[int, ...]
    range: ControlRange = USUAL_RANGE
    late_ms: float = 0.0


def joined(groups: Sequence[ControlGroup]) -> ControlGroup:
    """All their subwoofers on one output, which offers no more than each of theirs."""
    ranges = [group.range for group in groups]
    return ControlGroup(
        members=tuple(sorted(member for group in groups for member in group.members)),
        range=ControlRange(
            least_gain_db=max(one.least_gain_db for one in ranges),
            gain_step_db=max(one.gain_step_db for one in ranges),
            most_delay_ms=min(one.most_delay_ms for one in ranges),
            delay_step_ms=max(one.delay_step_ms for one in ranges),
            polarity=all(one.polarity for one in ranges),
        ),
        late_ms=min(group.late_ms for group in groups),
    )


def sorted_grouping(groups: Grouping) -> Grouping:
    """The same grouping in its one form, so that equal groupings compare equal.

    >>> sorted_grouping(((3, 1), (2, 0)))
    ((0, 2), (1, 3))
    """
    return tuple(sorted(tuple(sorted(group)) for group in groups))


def refines(fine: Grouping, coarse: Grouping) -> bool:
    """Whether every group of `fine` lies within one group of `coarse`: more control, never less.

    >>> refines(((0,), (1, 2)), ((0, 1, 2),)), refines(((0, 1), (2,)), ((0,), (1, 2)))
    (True, False)
    """
    whole = [set(group) for group in coarse]
    return all(any(group <= other for other in whole) for group in map(set, fine))
