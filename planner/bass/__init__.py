"""Predicted bass at the seats of a rectangular room, and the best settings for each way of control."""

from planner.bass.band import Band
from planner.bass.study import BassStudy, bass_study

__all__ = ["Band", "BassStudy", "bass_study"]
