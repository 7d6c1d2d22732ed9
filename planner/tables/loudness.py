"""R13 and R14 for people: what each amplifier channel drives, and how loud it is at the seats."""

from collections.abc import Sequence

from planner.physics.amplifier_channels import AmplifierChannel
from planner.physics.load import ChannelLoad
from planner.physics.power import BassLevel, LevelsAtSeats
from planner.tables.cells import NOT_KNOWN, decimals, loss, watts

LOAD_HEADINGS = (
    "Amplifier channel",
    "Drives",
    "Load",
    "Nominal, ohm",
    "Least, ohm",
    "Least allowed, ohm",
    "Power into it, W",
    "Cable, m",
    "Area, mm²",
    "Cable loss, dB",
    "At the terminals, W",
)
LOAD_FIGURES = LOAD_HEADINGS[3:]

SEAT_HEADINGS = ("Plays", "Set", "Seat", "Distance, m", "Greatest level, dB SPL", "Target, dB SPL", "Headroom, dB")
SEAT_FIGURES = SEAT_HEADINGS[3:]

BASS_HEADINGS = ("Channel", "Seat", "Subwoofers", "Incoherent, dB SPL", "In phase, dB SPL")
BASS_FIGURES = BASS_HEADINGS[2:]


def load_rows(channels: Sequence[AmplifierChannel], loads: Sequence[ChannelLoad]) -> list[tuple[str, ...]]:
    """A row for each pair of terminals that an amplifier channel drives."""
    return [
        (
            channel.name,
            feed.unit,
            load_words(load),
            decimals(channel.nominal_ohm),
            decimals(channel.least_ohm),
            decimals(channel.least_load_ohm),
            watts(channel.rated_w),
            decimals(feed.run.length_m),
            NOT_KNOWN if feed.run.area_mm2 is None else f"{feed.run.area_mm2:g}",
            loss(feed.loss_db),
            watts(feed.available_w),
        )
        for channel, load in zip(channels, loads, strict=True)
        for feed in channel.feeds
    ]


def load_words(load: ChannelLoad) -> str:
    """Whether a channel may drive what hangs on it."""
    if load.too_low:
        return "too low"
    if load.dips_too_low:
        return "dips too low"
    known = load.least_load_ohm is not None and (load.nominal_ohm or load.least_ohm) is not None
    return "fits" if known else "not known"


def seat_rows(at_seats: LevelsAtSeats) -> list[tuple[str, ...]]:
    """A row for each loudspeaker and subwoofer at each primary seat."""
    target_by_set = {headroom.set_name: headroom.target_spl_db for headroom in at_seats.headrooms}
    rows: list[tuple[str, ...]] = []
    for level in at_seats.seats:
        target_db = target_by_set.get(level.set_name)
        headroom_db = None if target_db is None else level.level_db - target_db
        rows.append(
            (
                level.unit,
                level.set_name,
                level.seat,
                decimals(level.distance_m, 2),
                decimals(level.level_db),
                decimals(target_db),
                decimals(headroom_db),
            )
        )
    return rows


def bass_rows(levels: Sequence[BassLevel]) -> list[tuple[str, ...]]:
    """A row for the subwoofers of each channel together, at each primary seat."""
    return [
        (level.channel, level.seat, str(level.count), decimals(level.incoherent_db), decimals(level.coherent_db))
        for level in levels
    ]
