"""Pictures of a design as SVG: signal flow, and the room in plan and section. Same design, same bytes."""
