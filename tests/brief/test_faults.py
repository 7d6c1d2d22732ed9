"""Every fault of a brief is told, at once, with its place, its value, what was expected and a remedy."""

import pytest

from planner.brief import parse_brief
from planner.errors import BadInput
from tests.brief.example import SMALL, documented


def messages(text: str, name: str = "brief.toml") -> list[str]:
    with pytest.raises(BadInput) as caught:
        parse_brief(text, name)
    assert str(caught.value) == "\n".join(str(fault) for fault in caught.value.faults)
    return [str(fault) for fault in caught.value.faults]


TWENTY_FAULTS = """\
layout = "7.1.5"
measures = ["joints", "spare_outputs"]
exclude = ["AMP-1"]

[project]
name = ""
client = "Client"
reference = "2026-014"
dated = "2026-03-02"
currency = "euro"

[room]
length_m = 6200
width_m = true
height_m = 2.5

[rack]
units = 24.5

[[seats]]
name = "Middle"
position = [4.0, 2.0]

[[seats]]
name = "middle"
position = [4.0, 2.0, 3.1]

[[loudspeakers]]
name = "Front"
channels = ["L", "Centre", "LFE"]
model = "LS-1"

[[loudspeakers]]
name = "Around"
channels = ["M+090", "Lss"]
target_spl_db = inf

[[subwoofers]]
name = "Front"
least = 4
most = 2
positions = [[0.2, 0.2, 0.2]]
channel = "C"

[limits]
drives = ["dedicated", "spilt"]
largest_split = 0
spare_outputs = 5
"""

TOLD = [
    'brief.toml layout: found "7.1.5"; expected a layout of ITU-R BS.2051 or a shorthand such as 5.1.2. '
    "Did you mean 7.1.6, 7.1.4, 7.1.2?",
    "brief.toml measures: found [joints, spare_outputs]; expected price among the measures. "
    'Add "price"; options are proven cheapest.',
    'brief.toml project.name: found ""; expected a line of text, not blank. Write name = "Cinema room".',
    'brief.toml project.dated: found "2026-03-02"; expected a date without a time. '
    "Write dated = 2026-03-02, without quotes.",
    'brief.toml project.currency: found "euro"; expected a currency code of three capital letters. '
    'Write currency = "EUR", or the code that applies.',
    "brief.toml room.length_m: found 6200; expected a number from 1 to 100 m. Write length_m = 6.2.",
    "brief.toml room.width_m: found true; expected a number from 1 to 100 m. Write width_m = 4.1.",
    "brief.toml rack.position: found nothing; expected a position [x, y, z] in metres. Add position = [1.0, 2.0, 1.2].",
    "brief.toml rack.units: found 24.5; expected a whole number from 1 to 500. Write units = 24.",
    "brief.toml seats[0].position: found [4.0, 2.0]; expected a position: three numbers in metres. "
    "Write it as [x, y, z], such as [1.0, 2.0, 1.2].",
    "brief.toml seats[1].position: found [4.0, 2.0, 3.1]; expected a position inside the room: z 0 to 2.5 m. "
    "Move it, or correct the size of the room.",
    'brief.toml seats[1].name: found "middle"; expected a name that no earlier table has. '
    "Write another name, or join the two.",
    'brief.toml loudspeakers[0].channels[1]: found "Centre"; expected an ITU-R BS.2051 label or a trade name. '
    "Write a label such as M+030, or a name such as L.",
    'brief.toml loudspeakers[0].channels[2]: found "LFE"; expected a channel that loudspeakers play. '
    "Put it in a [[subwoofers]] table; subwoofers play the bass channels.",
    'brief.toml loudspeakers[1].channels[1]: found "Lss"; expected another channel than "M+090", which is M+090 too. '
    "If both mean M+090, write one name for both; if not, write the BS.2051 label of each.",
    "brief.toml loudspeakers[1].target_spl_db: found inf; expected a number from 50 to 140 dB. "
    "Write target_spl_db = 105.0.",
    "brief.toml subwoofers[0].least: found 4; expected no more than most, which is 2. "
    "Exchange the two, or correct one.",
    "brief.toml subwoofers[0].positions: found 1; expected at least 2 positions, one a subwoofer. "
    "Add 1 more [x, y, z], or ask for fewer subwoofers.",
    'brief.toml subwoofers[0].channel: found "C"; expected a bass channel, LFE1 or LFE2. Write channel = "LFE1".',
    'brief.toml subwoofers[0].name: found "Front"; expected a name that no earlier table has. '
    "Write another name, or join the two.",
    'brief.toml limits.drives[1]: found "spilt"; expected one of dedicated, dsp, split, daisy_chained. '
    "Did you mean split?",
    "brief.toml limits.largest_split: found 0; expected a whole number from 1 to 64. Write largest_split = 4.",
    "brief.toml limits.spare_outputs: found 5; expected no more than spare_ceiling, which is 4. "
    "Raise spare_ceiling, or ask for fewer.",
    "brief.toml exclude: found an unknown key; expected one of layout, measures, excluded, project, room, rack, seats, "
    "loudspeakers, subwoofers, limits, owned, later. Did you mean excluded?",
]


