"""What `options` prints: plain text, 80 columns, one section a file."""

from planner.tables.report import options_report

__all__ = ["options_report"]
