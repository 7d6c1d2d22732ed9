"""What the program's exit status tells a script."""

from enum import IntEnum


class ExitStatus(IntEnum):
    """0 to 4 are answers; 5 is our own bug; 130 and 141 are the shell's words for a stop.

    OUT_OF_TIME: the answer so far is printed and marked. STOPPED: Ctrl-C. NO_READER: what
    reads our output has closed it.
    """

    ANSWERED = 0
    BAD_INPUT = 1
    WRONG_USAGE = 2
    NO_DESIGN = 3
    OUT_OF_TIME = 4
    OUR_BUG = 5
    STOPPED = 130
    NO_READER = 141
