"""What `explain` prints: plain text, 80 columns, one section a file."""

from planner.explain.report.report import explain_report

__all__ = ["explain_report"]
