"""How the cells of the workbook look: a few formats, made once for each workbook."""

from typing import Any

from xlsxwriter import Workbook
from xlsxwriter.format import Format

INK, RULE, GROUND = "#1F2A30", "#B8C2C6", "#E9EFF0"


def money_format(digits: int) -> str:
    """The number format of amounts with so many decimal places.

    >>> money_format(2), money_format(0)
    ('#,##0.00', '#,##0')
    """
    return "#,##0" + (f".{'0' * digits}" if digits else "")


class Looks:
    """The formats of one workbook. Every one of them wraps, and stands at the top of its cell."""

    def __init__(self, book: Workbook) -> None:
        self._book = book
        self._by_traits: dict[str, Format] = {}
        self.title = self._made(bold=True, font_size=15, text_wrap=False)
        self.subtitle = self._made(font_color="#55636A", text_wrap=False)
        self.heading = self._made(bold=True, bg_color=GROUND, bottom=1, bottom_color=RULE, valign="bottom")
        self.heading_right = self._made(
            bold=True, bg_color=GROUND, bottom=1, bottom_color=RULE, valign="bottom", align="right"
        )
        self.group = self._made(bold=True, top=1, top_color=RULE, text_wrap=False, valign="bottom")
        self.text = self._made()
        self.indented = self._made(text_wrap=False, indent=1)
        self.bold = self._made(bold=True, text_wrap=False)
        self.count = self.number("0")
        self.minutes = self.number("#,##0.##")
        self.metres = self.number("0.00")
        self.percent = self.number("0.00%")
        self.label = self._made(text_wrap=False, align="right")
        self.bold_label = self._made(text_wrap=False, align="right", bold=True)

    def number(self, pattern: str, *, bold: bool = False, typed: bool = False) -> Format:
        """Numbers in a pattern; `typed` marks a figure that the user may change."""
        traits: dict[str, Any] = {"num_format": pattern, "bold": bold, "text_wrap": False}
        return self._made(**traits, **({"bg_color": "#FFF8DC"} if typed else {}))

    def _made(self, **traits: Any) -> Format:
        traits = {"valign": "top", "text_wrap": True, "font_name": "Calibri", "font_color": INK} | traits
        key = repr(sorted(traits.items()))
        if key not in self._by_traits:
            self._by_traits[key] = self._book.add_format(traits)
        return self._by_traits[key]
