"""The exact model, and the only user of the solver."""

from planner.allocation.loading import load_solver

load_solver()
