"""Sound catalogues: what the records hold, and the forms of file that are accepted."""

import csv
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from planner.catalogue import read_catalogue, read_catalogue_bytes
from planner.catalogue.records import Catalogue, Controls, Mains, Offer, OutputStage, PortRole, Powering, Processor
from planner.contacts import BARE_TAIL, Connector, Contact, Direction, Gender
from planner.house_file import read_house
from tests.catalogue.sample import HEADER_ONLY, SAMPLE, encoded, messages, spoilt

PUBLISHED = Path(__file__).resolve().parents[1] / "published"
DEMO = Path(__file__).resolve().parents[2] / "catalogue_demo"


@pytest.fixture(scope="module")
def sample() -> Catalogue:
    return read_catalogue_bytes(encoded(SAMPLE))


def test_reads_every_field_of_a_row(sample: Catalogue) -> None:
    assert sample.processors[0] == Processor(
        sku="P1",
        name="Processor of sixteen",
        rendered_channels=16,
        processed_outputs=16,
        controls=Controls(gain=True, polarity=True, max_delay_ms=100.0, filters=20, crossover_ways=2),
        card_slots=2,
        noise_dbu=-96.5,
    )


def test_an_empty_cell_or_absent_column_means_the_default(sample: Catalogue) -> None:
    receiver = sample.processors[1]
    assert (receiver.card_slots, receiver.noise_dbu, receiver.mains) == (0, None, Mains())
    assert sample.loudspeakers[0].ways == 1


def test_quoted_cells_hold_commas(sample: Catalogue) -> None:
    # RFC 4180 section 2 rule 6: fields containing commas are enclosed in double quotes.
    assert sample.processors[1].name == "Receiver, small"


def test_ports_are_grouped_by_device_inputs_first(sample: Catalogue) -> None:
    assert [(p.direction, p.name) for p in sample.ports["S-A"]] == [(Direction.IN, "IN"), (Direction.OUT, "LINK")]
    assert [p.name for p in sample.ports["L-X"]] == ["1 LOW", "2 HIGH"]


def test_port_fields(sample: Catalogue) -> None:
    (port,) = sample.ports["P1"]
    assert (port.role, port.connector, port.count, port.balanced) == (PortRole.ASSIGNABLE, Connector.XLR, 16, True)
    assert (port.output_stage, port.max_level_dbu, port.impedance_ohm) == (OutputStage.SYMMETRICAL, 20.0, 100.0)
    assert sample.ports["CARD"][0].pin_order == ("+", "-", "shield")


def test_trade_names_of_channels_become_labels(sample: Catalogue) -> None:
    # Rec. ITU-R BS.2051-3, Table 4: L, C and R of system B are M+030, M+000 and M-030.
    assert sample.ports["R1"][0].channels == ("M+030", "M+000", "M-030")


def test_ls_beside_a_rear_channel_is_the_side_channel() -> None:
    # Rec. ITU-R BS.2051-3, Tables 3 to 12: a system with M+135 has M+090 beside it, and none has M+110.
    systems: dict[str, set[str]] = {}
    with (PUBLISHED / "bs2051_layouts.csv").open(encoding="utf-8") as stream:
        for row in csv.DictReader(stream):
            systems.setdefault(row["system"], set()).add(row["label"])
    assert all({"M+090", "M+110"} & labels == {"M+090"} for labels in systems.values() if "M+135" in labels)
    ports = SAMPLE["ports.csv"].replace("rca,no,3,L;C;R", "rca,no,4,Ls;Rs;Lrs;Rrs")
    read = read_catalogue_bytes(encoded({**SAMPLE, "ports.csv": ports}))
    assert read.ports["R1"][0].channels == ("M+090", "M-090", "M+135", "M-135")


def test_offers_keep_the_price_exactly(sample: Catalogue) -> None:
    assert sample.offers["P1"] == (
        Offer(
            sku="P1", supplier="Acme", currency="EUR", price=Decimal("4999.00"), priced_on=date(2026, 11, 1), stock=3
        ),
        Offer(sku="P1", supplier="Best", currency="USD", price=Decimal(5100), priced_on=date(2026, 10, 15)),
    )
    assert sample.offers["CABLE"][0].price == Decimal("0.125")
    assert sample.offers["LEAD"][0].least_order == 10


def test_an_item_without_an_offer_is_no_fault(sample: Catalogue) -> None:
    assert "A2" not in sample.offers
    assert sample.amplifiers[0].sku == "A2"


