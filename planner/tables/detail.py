"""One option in full: channel ledger, output map, bill of materials, findings."""

from collections.abc import Iterator

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.design import Measures
from planner.house import House
from planner.options import Option
from planner.output_map import OutputLine, output_map
from planner.tables.amounts import amount, figure
from planner.tables.findings import finding_table
from planner.tables.layout import WIDTH, Column, display_width, grid, paragraph, section
from planner.words import TASK_WORDS, carried_words


def ledger(option: Option) -> list[str]:
    """Have, used and spare of every port group."""
    columns = (
        Column("Device", flexible=True),
        Column("Port group", flexible=True),
        Column("Have", right=True),
        Column("Used", right=True),
        Column("Spare", right=True),
    )
    rows = [(line.device, line.group, str(line.have), str(line.used), str(line.spare)) for line in option.ledger]
    return section(f"Option {option.id}: channel ledger", grid(columns, rows))


def output_table(option: Option) -> list[str]:
    """Which processor output drives what, and through which jacks."""
    columns = (
        Column("Output", flexible=True),
        Column("Channel", flexible=True),
        Column("Through", flexible=True),
        Column("Drives", flexible=True),
    )
    rows = [
        (str(line.output), channel_words(line), ", ".join(map(str, line.through)) or "-", str(line.drives))
        for line in output_map(option.design)
    ]
    return section(f"Option {option.id}: output map", grid(columns, rows))


def bill(option: Option, brief: Brief, catalogue: Catalogue, house: House) -> list[str]:
    """What is bought and done, line by line, and the sums down to the total with tax."""
    currency = option.quote.currency
    columns = (
        Column("Count", right=True),
        Column("Item", flexible=True),
        Column("Supplier", flexible=True),
        Column(f"Each, {currency}", right=True),
        Column(f"Sum, {currency}", right=True),
    )
    rows = bill_rows(option, catalogue)
    sums = [_sum_line(words, amount(minor, currency)) for words, minor in bill_sums(option, brief, house)]
    return section(f"Option {option.id}: bill of materials", [*grid(columns, rows), "", *sums])


def findings(option: Option) -> list[str]:
    """What the checks have to say of this option, under the measures that no table shows."""
    lines = paragraph(measured_words(option.measures))
    if not option.findings:
        return section(f"Option {option.id}: findings", [*lines, "None from the rules that are checked."])
    return section(f"Option {option.id}: findings", [*lines, "", *finding_table(option.findings, option.design)])


def measured_words(measures: Measures) -> str:
    """M8, M7 and M9 in a line."""
    margin_db, loops = measures.least_margin_db, measures.earth_loops
    margin = "not known" if margin_db is None else f"{margin_db:.1f} dB"
    spread = "not predicted" if measures.bass_spread_db is None else f"{measures.bass_spread_db:.2f} dB"
    return (
        f"Least level margin (M8): {margin}. Earth loops (M7): {'not known' if loops is None else loops}."
        f" Predicted bass spread (M9): {spread}."
    )


def channel_words(line: OutputLine) -> str:
    """The channel of a line with its plain words, and the way of a crossed loudspeaker."""
    return carried_words(line.channel, line.way)


def bill_rows(option: Option, catalogue: Catalogue) -> list[tuple[str, ...]]:
    """What is bought and done: count, item, supplier, price of each, and sum, as text."""
    return [*_purchases(option, catalogue), *_labour(option)]


def bill_sums(option: Option, brief: Brief, house: House) -> tuple[tuple[str, int], ...]:
    """The sums below a bill down to the total with tax: words, and minor units."""
    quote = option.quote
    tax_percent = house.tax_percent if brief.project.tax_percent is None else brief.project.tax_percent
    return (
        ("Gear and leads", quote.gear_minor),
        ("Labour", quote.labour_minor),
        ("Subtotal", quote.subtotal_minor),
        (f"{house.tax_name} {tax_percent} %", quote.tax_minor),
        ("Total", quote.total_minor),
    )


def _purchases(option: Option, catalogue: Catalogue) -> Iterator[tuple[str, ...]]:
    name_by_sku = {item.sku: item.name for item in catalogue.items()}
    for line in option.design.purchases:
        yield _bill_row(
            line.count,
            f"{line.sku}: {name_by_sku[line.sku]}",
            line.supplier,
            line.unit_price_minor,
            option.quote.currency,
        )


def _labour(option: Option) -> Iterator[tuple[str, ...]]:
    for line in option.design.labour:
        words = f"labour: {TASK_WORDS[line.task]}"
        yield _bill_row(line.count, words, "-", line.unit_price_minor, option.quote.currency)


def _bill_row(count: int, item: str, supplier: str, each_minor: int, currency: str) -> tuple[str, ...]:
    return str(count), item, supplier, figure(each_minor, currency), figure(count * each_minor, currency)


def _sum_line(words: str, money: str) -> str:
    return f"{words:>{WIDTH - 22}}{' ' * (22 - display_width(money))}{money}"
