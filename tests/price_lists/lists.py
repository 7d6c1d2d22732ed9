"""Suppliers' lists as they come, each with its own habits. All suppliers and prices are invented."""

from datetime import date
from io import BytesIO
from pathlib import Path

from openpyxl import Workbook

from planner.catalogue import read_catalogue
from planner.house_file import read_house

DEMO = Path(__file__).resolve().parents[2] / "catalogue_demo"
CATALOGUE = read_catalogue(DEMO)
HOUSE = read_house(DEMO)
SKUS = tuple(item.sku for item in CATALOGUE.items())
DAY = date(2026, 11, 20)

GERMAN = """\
Tallow & Söhne GmbH;;;;
Preisliste gültig ab 20.11.2026;;;;

Art.-Nr.;Bezeichnung;UVP (inkl. MwSt.);Einkaufspreis netto;Lager
receiver-7-mirrored;Siebenkanal-Receiver;999,00 €;631,00 €;12
amp-1-500-xlr;Verstärker;1.799,00 €;1.204,50 €;0
splitter-rca-y;"Y-Adapter; vergoldet";9,90 €;4,-- €;2.400
""".encode("cp1252")

ENGLISH = (
    "SKU\tDescription\tUnit Price\tCurrency\tPrice date\r\n"
    "receiver-7-mirrored\tReceiver\t1,089.50\tGBP\t03/11/2026\r\n"
    "amp-1-500-xlr\tAmplifier\t849\tUSD\t25/11/2026\r\n"
).encode("utf-16")

FAULTY = b"""\
code,price,currency,min order
receiver-7-mirrored,abc,EUR,1
amp-1-500-xlr,-5,EUR,1
,12.00,EUR,1
splitter-rca-y,4.00,QQQ,1
adapter-rca-female-xlr-male,3.00,EUR,1
adapter-rca-female-xlr-male,3.50,EUR,1
no-such-thing,99.00,EUR,1
bulk-balanced,1.10,EUR,ten
isolator-rca,,EUR,1
isolator-xlr,"$ 45.00",EUR,1
"""


def workbook(*rows: tuple[object, ...], title: str = "Prices", letterhead: str = "") -> bytes:
    """A workbook with one sheet of notes and one of rows."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = title
    if letterhead:
        sheet.append((letterhead,))
    for row in rows:
        sheet.append(row)
    notes = book.create_sheet("Notes")
    notes.append(("Delivery in two weeks",))
    stream = BytesIO()
    book.save(stream)
    return stream.getvalue()
