"""Figures of what our parts take; nothing is recalled from an earlier run."""

import os

from planner.kept import place

os.environ[place.ENVIRONMENT] = place.OFF
