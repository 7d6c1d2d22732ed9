"""Which column of a price list is probably what, by its title, by what it holds, and by what was remembered.

The words for titles are common ones of the trade in a few languages; no published source.
"""

import re
from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from unicodedata import normalize

from planner.catalogue.cells import Unreadable
from planner.price_lists.figures import (
    CURRENCIES_OF_SIGN,
    DayStyle,
    FigureStyle,
    day_styles,
    figure_styles,
    read_amount,
)
from planner.price_lists.reading import Entry, Reading
from planner.price_lists.sheet import PriceSheet

# The first that a title holds decides; the earlier a word, the surer. Written without accents.
_WORDS: Mapping[Entry, tuple[str, ...]] = {
    Entry.CODE: (
        "sku", "article no", "article number", "art nr", "artikelnummer", "artikelnr", "artnr", "bestellnummer",
        "item no", "item number", "part no", "part number", "product code", "order code", "codigo", "codice",
        "referencia", "reference", "ref", "stock code", "artikel", "code", "item",
    ),
    Entry.PRICE: (
        "net price", "nettopreis", "einkaufspreis", "prix net", "prezzo netto", "precio neto", "dealer price",
        "trade price", "your price", "cost price", "unit price", "stuckpreis", "nettoprijs", "price", "preis", "prix",
        "prezzo", "precio", "prijs", "pris", "cost", "netto", "net",
    ),
    Entry.CURRENCY: ("currency", "wahrung", "devise", "valuta", "moneda", "curr", "ccy"),
    Entry.DATED: (
        "price date", "valid from", "gultig ab", "stand", "valable des", "date", "datum", "fecha", "data", "as of",
    ),
    Entry.STOCK: ("stock", "lager", "bestand", "available", "verfugbar", "on hand", "voorraad", "giacenza", "dispo"),
    Entry.LEAST_ORDER: (
        "minimum order", "min order", "moq", "mindestmenge", "mindestabnahme", "min qty", "minimum qty", "minimum",
    ),
    Entry.NAME: (
        "description", "bezeichnung", "beschreibung", "designation", "descripcion", "descrizione", "omschrijving",
        "product name", "name", "title", "product", "model",
    ),
}  # fmt: skip

# A retail price is not what the designer pays.
_NOT_A_COST = re.compile(r"\b(rrp|retail|uvp|msrp|list price|listenpreis|brutto|gross|old|alt|previous|inkl|incl)\b")


@dataclass(frozen=True, kw_only=True, slots=True)
class Suggestion:
    """A reading to begin with, and what only the user can say.

    `figure_styles` and `day_styles` are those that would do; more than one has to be asked for.
    """

    reading: Reading
    figure_styles: frozenset[FigureStyle]
    day_styles: frozenset[DayStyle]

    @property
    def ambiguous(self) -> bool:
        """Whether the file alone does not say how its figures are written."""
        return len(self.figure_styles) > 1


def suggest(sheet: PriceSheet, skus: Collection[str], remembered: Reading | None = None) -> Suggestion:
    """What to read the sheet by; columns that were remembered and are still there come first."""
    known = remembered.columns if remembered is not None else {}
    columns = {entry: title for entry, title in known.items() if title in sheet.titles}
    for entry, title in _by_content(sheet, skus, taken=columns).items():
        columns.setdefault(entry, title)
    for entry, title in _by_title(sheet.titles, columns).items():
        columns.setdefault(entry, title)
    reading = replace(remembered or Reading(), columns=columns)
    return restyled(sheet, reading, keep=remembered is not None)


def restyled(sheet: PriceSheet, reading: Reading, *, keep: bool) -> Suggestion:
    """The reading with the styles of the columns it names; those it has stay where they would do, if `keep`."""
    prices = sheet.column(reading.columns[Entry.PRICE]) if Entry.PRICE in reading.columns else ()
    dates = sheet.column(reading.columns[Entry.DATED]) if Entry.DATED in reading.columns else ()
    figures, days = figure_styles(prices), day_styles(dates)
    return Suggestion(
        reading=replace(
            reading,
            figures=reading.figures if keep and reading.figures in figures else min(figures),
            days=reading.days if keep and reading.days in days else min(days),
            currency=reading.currency or _currency(prices),
        ),
        figure_styles=figures,
        day_styles=days,
    )


def _by_content(sheet: PriceSheet, skus: Collection[str], taken: Mapping[Entry, str]) -> dict[Entry, str]:
    """The column that holds the most skus of the catalogue is that of the codes, whatever its title."""
    known = {sku.casefold() for sku in skus}
    hits = {
        title: sum(1 for text in sheet.column(title) if text.casefold() in known)
        for title in sheet.titles
        if title not in taken.values()
    }
    best = max(hits, key=hits.__getitem__, default=None)
    return {Entry.CODE: best} if best is not None and hits[best] else {}


def _by_title(titles: Iterable[str], taken: Mapping[Entry, str]) -> dict[Entry, str]:
    """One title for each entry that has none yet, the surest first, none used twice."""
    free = [title for title in titles if title not in taken.values()]
    found: dict[Entry, str] = {}
    for entry, words in _WORDS.items():
        if entry in taken:
            continue
        ranks = {title: rank for title in free if (rank := _rank(title, words, entry)) is not None}
        if ranks:
            found[entry] = min(ranks, key=ranks.__getitem__)
            free.remove(found[entry])
    return found


def _rank(title: str, words: tuple[str, ...], entry: Entry) -> int | None:
    plain = _plain(title)
    if entry is Entry.PRICE and _NOT_A_COST.search(plain):
        return None
    return next((rank for rank, word in enumerate(words) if re.search(rf"\b{word}", plain)), None)


def _plain(title: str) -> str:
    """In lower case, without accents and marks."""
    letters = "".join(c for c in normalize("NFKD", title) if c.isascii())
    return " ".join(re.sub(r"[^a-z0-9]+", " ", letters.lower()).split())


def _currency(prices: Iterable[str]) -> str:
    """The currency that stands beside the prices, where that leaves no doubt."""
    seen: Counter[str] = Counter()
    for text in prices:
        for style in FigureStyle:
            try:
                seen[read_amount(text, style).currency] += 1
            except Unreadable:
                continue
            break
    sign = next((sign for sign, _ in seen.most_common() if sign), "")
    meant = CURRENCIES_OF_SIGN.get(sign, (sign.upper(),) if sign else ())
    return meant[0] if len(meant) == 1 else ""
