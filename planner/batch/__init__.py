"""Many briefs with one catalogue: each answered on its own, none done twice, one summary of all."""
