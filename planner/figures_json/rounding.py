"""Computed figures as far as they mean anything, so that no machine's last digit shows."""


def hundredths(figure: float | None) -> float | None:
    """To 0.01, which is well within what any level, time or impedance here is known to; never -0.0."""
    return None if figure is None else round(figure, 2) + 0.0


def significant(figure: float | None) -> float | None:
    """To four digits, for voltages and other figures that span decades.

    >>> significant(0.00012345678), significant(1234567.0)
    (0.0001235, 1235000.0)
    """
    return None if figure is None else float(f"{figure:.4g}") + 0.0
