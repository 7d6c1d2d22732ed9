"""The planner's optimum against two independent oracles, and the oracles against each other."""
