"""Seeds of random instances that have designs, and at which the oracles are quick.

Found by `tests.optimum.campaign`, which runs whole ranges, the slow and the infeasible too.
"""

# Brute force takes about a second or less. At 48 and 546 the best designs use halves left over of longer leads.
TINY = (
    8,
    14,
    21,
    29,
    34,
    40,
    45,
    48,
    57,
    63,
    70,
    72,
    73,
    74,
    81,
    82,
    88,
    91,
    95,
    100,
    102,
    113,
    125,
    128,
    131,
    133,
    139,
    546,
)
# No design exists, for different reasons.
TINY_INFEASIBLE = (1, 9, 11, 12, 13)
# The programmes of all cells take a few seconds together.
SMALL = (12, 19, 23, 25, 36, 57, 61, 73, 74, 82)
