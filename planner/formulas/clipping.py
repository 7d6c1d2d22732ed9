"""Which stage of a chain clips first, and how much of the signal is left where it does."""

from collections.abc import Sequence

from planner.formulas.validity import require_finite


def first_to_clip(limits: Sequence[tuple[float, float]]) -> tuple[int, float]:
    """The stage that clips first, by index, and the largest level that it lets arrive at the sink.

    Each limit is (largest level of the stage, dBu; gain from there to the sink, dB). Of
    several that clip together the first is named. At least one limit, all finite; raises
    ValueError otherwise.
    Source: definition; every limit referred to one point, the least of them holds.

    A processor of +14 dBu, a DSP unit of +8 dBu, a pad of 6 dB and an input of +4 dBu:

    >>> first_to_clip([(14.0, -6.0), (8.0, -6.0), (4.0, 0.0)])
    (1, 2.0)
    """
    if not limits:
        raise ValueError("limits is empty; expected at least one stage")
    for limit_dbu, gain_after_db in limits:
        require_finite(limit_dbu=limit_dbu, gain_after_db=gain_after_db)
    at_sink_dbu = [limit_dbu + gain_after_db for limit_dbu, gain_after_db in limits]
    least_dbu = min(at_sink_dbu)
    return at_sink_dbu.index(least_dbu), least_dbu
