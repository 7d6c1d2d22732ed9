"""Pictures of a design as SVG: signal flow, the room in plan and section, and the bass. Same input, same bytes.

Of a `BassStudy`: `bass_curves.seat_curves_svg(study)`, `bass_spread.spread_svg(study)` and
`bass_plan.bass_plan_svg(study)`.
"""
