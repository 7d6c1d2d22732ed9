"""Faulty catalogues: the sentence said of each fault, all of them at once, and none besides."""

from pathlib import Path

import pytest

from tests.catalogue.sample import HEADER_ONLY, SAMPLE, messages, spoilt

SINGLE_FAULTS = Path(__file__).with_name("faults.txt")


def _single_faults() -> list[tuple[str, str, str, str]]:
    """File, text in it, text put in its place, and what is said of it."""
    lines = [line for line in SINGLE_FAULTS.read_text(encoding="utf-8").splitlines() if line and line[0] != "#"]
    cases = []
    for change, said in zip(lines[::2], lines[1::2], strict=True):
        name, _, texts = change.replace("\\n", "\n").partition(": ")
        old, _, new = texts.partition(" -> ")
        cases.append((f"{name}.csv", old, "" if new == "(nothing)" else new, said.strip()))
    return cases


@pytest.mark.parametrize(("file", "old", "new", "said"), _single_faults())
def test_one_fault_one_message(file: str, old: str, new: str, said: str) -> None:
    assert messages(spoilt(file, old, new)) == [said]


def test_a_long_value_is_shown_shortened() -> None:
    (message,) = messages(spoilt("processors.csv", "Processor of sixteen", "x" * 201))
    shown = "x" * 80
    assert f'column name: found "{shown}…"; expected at most 200 characters. Shorten it.' in message


def test_a_processor_without_outputs() -> None:
    ports = "\n".join(line for line in SAMPLE["ports.csv"].splitlines() if not line.startswith("R1,"))
    assert messages({**SAMPLE, "ports.csv": ports}) == [
        'processors.csv row 3, column sku: found no output of "R1"; expected at least one output of a processor. '
        "Add its ports to the sheet of ports, or correct the device."
    ]


TWENTY_FAULTS = {
    **HEADER_ONLY,
    "processors.csv": """\
sku,name,rendered_channels,processed_outputs,gain,polarity,max_delay_ms,filters,crossover_ways,colour
P1,One,sixteen,16,yes,yes,100,20,2,black
P2,Two,8,0,yes,perhaps,nan,20,2,black
P3,Three,8,8,yes,no,20,0,1,black
""",
    "cards.csv": "sku,name,fits,slots\nC1,Card,P8,1\n",
    "amplifiers.csv": "sku,name,channels,power_8ohm_w\nA1,Amplifier,4,100\n",
    "loudspeakers.csv": "sku,name,powering,max_spl_db\nA1,Loudspeaker,active,\nL2,,active,110\n",
    "leads.csv": """\
sku,name,end_a,end_b,balanced,length_m
LEAD,Lead,xlr,rca male,no,-2
LEAD2,Lead,rca male,rca male,no
""",
    "ports.csv": """\
device,name,direction,role,connector,balanced,count,channels,output_stage
P3,SUB,out,fixed_sub,rca,yes,2,,
P3,PRE,out,fixed_main,rca,no,4,L;R,symmetrical
P3,PRE,out,plain,rca,no,1,,
P9,OUT,out,assignable,xlr,yes,16,,
L2,IN,in,plain,xlr,yes,1,,
""",
    "prices.csv": """\
sku,supplier,currency,price,priced_on,least_order
P3,Acme,EUR,"1.299,00",2026-11-01,1
P3,Best,EURO,1299.00,1.11.2026,0
P3,Cost,USD,1299.00,2026-11-01,1
P3,Cost,GBP,1199.00,2026-11-01,1
Q7,Cost,GBP,5.00,2026-11-01,1
""",
}


def test_every_fault_is_told_at_once_in_the_order_of_the_rows() -> None:
    assert [message.partition(". ")[0] for message in messages(TWENTY_FAULTS)] == [
        'processors.csv row 1: found an unknown column "colour"; expected the columns sku, name, rendered_channels, '
        "processed_outputs, gain, polarity, max_delay_ms, filters, crossover_ways, card_slots, amp_power_8ohm_w, "
        "amp_power_4ohm_w, amp_least_load_ohm, amp_gain_db, latency_ms, noise_dbu, rack_units, idle_w, rated_w, "
        "class_ii",
        'processors.csv row 2, column rendered_channels: found "sixteen"; expected a whole number from 1 to 1000',
        'processors.csv row 3, column processed_outputs: found "0"; expected a whole number from 1 to 1000',
        'processors.csv row 3, column polarity: found "perhaps"; expected yes or no',
        'processors.csv row 3, column max_delay_ms: found "nan"; expected a number from 0 to 10000',
        'cards.csv row 2, column fits: found "P8"; expected the sku of a processor',
        "loudspeakers.csv row 2, column max_spl_db: found nothing; expected the greatest level of an active device",
        'loudspeakers.csv row 2, column sku: found "A1", which stands in amplifiers.csv row 2 already; '
        "expected each sku once in the whole catalogue",
        "loudspeakers.csv row 3, column name: found nothing; expected a value",
        'leads.csv row 2, column end_a: found "xlr"; expected a connector and a gender such as xlr male, or bare',
        'leads.csv row 2, column length_m: found "-2"; expected a number above 0 and up to 1000',
        "leads.csv row 3: found 5 cells; expected 6 cells as in the header",
        'ports.csv row 2, column balanced: found "yes" with the connector rca; expected no: an rca jack is unbalanced',
        'ports.csv row 3, column output_stage: found "symmetrical" on an unbalanced output; '
        "expected unbalanced, transformer or unknown",
        'ports.csv row 3, column channels: found "M+030;M-030"; expected 4 channels, one for each jack in order',
        'ports.csv row 4, column name: found "PRE", which stands in ports.csv row 3 already; '
        "expected each name once on a device",
        'ports.csv row 4, column role: found "plain"; '
        "expected fixed_main or fixed_sub or mirrored_sub or assignable at an output of this device",
        'ports.csv row 5, column device: found "P9"; '
        "expected the sku of a processor, card, DSP unit, amplifier, loudspeaker or subwoofer",
        'prices.csv row 2, column price: found "1.299,00"; '
        "expected a price such as 1299.00, zero or more and below 10000000000",
        'prices.csv row 3, column currency: found "EURO"; expected a currency code of three letters such as EUR',
        'prices.csv row 3, column priced_on: found "1.11.2026"; expected a date such as 2026-11-01, from 2000 to 2099',
        'prices.csv row 3, column least_order: found "0"; expected a whole number from 1 to 10000000',
        'prices.csv row 5, column supplier: found "Cost" for "P3", which stands in prices.csv row 4 already; '
        "expected one price for each sku and supplier",
        'prices.csv row 6, column sku: found "Q7"; expected the sku of an item',
    ]


