"""The text of a PDF, read back by an independent library, pypdf."""

import io
import re
from functools import lru_cache

from pypdf import PdfReader


@lru_cache(maxsize=64)
def pages(content: bytes, first: int = 1) -> tuple[str, ...]:
    """The text of each page from the `first` on, every run of blanks as one. A page with a large drawing takes long."""
    read = PdfReader(io.BytesIO(content)).pages[first - 1 :]
    return tuple(re.sub(r"\s+", " ", page.extract_text()) for page in read)


def text_of(content: bytes, first: int = 1) -> str:
    """All pages from the `first` on together."""
    return " ".join(pages(content, first))
