"""The client's proposal, read back: its figures are the quote's, and it tells the client nothing of cost."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from planner.documents.client_price import price
from planner.documents.compared import columns, compared_options
from planner.documents.job import job_of
from planner.documents.proposal import proposal, proposal_data
from planner.errors import BadInput, WrongUsage
from planner.house import Logo, LogoFormat, Stationery
from planner.money import from_minor
from planner.tables.amounts import amount, figure
from tests.documents.jobs import LARGE, NONE, QUICK, SMALL, demo_job
from tests.documents.pages import pages, text_of
from tests.plan.demo import demo_brief, demo_catalogue, demo_house, demo_result


@pytest.mark.parametrize("name", [NONE, SMALL, "upgrade-around-owned-gear"])
def test_it_says_whose_it_is_what_it_costs_and_until_when(name: str) -> None:
    job = demo_job(name)
    text = text_of(proposal(job))
    project = job.brief.project
    for said in (
        job.house.name,
        project.name,
        project.client,
        project.reference,
        amount(job.option.quote.total_minor, job.currency),
        figure(job.option.quote.subtotal_minor, job.currency),
        figure(job.option.quote.tax_minor, job.currency),
        job.house.tax_name,
        "Valid until",
    ):
        assert said in text, said
    for option in job.compared:
        assert figure(option.quote.total_minor, job.currency) in text


def test_every_page_is_numbered_out_of_all() -> None:
    read = pages(proposal(demo_job(LARGE)))
    assert len(read) > 1
    for number, page in enumerate(read, start=1):
        assert f"{number} / {len(read)}" in page


def test_validity_counts_from_the_date_of_the_brief() -> None:
    job = demo_job(SMALL)
    dated = replace(job.brief, project=replace(job.brief.project, dated=date(2024, 2, 27)))
    house = replace(job.house, stationery=Stationery(valid_days=3))
    # 2024 is a leap year (ISO 8601 calendar): 28 and 29 February, 1 March.
    assert proposal_data(replace(job, brief=dated, house=house), None)["valid_until"] == "1 March 2024"


@pytest.mark.parametrize("name", QUICK)
def test_the_lines_add_up_to_the_quote(name: str) -> None:
    job = demo_job(name)
    shown = price(job)
    sums = [number(group["sum"]) for group in shown["groups"]]  # type: ignore[attr-defined]
    assert sum(sums) == number(shown["subtotal"])
    assert number(shown["subtotal"]) + number(shown["tax"]) == number(shown["total"])
    assert number(shown["total"]) == from_minor(job.option.measures.price_minor, job.currency)
    for group in shown["groups"]:  # type: ignore[attr-defined]
        assert sum(number(row["sum"]) for row in group["rows"]) == number(group["sum"])


def number(text: object) -> Decimal:
    return Decimal(0) if text == "–" else Decimal(str(text).replace(",", ""))


def test_a_summary_shows_groups_and_no_article() -> None:
    job = demo_job("upgrade-around-owned-gear")
    summarised = replace(job, house=replace(job.house, stationery=Stationery(itemised=False)))
    article = demo_catalogue().offers
    names = {item.name for item in job.catalogue.items() if item.sku in article}
    bought = {line["what"] for group in price(job)["groups"] for line in group["rows"]} & names  # type: ignore[attr-defined]
    assert any(name in text_of(proposal(job)) for name in bought)
    text = text_of(proposal(summarised)).partition("The price")[2]
    assert "Loudspeakers" in text
    assert not any(name in text for name in bought)


@pytest.mark.parametrize("name", [SMALL, "upgrade-around-owned-gear"])
def test_the_client_learns_neither_cost_nor_margin_nor_supplier(name: str) -> None:
    job = demo_job(name)
    text = text_of(proposal(job))
    selling = {
        figure(minor, job.currency)
        for line in job.option.design.purchases
        for minor in (line.unit_price_minor, line.unit_price_minor * line.count)
    } | {figure(line.unit_price_minor, job.currency) for line in job.option.design.labour}
    costs = {
        f"{offer.price:,.2f}"
        for line in job.option.design.purchases
        for offer in job.catalogue.offers.get(line.sku, ())
    }
    assert costs
    for cost in costs - selling:
        assert f" {cost} " not in text, cost
    for line in job.option.design.purchases:
        assert line.supplier == "owned" or line.supplier not in text
    assert "margin" not in text.lower()
    assert "mark-up" not in text.lower()


def test_two_to_four_options_stand_side_by_side_the_chosen_one_among_them() -> None:
    result = demo_result(LARGE)
    for option in result.options:
        shown = compared_options(result, option)
        assert 2 <= len(shown) <= 4
        assert option in shown
        assert [each.measures.price_minor for each in shown] == sorted(each.measures.price_minor for each in shown)


def test_a_single_option_stands_alone() -> None:
    job = demo_job(SMALL)
    alone = replace(job, result=replace(job.result, options=(job.option,)), compared=(job.option,))
    assert compared_options(alone.result, job.option) == (job.option,)
    assert "side by side" not in text_of(proposal(alone))


def test_options_beside_it_can_be_named() -> None:
    result = demo_result(LARGE)
    terms = {"brief": demo_brief(LARGE), "catalogue": demo_catalogue(), "house": demo_house()}
    job = job_of("4", result, beside=["1", "5"], **terms)  # type: ignore[arg-type]
    assert [option.id for option in job.compared] == ["1", "4", "5"]
    with pytest.raises(WrongUsage, match=r"no option 9\. The options are 1, 2, 3, 4, 5\."):
        job_of("4", result, beside=["9"], **terms)  # type: ignore[arg-type]
    with pytest.raises(WrongUsage, match="at most 4"):
        job_of("4", result, beside=["1", "2", "3", "5"], **terms)  # type: ignore[arg-type]


def test_what_each_buys_and_gives_up_follows_from_the_figures() -> None:
    # By hand, from the printed trade-off set: price, own, spare, lost of options 1, 4 and 5.
    result = demo_result(LARGE)
    shown = [option for option in result.options if option.id in ("1", "4", "5")]
    shown = [replace(each, measures=replace(each.measures, bass_spread_db=None)) for each in shown]
    figures = [(m.independent_subs, m.spare_outputs, m.subs_lost_worst) for m in (each.measures for each in shown)]
    assert figures == [(2, 0, 2), (4, 0, 2), (4, 3, 1)]
    least, middle, most = columns(shown)
    assert least.gets == ("The lowest price of these.",)
    assert plain(least.gives_up) == (
        "2 of 4 subwoofers can be set on their own (B and C: 4).",
        "One faulty plug or box silences at most 2 subwoofers of 4 (C: 1).",
        "No output is left for a loudspeaker to come (C: 3).",
    )
    assert middle.gives_up[0] == "EUR 612.56 more than A."
    assert len(most.gets) == 3
    assert most.gives_up == ("EUR 3,066.00 more than A.",)


def plain(sentences: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(sentence.replace("\N{NO-BREAK SPACE}", " ") for sentence in sentences)


def test_a_system_without_subwoofers_says_nothing_of_them() -> None:
    text = text_of(proposal(demo_job(NONE)))
    assert "no subwoofer" in text
    assert "silences" not in text
    assert "Subwoofers" not in text


def test_yen_are_printed_without_decimals() -> None:
    job = demo_job(NONE)
    assert job.currency == "JPY"  # ISO 4217: no minor unit
    assert f"JPY {job.option.quote.total_minor:,} " in text_of(proposal(job))


def test_names_with_accents_and_long_names_come_out_whole() -> None:
    job = demo_job(SMALL)
    name, client = "Łódź – Ærø – Šiauliai – Ελλάδα – Москва", "Wolfeschlegelsteinhausenbergerdorff " * 5
    project = replace(job.brief.project, name=name, client=client.strip())
    text = text_of(proposal(replace(job, brief=replace(job.brief, project=project))))
    assert name in text
    assert client.strip() in text


def test_an_accent_apart_from_its_letter_finds_it() -> None:
    job = demo_job(SMALL)
    project = replace(job.brief.project, name="Cafe\N{COMBINING ACUTE ACCENT}")
    assert "Café" in text_of(proposal(replace(job, brief=replace(job.brief, project=project))))


def test_markup_in_a_name_is_printed_as_it_stands() -> None:
    job = demo_job(SMALL)
    name = "#let x = 1; $a$ *bold* _it_ @ref <label> `code` \\ //no comment"
    project = replace(job.brief.project, name=name)
    assert name in text_of(proposal(replace(job, brief=replace(job.brief, project=project))))


SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><rect width="40" height="20" fill="#123"/></svg>'


def test_a_logo_is_printed_and_a_broken_one_is_told() -> None:
    job = demo_job(SMALL)
    bare = proposal(replace(job, house=replace(job.house, stationery=Stationery())))
    with_logo = replace(job.house, stationery=Stationery(logo=Logo(file="a.svg", format=LogoFormat.SVG, content=SVG)))
    assert len(proposal(replace(job, house=with_logo))) > len(bare)
    broken = Logo(file="a.png", format=LogoFormat.PNG, content=b"\x89PNG\r\n\x1a\nbroken")
    with pytest.raises(BadInput, match=r"a\.png"):
        proposal(replace(job, house=replace(job.house, stationery=Stationery(logo=broken))))


def test_the_same_job_gives_the_same_bytes() -> None:
    assert proposal(demo_job(SMALL)) == proposal(demo_job(SMALL))
