"""Seeds of random instances that have designs, and at which the oracles are quick.

Found by `tests.optimum.campaign`, which runs whole ranges, the slow and the infeasible too.
"""

# Brute force takes about a second or less.
TINY = (8, 14, 34, 40, 45, 48, 53, 57, 63, 70, 72, 73, 74, 81, 82, 88, 95, 100, 107, 113)
# No design exists, for different reasons.
TINY_INFEASIBLE = (1, 9, 11, 12, 13)
# The programmes of all cells take a few seconds together.
SMALL = (10, 12, 14, 22, 23, 36, 53, 57, 61)
