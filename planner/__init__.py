"""A channel-budget and system-design calculator for home theatres, at quote stage.

`options` answers a brief; the readers turn files into what it takes; `BadInput` carries every
fault of an input, `PlannerBug` a disagreement of our own parts.
"""
