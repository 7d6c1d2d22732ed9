"""A channel-budget and system-design calculator for home theatres, at quote stage.

`planner.plan.options` answers a brief. `planner.brief`, `planner.catalogue` and
`planner.house_file` read what it takes; `planner.errors` holds the ways a run can fail.
Nothing is imported here, so that each command loads only what it needs.
"""
