"""What a price list brings: what is taken and changed, refused, unknown, and gone."""

from collections.abc import Callable, Mapping, Sequence

import pandas as pd
import streamlit as st
from streamlit.column_config import NumberColumn, SelectboxColumn, TextColumn

from planner.price_lists.importing import Line, News, PriceImport, Unknown, large_changes, news_counts
from planner.words import counted
from ui.markup import literal
from ui.widgets.faults import file_faults
from ui.widgets.items import ItemNames

_NEWS_WORDS: Mapping[News, str] = {
    News.NEW: "new",
    News.DEARER: "dearer",
    News.CHEAPER: "cheaper",
    News.OTHER_CURRENCY: "other currency",
    News.SAME: "as before",
}


def summary(found: PriceImport) -> None:
    """How many rows came to what."""
    counts = news_counts(found)
    changed = counts[News.DEARER] + counts[News.CHEAPER] + counts[News.OTHER_CURRENCY]
    figures = (
        ("Taken", len(found.lines)),
        ("of these changed", changed),
        ("of these new", counts[News.NEW]),
        ("Refused", len(found.rejected)),
        ("Unknown", len(found.unknown)),
        ("No longer listed", len(found.missing)),
    )
    with st.container(horizontal=True, gap="medium"):
        for label, value in figures:
            st.metric(label, value, width="content")
    large = list(large_changes(found))
    if large:
        named = ", ".join(f"{line.offer.sku} ({line.change_percent:+} %)" for line in large[:5])
        more = f" and {len(large) - 5} more" if len(large) > 5 else ""
        st.warning(f"Large changes, to be looked at: {literal(named)}{more}.", icon=":material/trending_up:")


def lines(found: PriceImport, names: ItemNames) -> None:
    """Every row that was taken, with what it was before."""
    if not found.lines:
        st.markdown("No row can be taken as it stands.")
        return
    rows = [_row(line, names) for line in found.lines]
    st.dataframe(
        pd.DataFrame(rows),
        hide_index=True,
        key="list_lines",
        column_config={
            "Row": NumberColumn(width=60),
            "Gear": TextColumn(width=300),
            "Price": TextColumn(width=110),
            "Before": TextColumn(width=110),
            "Change, %": NumberColumn(format="%+.1f", width=90),
        },
        alt="Rows that are taken",
        placeholder="",
    )


def refused(found: PriceImport) -> None:
    """Every row that cannot be taken, with its remedy."""
    if found.rejected:
        file_faults(found.rejected, key="list")
    else:
        st.markdown("No row is refused.")


def unknown(rows: Sequence[Unknown], names: ItemNames, key: str) -> dict[str, str]:
    """Rows whose code nobody knows; the skus that the user gives for them, by code."""
    if not rows:
        st.markdown("Every code is known.")
        return {}
    st.markdown("Say which gear a code stands for, and it is remembered for the next list. Other rows are left out.")
    frame = pd.DataFrame(
        {
            "Row": [row.row for row in rows],
            "Code": [row.code for row in rows],
            "Description": [row.name for row in rows],
            "Price": [row.price for row in rows],
            "This is": pd.Series([None] * len(rows), dtype="object"),
        }
    )
    edited = st.data_editor(
        frame,
        key=f"list_unknown.{key}",
        hide_index=True,
        disabled=["Row", "Code", "Description", "Price"],
        column_config={"This is": SelectboxColumn(options=list(names.skus), format_func=_words_of(names), width=300)},
        alt="Codes that are not known",
        placeholder="choose one",
    )
    named = zip(edited["Code"], edited["This is"], strict=True)
    return {str(code): str(sku) for code, sku in named if isinstance(sku, str) and sku}


def missing(found: PriceImport, names: ItemNames) -> bool:
    """Offers that the list no longer has; whether they are to be withdrawn."""
    if not found.missing:
        st.markdown("Everything that this supplier offered is in the list.")
        return False
    rows = [
        {
            "Gear": literal(names.words(offer.sku)),
            "Price": literal(f"{offer.currency} {offer.price:,}"),
            "As of": offer.priced_on.isoformat(),
        }
        for offer in found.missing
    ]
    st.table(rows, border="horizontal", alt="No longer listed")
    return st.toggle(
        f"Withdraw {counted(len(found.missing), 'offer')}", key="list_withdraw", help="Else they stay as they were."
    )


def _row(line: Line, names: ItemNames) -> dict[str, object]:
    before, change = line.before, line.change_percent
    return {
        "Row": line.row,
        "Gear": names.words(line.offer.sku),
        "News": _NEWS_WORDS[line.news],
        "Price": f"{line.offer.currency} {line.offer.price:,}",
        "Before": "" if before is None else f"{before.currency} {before.price:,}",
        "Change, %": None if change is None else float(change),
        "As of": line.offer.priced_on.isoformat(),
    }


def _words_of(names: ItemNames) -> Callable[[object], str]:
    return lambda sku: names.words(str(sku))
