"""The brief: its records, and the TOML file that they are read from and written to."""

from planner.brief.read import parse_brief, read_brief
from planner.brief.write import write_brief

__all__ = ["parse_brief", "read_brief", "write_brief"]
