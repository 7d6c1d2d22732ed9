"""One finished paper: a file's name, what kind it is, and what is in it."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Paper:
    """One finished file."""

    name: str
    media_type: str
    content: bytes