def test_a_brief_of_many_faults_tells_them_all_in_the_order_of_the_file() -> None:
    assert messages(TWENTY_FAULTS) == TOLD
    assert len(TOLD) >= 20


def test_messages_bear_the_name_of_the_file() -> None:
    assert [message.partition(" ")[0] for message in messages(TWENTY_FAULTS, "villa.toml")] == ["villa.toml"] * len(
        TOLD
    )


# What to change in the small brief, and the one message that it then gives.
ONE_FAULT = [
    (
        'layout = "5.1"\n',
        "",
        'layout: found nothing; expected a line of text, not blank. Add layout = "7.1.4".',
    ),
    (
        "length_m = 5\n",
        "",
        "room.length_m: found nothing; expected a number from 1 to 100 m. Add length_m = 6.2.",
    ),
    (
        "width_m = 4.0",
        "width_m = nan",
        "room.width_m: found nan; expected a number from 1 to 100 m. Write width_m = 4.1.",
    ),
    (
        "width_m = 4.0",
        "width_m = 1e400",
        "room.width_m: found 1e+400; expected a number from 1 to 100 m. Write width_m = 4.1.",
    ),
    (
        "width_m = 4.0",
        "width_m = 4.0\ntemperatur_c = 21",
        "room.temperatur_c: found an unknown key; expected one of length_m, width_m, height_m, reverberation_time_s, "
        "temperature_c, reverberation_bands. Did you mean temperature_c?",
    ),
    (
        "width_m = 4.0",
        'width_m = 4.0\n"a\\nb" = 21',
        'room."a\\nb": found an unknown key; expected one of length_m, width_m, height_m, reverberation_time_s, '
        "temperature_c, reverberation_bands. Remove it; the brief has no such entry.",
    ),
    (
        "[room]\nlength_m = 5\nwidth_m = 4.0\nheight_m = 2.5\n",
        "",
        "room: found nothing; expected a table [room]. Begin it with the line [room].",
    ),
    (
        "[[seats]]",
        "[seats]",
        "seats: found a table; expected tables [[seats]]. Begin each with the line [[seats]].",
    ),
    (
        '[[seats]]\nname = "Middle"\nposition = [3.5, 2, 1.2]\n',
        "",
        "seats: found nothing; expected at least one seat. Add [[seats]] with a name and a position.",
    ),
    (
        'client = ""',
        'client = "a\\tb"',
        'project.client: found "a\\tb"; expected a line of text. Write client = "Client".',
    ),
    (
        "dated = 2026-03-02",
        "dated = 2026-03-02T10:00:00",
        "project.dated: found 2026-03-02T10:00:00; expected a date without a time. "
        "Write dated = 2026-03-02, without quotes.",
    ),
    (
        'currency = "EUR"',
        'currency = "EUR"\ntax_percent = "21,5"',
        'project.tax_percent: found "21,5"; expected an amount from 0 to 100 percent, of at most 4 decimals. '
        'Write tax_percent = "21".',
    ),
    (
        "position = [4.8, 0.2, 0.5]",
        "position = [4.8, true, 0.5]",
        "rack.position: found [4.8, true, 0.5]; expected a position: three numbers in metres. "
        "Write it as [x, y, z], such as [1.0, 2.0, 1.2].",
    ),
    (
        "position = [4.8, 0.2, 0.5]",
        "position = [5.01, 0.2, -0.1]",
        "rack.position: found [5.01, 0.2, -0.1]; expected a position inside the room: x 0 to 5, z 0 to 2.5 m. "
        "Move it, or correct the size of the room.",
    ),
    (
        '"Ls", "Rs"',
        '"Lw", "Rs"',
        'loudspeakers[0].channels[3]: found "Lw"; expected a channel of the layout 0+5+0 (5.1, B), or a position. '
        "Add its position, or choose a layout that has M+060.",
    ),
    (
        '"Ls", "Rs"',
        '"Ls", "Rs", "Rs"',
        'loudspeakers[0].channels[5]: found "Rs"; expected a position for each further loudspeaker of M-110. '
        "Add positions; a layout places one loudspeaker a channel.",
    ),
    (
        '"Ls", "Rs"',
        '"Ls", 5',
        'loudspeakers[0].channels[4]: found 5; expected a line of text, not blank. Write channels = ["L", "C", "R"].',
    ),
    (
        '"Ls", "Rs"',
        '"Ls", "Rsss"',
        'loudspeakers[0].channels[4]: found "Rsss"; expected an ITU-R BS.2051 label or a trade name. Did you mean RSS?',
    ),
    (
        'channels = ["L", "R", "C", "Ls", "Rs"]',
        "channels = []",
        'loudspeakers[0].channels: found []; expected at least one channel. Write channels = ["L", "C", "R"].',
    ),
    (
        'model = "LS-1"',
        "positions = [[], [], [0.1, 2.0, 1.2]]\nmodel = 'LS-1'",
        "loudspeakers[0].positions: found 3; expected 5 positions, one a channel in order. "
        "Write [] for a loudspeaker that the layout places.",
    ),
    (
        'model = "LS-1"',
        "",
        "loudspeakers[0].model: found nothing; expected a model, candidates, or a level to reach. "
        'Add model = "SKU-1", candidates = ["SKU-1"] or target_spl_db = 105.0.',
    ),
    (
        'model = "LS-1"',
        'model = "LS-1"\ncandidates = ["LS-2"]',
        "loudspeakers[0].model: found model with candidates; expected model or candidates. Remove one or the other.",
    ),
    (
        'model = "LS-1"',
        'candidates = ["LS-2", "LS-2"]',
        'loudspeakers[0].candidates[1]: found "LS-2"; expected each sku once. Remove the repeated one.',
    ),
]


