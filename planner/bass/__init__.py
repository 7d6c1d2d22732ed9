"""Predicted bass at the seats of a rectangular room, and the best settings for each way of control."""

from planner.bass.study import Band, BassStudy, bass_study

__all__ = ["Band", "BassStudy", "bass_study"]
