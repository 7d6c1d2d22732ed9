"""How the result names a jack."""

from planner.design import Jack


def port_words(jack: Jack) -> str:
    """Port group and index, beside which the result names the device.

    >>> port_words(Jack("Processor", "MAIN", 3))
    'MAIN 3'
    """
    return f"{jack.group} {jack.index}"
