"""R13 and R14 as JSON: what each amplifier channel drives, and how loud it plays at the seats."""

from collections.abc import Sequence

from planner.figures_json.rounding import hundredths, significant
from planner.physics.amplifier_channels import AmplifierChannel, SpeakerFeed
from planner.physics.load import ChannelLoad
from planner.physics.power import BassLevel, LevelsAtSeats

Json = dict[str, object]


def amplifier_channel_trees(channels: Sequence[AmplifierChannel], loads: Sequence[ChannelLoad]) -> list[Json]:
    """Every amplifier channel with its load, and what it drives by which cable."""
    return [_channel(channel, load) for channel, load in zip(channels, loads, strict=True)]


def seat_level_trees(at_seats: LevelsAtSeats) -> list[Json]:
    """Every loudspeaker and subwoofer at every primary seat, against the target of its set."""
    target_by_set = {headroom.set_name: headroom.target_spl_db for headroom in at_seats.headrooms}
    trees: list[Json] = []
    for level in at_seats.seats:
        target_db = target_by_set.get(level.set_name)
        trees.append(
            {
                "device": level.unit,
                "set": level.set_name,
                "channel": level.channel,
                "seat": level.seat,
                "distance_m": hundredths(level.distance_m),
                "level_db_spl": hundredths(level.level_db),
                "target_db_spl": hundredths(target_db),
                "headroom_db": None if target_db is None else hundredths(level.level_db - target_db),
            }
        )
    return trees


def bass_level_trees(levels: Sequence[BassLevel]) -> list[Json]:
    """The subwoofers of each channel together at every primary seat."""
    return [
        {
            "channel": level.channel,
            "seat": level.seat,
            "subwoofers": level.count,
            "incoherent_db_spl": hundredths(level.incoherent_db),
            "in_phase_db_spl": hundredths(level.coherent_db),
        }
        for level in levels
    ]


def _channel(channel: AmplifierChannel, load: ChannelLoad) -> Json:
    return {
        "device": channel.device,
        "name": channel.name,
        "internal": channel.internal,
        "nominal_ohm": significant(channel.nominal_ohm),
        "least_ohm": significant(channel.least_ohm),
        "least_load_ohm": significant(channel.least_load_ohm),
        "load_too_low": load.too_low,
        "dips_too_low": load.dips_too_low,
        "rated_w": significant(channel.rated_w),
        "feeds": [_feed(feed) for feed in channel.feeds],
    }


def _feed(feed: SpeakerFeed) -> Json:
    return {
        "device": feed.unit,
        "length_m": hundredths(feed.run.length_m),
        "area_mm2": significant(feed.run.area_mm2),
        "cable_loss_db": hundredths(feed.loss_db),
        "available_w": significant(feed.available_w),
        "handling_w": significant(feed.item.handling_w),
    }
