"""A second opinion on the optimum: two independent ways to find it, for tests only.

Nothing here imports the planner's allocation, demand, costing, money or checks. Both ways are
written against "How the rules are read" in DEVELOPERS.md: `milp` puts the rules to a linear
solver, `brute` writes out every design of a tiny instance.
"""