@pytest.mark.parametrize(("old", "new", "message"), ONE_FAULT, ids=[message[:60] for _, _, message in ONE_FAULT])
def test_one_fault_gives_one_message(old: str, new: str, message: str) -> None:
    assert SMALL.count(old) == 1
    assert messages(SMALL.replace(old, new)) == [f"brief.toml {message}"]


SUBWOOFERS = '\n[[subwoofers]]\nname = "Bass"\ncount = 1\npositions = [[0.2, 0.2, 0.2]]\n'

# What to add at the end of the small brief, and the one message that it then gives.
ONE_FAULT_ADDED = [
    (
        SUBWOOFERS.replace("count = 1", "count = 1\nmost = 1\nleast = 1"),
        "subwoofers[0].count: found count with least or most; expected count alone, or least and most. "
        "Remove one or the other.",
    ),
    (
        SUBWOOFERS.replace("count = 1", "least = 1"),
        "subwoofers[0].most: found nothing; expected a whole number from 1 to 64. Add most = 4.",
    ),
    (
        SUBWOOFERS.replace("count = 1\n", ""),
        "subwoofers[0].count: found nothing; expected a whole number from 1 to 64. Add count = 4.",
    ),
    (
        SUBWOOFERS.replace("count = 1", "count = 1.0"),
        "subwoofers[0].count: found 1.0; expected a whole number from 1 to 64. Write count = 4.",
    ),
    (
        SUBWOOFERS.replace("Bass", "Around"),
        'subwoofers[0].name: found "Around"; expected a name that no earlier table has. '
        "Write another name, or join the two.",
    ),
    (
        SUBWOOFERS.replace("[[0.2, 0.2, 0.2]]", "[[]]"),
        "subwoofers[0].positions[0]: found []; expected a position: three numbers in metres. "
        "Write it as [x, y, z], such as [1.0, 2.0, 1.2].",
    ),
    (
        "[limits]\nbudget = inf",
        "limits.budget: found inf; expected an amount from 1 to 1000000000 of the quoting currency, "
        'of at most 4 decimals. Write budget = "24000.00".',
    ),
    (
        '[limits]\nbudget = "100.12345"',
        'limits.budget: found "100.12345"; expected an amount from 1 to 1000000000 of the quoting currency, '
        'of at most 4 decimals. Write budget = "24000.00".',
    ),
    (
        "[limits]\ndrives = []",
        'limits.drives: found []; expected at least one drive. Write drives = ["dedicated"], or more of them.',
    ),
    (
        '[limits]\ndrives = "dsp"',
        'limits.drives: found "dsp"; expected a list in square brackets. Write drives = ["dedicated"].',
    ),
    (
        '[limits]\ndrives = ["dsp", "DSP"]',
        'limits.drives[1]: found "DSP"; expected each name once. Remove the repeated one.',
    ),
    (
        '[limits]\nbalanced_only = "yes"',
        'limits.balanced_only: found "yes"; expected true or false. '
        "Write balanced_only = true or balanced_only = false, without quotes.",
    ),
    (
        "[limits]\nspare_ceiling = -1",
        "limits.spare_ceiling: found -1; expected a whole number from 0 to 999. Write spare_ceiling = 4.",
    ),
    (
        '[[owned]]\nsku = "AMP-1"\ncount = 0',
        "owned[0].count: found 0; expected a whole number from 1 to 9999. Write count = 1.",
    ),
    (
        '[[owned]]\nsku = "AMP-1"\n[[owned]]\nsku = "AMP-1"',
        'owned[1].sku: found "AMP-1"; expected a sku that no earlier table has. Write another sku, or join the two.',
    ),
    (
        '[[later]]\nname = "Then"\nlayout = "9.1.5"\nsubwoofers = 4\nyears = 2',
        'later[0].layout: found "9.1.5"; expected a layout of ITU-R BS.2051 or a shorthand such as 5.1.2. '
        "Did you mean 9.1.6, 9.1.4, 9.1.2?",
    ),
]


