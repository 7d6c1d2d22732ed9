"""Computed figures as the cells of a table: fixed places, and a dash where there is none."""

NOT_KNOWN = "–"
"""In place of a figure that the catalogue does not give, or that there is none of."""


def decimals(figure: float | None, places: int = 1) -> str:
    """A figure to so many places; never -0.

    >>> decimals(3.875), decimals(-0.04), decimals(None)
    ('3.9', '0.0', '–')
    """
    return NOT_KNOWN if figure is None else f"{round(figure, places) + 0.0:.{places}f}"


def loss(gain_db: float | None, places: int = 2) -> str:
    """A gain below 0 dB as a loss above it.

    >>> loss(-6.0206)
    '6.02'
    """
    return NOT_KNOWN if gain_db is None else decimals(-gain_db, places)


def impedance(ohm: float | None) -> str:
    """An impedance to three digits, or to the ohm where it is greater; never in powers of ten.

    >>> impedance(99.99), impedance(0.35), impedance(20_000.0)
    ('100', '0.35', '20000')
    """
    if ohm is None:
        return NOT_KNOWN
    return f"{ohm:.0f}" if ohm >= 99.5 else f"{ohm:.3g}"


def watts(power_w: float | None) -> str:
    """A power, to the watt unless it is small.

    >>> watts(127.4), watts(2.55)
    ('127', '2.5')
    """
    return decimals(power_w, 0 if power_w is not None and power_w >= 10 else 1)
