"""A new workbook in which nothing but a formula is one: what people wrote stays text."""

from collections.abc import Mapping
from io import BytesIO

from xlsxwriter import Workbook


def blank_book(content: BytesIO, properties: Mapping[str, object]) -> Workbook:
    """A workbook that writes itself into `content` when it is closed.

    `properties` need a fixed `created`, so that the same input gives the same bytes.
    """
    book = Workbook(
        content,
        {
            "in_memory": True,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
        },
    )
    book.set_properties(dict(properties))
    return book