@pytest.mark.parametrize(("added", "message"), ONE_FAULT_ADDED, ids=[message[:60] for _, message in ONE_FAULT_ADDED])
def test_one_fault_in_an_added_table_gives_one_message(added: str, message: str) -> None:
    assert messages(f"{SMALL}\n{added}\n") == [f"brief.toml {message}"]


def test_gear_that_must_be_used_cannot_be_excluded() -> None:
    text = documented().replace('excluded = ["PROC-X"]', 'excluded = ["AMP-1", "AMP-1"]')
    assert messages(text) == [
        'brief.toml excluded[1]: found "AMP-1"; expected each sku once. Remove the repeated one.',
        'brief.toml owned[0].sku: found "AMP-1"; expected gear that must be used not to be excluded. '
        "Take it out of excluded, or remove must_use.",
    ]


def test_a_brief_without_any_set_has_nothing_to_drive() -> None:
    assert messages(SMALL[: SMALL.index("[[loudspeakers]]")]) == [
        "brief.toml loudspeakers: found nothing; expected at least one set of loudspeakers or subwoofers. "
        "Add [[loudspeakers]] or [[subwoofers]].",
    ]


def test_a_layout_need_not_be_filled_and_an_array_may_have_many_of_a_channel() -> None:
    array = 'channels = ["L", "Ls", "ls"]\npositions = [[], [2.0, 0.1, 1.2], [3.0, 0.1, 1.2]]'
    brief = parse_brief(SMALL.replace('channels = ["L", "R", "C", "Ls", "Rs"]', array))
    assert [placement.channel for placement in brief.loudspeakers[0].placements] == ["M+030", "M+110", "M+110"]


def test_a_fault_elsewhere_does_not_hide_or_invent_one_here() -> None:
    text = SMALL.replace("height_m = 2.5", "height_m = 0").replace("[3.5, 2, 1.2]", "[3.5, 2, 1.2, 0]")
    assert [message.split(": found")[0] for message in messages(text)] == [
        "brief.toml room.height_m",
        "brief.toml seats[0].position",
    ]
