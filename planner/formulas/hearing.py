"""How long a level may last, for the cautions beside test tones."""

import math

from planner.formulas.validity import require_within

CRITERION_DBA = 85.0
"""The level allowed for a working day of 8 h (NIOSH 98-126, 1998, read at second hand)."""

EXCHANGE_DB = 3.0
"""By which the level rises as the time halves (the same source)."""


def exposure_minutes(level_dba: float) -> float:
    """The time in a day after which noise at work is held to endanger hearing.

    A figure to warn with, not a licence: it guards most workers, not everyone, and local
    codes prevail. 80 to 140 dBA, the range of its table; raises ValueError otherwise.
    Source: NIOSH, Criteria for a Recommended Standard: Occupational Noise Exposure, 98-126,
    1998 (read at second hand), 480 / 2^((L - 85) / 3).

    >>> exposure_minutes(94.0)
    60.0
    """
    require_within(80, 140, level_dba=level_dba)
    return 480 / math.pow(2, (level_dba - CRITERION_DBA) / EXCHANGE_DB)
