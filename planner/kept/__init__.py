"""What was worked out before, kept on disk by the content that it was worked out from.

A key covers all that the work depends on: what it was given, the planner itself, and the libraries that
reckon for it. So nothing kept is ever out of date, it can only be of no more use, and what has not been
used for longest goes first. Losing it all costs time and nothing else.
"""

from planner.kept.recall import remembered

__all__ = ["remembered"]
