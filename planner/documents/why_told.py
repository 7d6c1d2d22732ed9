"""Why an option is what it is, in sentences, for papers: made elsewhere, from proven answers, and passed in."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """Some sentences under a title."""

    title: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class WhyTold:
    """All that has been asked: nothing, where nothing was.

    `one_more` is for the client: what a little more of each thing would cost. `sections` are for the office.
    `unsettled` says in sentences what time did not allow.
    """

    one_more: tuple[str, ...] = ()
    sections: tuple[Told, ...] = ()
    unsettled: tuple[str, ...] = ()


NOTHING_ASKED = WhyTold()