def test_contacts() -> None:
    leads = SAMPLE["leads.csv"] + "TAIL,Half a lead,XLR  Female,bare,yes,2\n"
    read = read_catalogue_bytes(encoded({**SAMPLE, "leads.csv": leads}))
    assert read.leads[1].end_a == Contact(Connector.XLR, Gender.FEMALE)
    assert read.leads[1].end_b == BARE_TAIL


def test_absent_sheets_count_as_empty() -> None:
    read = read_catalogue_bytes(
        encoded({name: HEADER_ONLY[name] for name in ("processors.csv", "ports.csv", "prices.csv")})
    )
    assert read == Catalogue()


@pytest.mark.parametrize(
    ("name", "change"),
    [
        ("byte order mark", lambda text: "\ufeff" + text),
        ("carriage returns and line feeds", lambda text: text.replace("\n", "\r\n")),
        ("carriage returns alone", lambda text: text.replace("\n", "\r")),
        ("blank rows", lambda text: text + "\n,,,\n \n"),
        ("a blank row between", lambda text: text.replace("\n", "\n\n", 2)),
        ("no line end", lambda text: text.rstrip("\n")),
        ("blanks round cells", lambda text: text.replace(",", " ,").replace("EUR", "  EUR\u00a0")),
        ("titles in capitals", lambda text: text.replace("least_order", "Least Order").replace("price,", "PRICE,")),
        ("empty columns at the end", lambda text: text.replace("\n", ",,\n")),
    ],
)  # fmt: skip
def test_the_same_whatever_the_program_that_saved_it(name: str, change: object) -> None:
    assert callable(change)
    files = {**SAMPLE, "prices.csv": change(SAMPLE["prices.csv"])}
    assert read_catalogue_bytes(encoded(files)) == read_catalogue_bytes(encoded(SAMPLE)), name


def test_columns_may_stand_in_any_order() -> None:
    rows = [line.split(",") for line in SAMPLE["prices.csv"].splitlines()]
    turned = "\n".join(",".join(reversed(row)) for row in rows)
    assert read_catalogue_bytes(encoded({**SAMPLE, "prices.csv": turned})) == read_catalogue_bytes(encoded(SAMPLE))


def test_file_names_in_capitals_and_with_folders_are_known() -> None:
    files = {f"upload\\gear/{name.upper()}": content for name, content in encoded(SAMPLE).items()}
    assert read_catalogue_bytes(files) == read_catalogue_bytes(encoded(SAMPLE))


def test_house_settings_among_uploaded_files_are_passed_over() -> None:
    assert messages({**SAMPLE, "house.toml": "[house]"}) == []


def test_a_folder_reads_as_its_files_do(tmp_path: Path, sample: Catalogue) -> None:
    for name, text in SAMPLE.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    (tmp_path / "house.toml").write_text("", encoding="utf-8")
    (tmp_path / "journal of visits.csv").write_text("not ours", encoding="utf-8")
    assert read_catalogue(tmp_path) == sample


@pytest.mark.parametrize("text", ["TRUE", "Yes", "true", "YES"])
def test_yes_in_other_words(text: str) -> None:
    files = spoilt("dsp_units.csv", "10,2,2,1,yes", f"10,2,2,1,{text}")
    assert read_catalogue_bytes(encoded(files)).dsp_units[1].mains.class_ii is True


def test_a_processor_may_have_all_its_outputs_on_cards() -> None:
    ports = SAMPLE["ports.csv"].replace("P1,OUT,out,assignable,xlr,yes,16,,symmetrical,20,,100,\n", "")
    assert messages({**SAMPLE, "ports.csv": ports}) == []


def test_a_digital_jack_carries_many_signals() -> None:
    # AES67 (from memory): one network port carries several streams of several channels each, so
    # the number of jacks says nothing of the number of signals.
    ports = SAMPLE["ports.csv"].replace("D24,IN,in,plain,rca,no,2", "D24,IN,in,plain,aes67,no,1")
    assert messages({**SAMPLE, "ports.csv": ports}) == []


def test_powering_of_the_sample(sample: Catalogue) -> None:
    assert [s.powering for s in sample.loudspeakers] == [Powering.ACTIVE, Powering.PASSIVE, Powering.CROSSED]


def test_the_demo_catalogue_is_sound() -> None:
    catalogue = read_catalogue(DEMO)
    house = read_house(DEMO)
    currencies = {offer.currency for offers in catalogue.offers.values() for offer in offers}
    assert currencies <= {house.currency, *house.rates}
