"""How a finished design is wired: lead marks and labels, make-up of each lead, what is cut from what."""
