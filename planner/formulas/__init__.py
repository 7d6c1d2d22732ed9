"""The trade's formulas, one pure function each: numbers in, numbers out, one phenomenon a file.

Units are in the names. Levels in dB re a voltage are rms; a loss is a gain below 0 dB, so it
is negative. A value outside a formula's range raises ValueError, which names the argument:
what a user typed has been checked long before, so here it is our own fault.
"""
