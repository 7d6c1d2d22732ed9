"""The papers as one ZIP file; the same papers give the same bytes."""

from collections.abc import Sequence
from datetime import date
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from planner.documents.paper import Paper

_EARLIEST = date(1980, 1, 1)  # the first day that the format can write


def archive(papers: Sequence[Paper], dated: date) -> bytes:
    """All papers in one file, each with the date of the brief."""
    day = max(dated, _EARLIEST)
    content = BytesIO()
    with ZipFile(content, "w", ZIP_DEFLATED) as file:
        for paper in papers:
            entry = ZipInfo(paper.name, (day.year, day.month, day.day, 12, 0, 0))
            entry.external_attr = 0o644 << 16
            file.writestr(entry, paper.content, ZIP_DEFLATED)
    return content.getvalue()
