"""Dates as the papers write them."""

from datetime import date

_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def long_date(day: date) -> str:
    """A date that nobody can misread.

    >>> long_date(date(2026, 11, 9))
    '9 November 2026'
    """
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"
