"""A brief as small as it can be, in TOML, and the example that the reader's documentation shows."""

import textwrap

import planner.brief.read

SMALL = """\
layout = "5.1"

[project]
name = "Small room"
client = ""
reference = ""
dated = 2026-03-02
currency = "EUR"

[room]
length_m = 5
width_m = 4.0
height_m = 2.5

[rack]
position = [4.8, 0.2, 0.5]

[[seats]]
name = "Middle"
position = [3.5, 2, 1.2]

[[loudspeakers]]
name = "Around"
channels = ["L", "R", "C", "Ls", "Rs"]
model = "LS-1"
"""


def documented() -> str:
    """The whole brief in the docstring of `planner.brief.read`, as a file would have it."""
    documentation = planner.brief.read.__doc__ or ""
    return textwrap.dedent(documentation[documentation.index("    layout = ") :])
