"""R13: how loud it plays at the primary seats, against the brief's targets, and what bounds it.

Free field: spherical spreading from 1 m, nearer counting as 1 m; a room adds to it, most of all
in the bass. An active loudspeaker or subwoofer plays the level that its catalogue entry states
at 1 m; whether it is driven that far is a matter of R11. A passive one plays

    sensitivity for 1 W + 10 log10(power at its terminals),

where that power is the channel's rating into the nominal load (8 and 4 ohm figures interpolated
as `planner.formulas.amplifiers.power_into_load_w` says), less the loss of the cable, and no more
than the loudspeaker may take. A sensitivity for 2.83 V is first brought to 1 W. Of a crossed
loudspeaker the catalogue has one figure for all ways, so each way is reckoned with that, and the
weakest way counts. A receiver's own amplifiers are taken at their rating for one channel.

Subwoofers of one channel are summed between two bounds: incoherent (powers add) and coherent (in
phase); across seats they lie between the two, or below where they cancel.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.brief.records import Brief
from planner.catalogue.records import Loudspeaker, Powering, Subwoofer
from planner.checks.case import Case
from planner.checks.places import Place
from planner.checks.view import SPEAKERS
from planner.design import UnitKind
from planner.formulas.levels import power_ratio_db
from planner.formulas.sound_level import inverse_distance_loss_db, sensitivity_for_1w_db, sum_range_db
from planner.physics.amplifier_channels import AmplifierChannel, SpeakerFeed
from planner.physics.listening import primary_seats, spreading_m


@dataclass(frozen=True, kw_only=True, slots=True)
class PlayedPower:
    """What one channel gives one pair of terminals: what arrives there, and how much may be used."""

    channel: AmplifierChannel
    feed: SpeakerFeed
    sensitivity_1w_db: float
    available_w: float
    used_w: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Output:
    """The greatest level of one loudspeaker or subwoofer at 1 m, dB, and the power that makes it.

    `power` is that of its weakest way, None for an active one. Where the level is None,
    `unknown` says what the catalogue lacks.
    """

    unit: str
    sku: str
    place: Place
    level_1m_db: float | None
    power: PlayedPower | None = None
    unknown: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class SeatLevel:
    """The greatest free-field level of one loudspeaker or subwoofer at one primary seat."""

    unit: str
    set_name: str
    channel: str
    seat: str
    distance_m: float
    level_db: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Headroom:
    """By how much a set's weakest loudspeaker is over its target at its worst primary seat.

    The brief's headroom is part of the target. Negative: it falls short.
    """

    set_name: str
    target_spl_db: float
    weakest: SeatLevel

    @property
    def headroom_db(self) -> float:
        """Level less target."""
        return self.weakest.level_db - self.target_spl_db


@dataclass(frozen=True, kw_only=True, slots=True)
class BassLevel:
    """All subwoofers of one channel together at one primary seat, between two bounds.

    `target_spl_db`: the greatest that any set of the channel asks, headroom included.
    """

    channel: str
    seat: str
    count: int
    incoherent_db: float
    coherent_db: float
    target_spl_db: float | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class LevelsAtSeats:
    """Everything that R13 computes of one design. `lowest` is the worst seat of each set."""

    channels: tuple[AmplifierChannel, ...]
    outputs: tuple[Output, ...]
    seats: tuple[SeatLevel, ...]
    lowest: tuple[SeatLevel, ...]
    headrooms: tuple[Headroom, ...]
    bass: tuple[BassLevel, ...]


def levels_at_seats(case: Case, channels: Sequence[AmplifierChannel]) -> LevelsAtSeats:
    """The levels of one design, from its amplifier channels."""
    outputs = tuple(_outputs(case, channels))
    seats = tuple(level for output in outputs for level in _at_seats(case, output))
    lowest: dict[str, SeatLevel] = {}
    for level in seats:
        least = lowest.setdefault(level.set_name, level)
        if level.level_db < least.level_db:
            lowest[level.set_name] = level
    return LevelsAtSeats(
        channels=tuple(channels),
        outputs=outputs,
        seats=seats,
        lowest=tuple(lowest.values()),
        headrooms=tuple(_headrooms(case.known.brief, lowest)),
        bass=tuple(_bass(case, outputs)),
    )


def _outputs(case: Case, channels: Sequence[AmplifierChannel]) -> Iterator[Output]:
    driven: dict[str, list[tuple[AmplifierChannel, SpeakerFeed]]] = {}
    for channel in channels:
        for feed in channel.feeds:
            driven.setdefault(feed.unit, []).append((channel, feed))
    for unit in case.view.units.values():
        item, place = case.view.item(unit), case.view.place(unit)
        if unit.kind in SPEAKERS and place is not None and isinstance(item, Loudspeaker | Subwoofer):
            yield _output(unit.id, item, place, driven.get(unit.id, []))


def _output(
    unit: str, item: Loudspeaker | Subwoofer, place: Place, driven: list[tuple[AmplifierChannel, SpeakerFeed]]
) -> Output:
    if item.powering is Powering.ACTIVE:
        unknown = "" if item.max_spl_db is not None else "its greatest level"
        return Output(unit=unit, sku=item.sku, place=place, level_1m_db=item.max_spl_db, unknown=unknown)
    powers = [_played(channel, feed) for channel, feed in driven]
    lacking = next(
        (power for power in powers if isinstance(power, str)), "" if powers else "the amplifier that drives it"
    )
    known = [power for power in powers if not isinstance(power, str)]
    if lacking or not known:
        return Output(unit=unit, sku=item.sku, place=place, level_1m_db=None, unknown=lacking)
    weakest = min(known, key=_level_1m_db)
    return Output(unit=unit, sku=item.sku, place=place, level_1m_db=_level_1m_db(weakest), power=weakest)


def _played(channel: AmplifierChannel, feed: SpeakerFeed) -> PlayedPower | str:
    """The power at one pair of terminals, or what the catalogue does not say."""
    item = feed.item
    if item.sensitivity_db is None:
        return f"the sensitivity of {item.sku}"
    if feed.nominal_ohm is None or channel.nominal_ohm is None:
        return f"the impedance of {item.sku}"
    if feed.available_w is None:
        return f"the power of {channel.name}"
    sensitivity_db = item.sensitivity_db
    if item.sensitivity_at_2v83:
        sensitivity_db = sensitivity_for_1w_db(sensitivity_db, item.impedance_ohm or feed.nominal_ohm)
    return PlayedPower(
        channel=channel,
        feed=feed,
        sensitivity_1w_db=sensitivity_db,
        available_w=feed.available_w,
        used_w=min(feed.available_w, item.handling_w or feed.available_w),
    )


def _level_1m_db(power: PlayedPower) -> float:
    return power.sensitivity_1w_db + power_ratio_db(power.used_w, 1.0)


def _at_seats(case: Case, output: Output) -> Iterator[SeatLevel]:
    if output.level_1m_db is None:
        return
    for seat in primary_seats(case.known.brief):
        metres = spreading_m(output.place.position, seat.position)
        yield SeatLevel(
            unit=output.unit,
            set_name=output.place.set_name,
            channel=output.place.channel,
            seat=seat.name,
            distance_m=metres,
            level_db=output.level_1m_db + inverse_distance_loss_db(metres),
        )


def _headrooms(brief: Brief, lowest: dict[str, SeatLevel]) -> Iterator[Headroom]:
    for each in brief.loudspeakers:
        if each.target_spl_db is not None and each.name in lowest:
            target_db = each.target_spl_db + brief.limits.target_headroom_db
            yield Headroom(set_name=each.name, target_spl_db=target_db, weakest=lowest[each.name])


def _bass(case: Case, outputs: Sequence[Output]) -> Iterator[BassLevel]:
    """One sum for each channel and seat; none where one subwoofer's level is not known."""
    headroom_db = case.known.brief.limits.target_headroom_db
    targets: dict[str, list[float]] = {}
    for each in case.known.brief.subwoofers:
        if each.target_spl_db is not None:
            targets.setdefault(each.channel, []).append(each.target_spl_db + headroom_db)
    by_channel: dict[str, list[list[SeatLevel]]] = {}
    for output in outputs:
        if output.place.kind is UnitKind.SUBWOOFER:
            by_channel.setdefault(output.place.channel, []).append(list(_at_seats(case, output)))
    for channel, subwoofers in by_channel.items():
        if not all(subwoofers):
            continue
        for at_one_seat in zip(*subwoofers, strict=True):
            incoherent_db, coherent_db = sum_range_db([level.level_db for level in at_one_seat])
            yield BassLevel(
                channel=channel,
                seat=at_one_seat[0].seat,
                count=len(at_one_seat),
                incoherent_db=incoherent_db,
                coherent_db=coherent_db,
                target_spl_db=max(targets.get(channel, ()), default=None),
            )
