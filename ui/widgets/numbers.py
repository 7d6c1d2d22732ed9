"""Number inputs that return exactly the type asked for, whatever was typed.

The limits of a value are the planner's to name; only what the browser can carry bounds them here.
"""

import math
from decimal import Decimal

import streamlit as st

from planner.lengths import LengthStyle, feet_words, read_length_m

_GREATEST_WHOLE = 2**53 - 1  # the largest integer that JavaScript holds exactly


def number(label: str, value: float, *, key: str, help: str | None = None, step: float = 0.1) -> float:
    """A number that must be there; clearing the field keeps the last one."""
    return float(st.number_input(label, value=float(value), step=step, format="%.2f", key=key, help=help))


def optional_number(
    label: str, value: float | None, *, key: str, empty: str, help: str | None = None, step: float = 1.0
) -> float | None:
    """A number, or None where the field is left empty; `empty` says what that means."""
    held = None if value is None else float(value)
    return st.number_input(label, value=held, step=step, format="%.2f", key=key, help=help, placeholder=empty)


def length(
    label: str, value_m: float, *, key: str, style: LengthStyle, help: str | None = None, step: float = 0.1
) -> float:
    """A length in metres, typed in metres, or as text in feet and inches, which takes metres with their unit too.

    A text that is no length becomes NaN, which the planner refuses in plain words.
    """
    if style is LengthStyle.METRES:
        return number(label, value_m, key=key, help=help, step=step)
    told = feet_words(value_m)
    typed = st.text_input(in_feet(label), told, key=key, help=help, placeholder="for example 12' 3\"")
    if typed == told:
        return value_m
    read = read_length_m(typed)
    return math.nan if read is None else read


def in_feet(label: str) -> str:
    """A label that names metres, with feet and inches instead."""
    return label.removesuffix(", m") + ", ft in"


def whole(label: str, value: int, *, key: str, help: str | None = None) -> int:
    """A whole number that must be there."""
    return int(st.number_input(label, value=_held(value), step=1, key=key, help=help))


def optional_whole(label: str, value: int | None, *, key: str, empty: str, help: str | None = None) -> int | None:
    """A whole number, or None where the field is left empty; `empty` says what that means."""
    held = None if value is None else _held(value)
    return st.number_input(label, value=held, step=1, key=key, help=help, placeholder=empty)


def optional_decimal(
    label: str, value: Decimal | None, *, key: str, empty: str, help: str | None = None
) -> Decimal | None:
    """An exact amount, or None where the field is left empty.

    The field counts in floating point; its shortest text gives back the digits that were typed.
    """
    held = None if value is None else float(value)
    typed = st.number_input(label, value=held, step=1.0, format="%.2f", key=key, help=help, placeholder=empty)
    return None if typed is None else Decimal(str(typed))


def _held(value: int) -> int:
    return max(-_GREATEST_WHOLE, min(value, _GREATEST_WHOLE))
