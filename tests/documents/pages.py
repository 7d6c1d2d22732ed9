"""The text of a PDF, read back by an independent library, pypdf."""

import io
import re

from pypdf import PdfReader


def pages(content: bytes) -> list[str]:
    """The text of each page, every run of blanks as one."""
    return [re.sub(r"\s+", " ", page.extract_text()) for page in PdfReader(io.BytesIO(content)).pages]


def text_of(content: bytes) -> str:
    """All pages together."""
    return " ".join(pages(content))
