"""The range in which a formula holds: each check names the argument that is outside it."""

import math


def require_positive(**quantities: float) -> None:
    """Raises ValueError unless every quantity is finite and above 0.

    >>> require_positive(impedance_ohm=0)
    Traceback (most recent call last):
    ValueError: impedance_ohm is 0; expected a finite number above 0
    """
    for name, value in quantities.items():
        if not 0 < value < math.inf:
            raise ValueError(f"{name} is {value}; expected a finite number above 0")


def require_not_negative(**quantities: float) -> None:
    """Raises ValueError unless every quantity is finite and at least 0.

    >>> require_not_negative(length_m=-1.5)
    Traceback (most recent call last):
    ValueError: length_m is -1.5; expected a finite number, 0 or more
    """
    for name, value in quantities.items():
        if not 0 <= value < math.inf:
            raise ValueError(f"{name} is {value}; expected a finite number, 0 or more")


def require_finite(**quantities: float) -> None:
    """Raises ValueError unless every quantity is a finite number.

    >>> require_finite(level_dbu=math.nan)
    Traceback (most recent call last):
    ValueError: level_dbu is nan; expected a finite number
    """
    for name, value in quantities.items():
        if not math.isfinite(value):
            raise ValueError(f"{name} is {value}; expected a finite number")


def require_within(least: float, most: float, **quantities: float) -> None:
    """Raises ValueError unless every quantity lies from `least` to `most`, both included.

    >>> require_within(-20, 50, temperature_c=293.15)
    Traceback (most recent call last):
    ValueError: temperature_c is 293.15; expected -20 to 50
    """
    for name, value in quantities.items():
        if not least <= value <= most:
            raise ValueError(f"{name} is {value}; expected {least:g} to {most:g}")