# Columns and sheets


def test_a_missing_column_is_told_once_and_its_rows_are_still_read() -> None:
    prices = "sku,supplier,currency,priced_on\nP1,Acme,EUROS,2026-11-01\n"
    assert messages({**SAMPLE, "prices.csv": prices}) == [
        'prices.csv row 1: found no column "price"; expected at least the columns sku, supplier, currency, price, '
        "priced_on. Add the column and fill it in.",
        'prices.csv row 2, column currency: found "EUROS"; expected a currency code of three letters such as EUR. '
        "Write the ISO 4217 code.",
    ]


def test_a_column_without_a_name() -> None:
    (message,) = messages(spoilt("connectors.csv", "sku,name,contact\nPLUG,", "sku,name,,contact\nPLUG,x,"))
    assert message == (
        "connectors.csv row 1: found data in column 3 without a name; expected a name in row 1 for every column. "
        "Name the column, or delete it."
    )


def test_missing_sheets_are_one_fault_each() -> None:
    assert messages({"leads.csv": SAMPLE["leads.csv"]}) == [
        f"catalogue: found no {name}; expected {name}.csv, or a sheet {name} in a workbook. "
        "Add it; a header row alone will do where there is nothing to list."
        for name in ("processors", "ports", "prices")
    ]


def test_a_misspelt_file_is_told_once() -> None:
    files = {name: text for name, text in SAMPLE.items() if name != "prices.csv"}
    (message,) = messages({**files, "price.csv": SAMPLE["prices.csv"]})
    assert message.startswith("price.csv: found an unknown sheet; expected one sheet each of processors, cards,")
    assert message.endswith('Did you mean "prices"?')


def test_an_uploaded_file_of_another_kind_is_not_passed_over_in_silence() -> None:
    (message,) = messages({**SAMPLE, "holidays.csv": "a,b\n1,2\n"})
    assert message.startswith("holidays.csv: found an unknown sheet;")


def test_two_files_for_one_sheet() -> None:
    (message,) = messages({**SAMPLE, "Prices.csv": SAMPLE["prices.csv"]})
    assert message.startswith("prices.csv: found a second sheet prices beside Prices.csv;")


# One mistake does not draw others after it


def test_what_names_an_item_of_a_faulty_row_is_not_told_unknown() -> None:
    (message,) = messages(spoilt("processors.csv", "P1,Processor of sixteen,16", "P1,Processor of sixteen,x"))
    assert message.startswith("processors.csv row 2, column rendered_channels")


def test_a_device_is_not_told_short_of_a_port_that_could_not_be_read() -> None:
    (message,) = messages(spoilt("ports.csv", "A2,IN,in,plain,xlr,yes,2", "A2,IN,in,plain,xlr,yes,two"))
    assert message.startswith("ports.csv row 10, column count")


def test_a_sheet_that_cannot_be_taken_up_draws_no_unknown_items() -> None:
    (message,) = messages({**SAMPLE, "processors.csv": ""})
    assert message.startswith("processors.csv: found an empty file")


def test_a_host_of_faults_is_cut_short_and_says_so() -> None:
    rows = "".join(f"P1,Supplier {i},EUR,dear,2026-11-01\n" for i in range(12_000))
    said = messages({**SAMPLE, "prices.csv": f"sku,supplier,currency,price,priced_on\n{rows}"})
    assert len(said) == 10_001
    assert said[-1].startswith("prices.csv: found 10000 faults or more above row 10002;")


def test_the_nearest_name_is_suggested() -> None:
    ports = SAMPLE["ports.csv"].replace("D24F,OUT", "D24FF,OUT")
    assert any(
        'found "D24FF"' in m and m.endswith('Did you mean "D24F"?') for m in messages({**SAMPLE, "ports.csv": ports})
    )
