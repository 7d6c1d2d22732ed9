"""Text that users and files supply, made safe to show where Markdown is read."""

import re

from planner.words import capital as capital

WORD_JOINER = "\u2060"

_BLANKS = re.compile(r"\s+")
_PUNCTUATION = re.compile(r"([!-/:-@\[-`{-~])")
_LINK_OR_ARROW = re.compile(r"(?<=[!-/:-@\[-`{-~])(?=[!-/:-@\[-`{-~])|(?<=www)(?=\.)|(?=@)", re.IGNORECASE)


def literal(text: str) -> str:
    r"""The text as it stands, with every mark that Markdown could read made plain.

    Any ASCII punctuation mark may be escaped by a backslash (CommonMark 0.31, section 2.4),
    so all of them are: emphasis, links, HTML, formulas and colour directives alike. Addresses
    and arrows are also found in escaped text, so an invisible word joiner (U+2060) breaks
    them. Line breaks and runs of blanks become one blank: no text can start a list or code.

    >>> literal("Sub *left* $5 [a]")
    'Sub \\*left\\* \\$5 \\[a\\]'
    """
    one_line = _BLANKS.sub(" ", text).strip()
    return _PUNCTUATION.sub(r"\\\1", _LINK_OR_ARROW.sub(WORD_JOINER, one_line))
