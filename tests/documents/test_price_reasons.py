"""Why the price is what it is: every sum that the client is shown adds up to the minor unit."""

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.documents.compared import columns
from planner.documents.job import Job, job_of
from planner.documents.price_reasons import percents, price_reasons
from planner.documents.proposal import proposal
from planner.documents.why_told import WhyTold
from planner.money import from_minor
from planner.options import Status
from planner.tables.amounts import figure
from tests.documents.jobs import LARGE, NONE, QUICK, SMALL, demo_job
from tests.documents.pages import text_of
from tests.plan.demo import demo_brief, demo_catalogue, demo_house, demo_result


def every_option(name: str) -> Iterator[Job]:
    """Each of a few options as the chosen one."""
    for option in demo_result(name).options[:3]:
        yield job_of(
            option.id, demo_result(name), brief=demo_brief(name), catalogue=demo_catalogue(), house=demo_house()
        )


def reasons(job: Job) -> Any:
    return price_reasons(job, columns(job.compared))


def number(text: str) -> Decimal:
    return Decimal(text.replace(",", "").replace("\N{MINUS SIGN}", "-").replace("\N{NARROW NO-BREAK SPACE}", ""))


@pytest.mark.parametrize("name", QUICK)
def test_the_parts_add_up_to_the_price_and_its_tax(name: str) -> None:
    job, quote = demo_job(name), demo_job(name).option.quote
    shown = reasons(job)
    for key, minor in (
        ("gear", quote.gear_minor),
        ("work", quote.labour_minor),
        ("tax", quote.tax_minor),
        ("sum", quote.total_minor),
    ):
        assert sum(number(part[key]) for part in shown["parts"]) == from_minor(minor, job.currency)
    for part in shown["parts"]:
        assert number(part["gear"]) + number(part["work"]) + number(part["tax"]) == number(part["sum"])


@pytest.mark.parametrize("name", [NONE, SMALL, "upgrade-around-owned-gear"])
def test_what_differs_adds_up_to_the_difference_whichever_option_is_chosen(name: str) -> None:
    for job in every_option(name):
        others = [option for option in job.compared if option is not job.option]
        steps = reasons(job)["steps"]
        for other, step in zip(others, steps, strict=True):
            difference = abs(other.quote.total_minor - job.option.quote.total_minor)
            assert number(step["together"]) == from_minor(difference, job.currency)
            assert sum(number(row["sum"]) for row in step["rows"]) == number(step["together"])
            assert figure(difference, job.currency) in step["sentence"]


def test_the_client_reads_what_the_dearer_option_buys_and_what_it_is_made_of() -> None:
    # By hand, from the printed trade-off set: options 1 (A) and 4 of the demo brief, and what 4 has more. Whether a
    # third one is shown between them hangs on how smooth its bass is, which nobody weighs there: designs tie.
    job = demo_job(LARGE, "4")
    text = text_of(proposal(job))
    assert re.search(
        "Option [BC] costs EUR 612.56 more than option A. It gives 4 subwoofers tuned on their own instead of 2", text
    )
    assert "without XLR splitter" in text
    assert "18 instead of 17" in text
    assert re.search("The loudspeakers(?: and subwoofers)? cost the same in every option shown", text)


def test_only_a_proven_set_is_said_to_be_the_least_expensive() -> None:
    job = demo_job(SMALL)
    said = "none that offers as much costs less"
    assert said in " ".join(reasons(job)["opening"])
    partial = replace(job, result=replace(job.result, status=Status.PARTIAL))
    assert said not in " ".join(reasons(partial)["opening"])


def test_what_is_owned_is_said_to_be_and_costs_work_only() -> None:
    parts = reasons(demo_job("upgrade-around-owned-gear"))["parts"]
    owned = next(part for part in parts if part["words"].startswith("Processor"))
    assert owned["words"] == "Processor, yours already, installed"
    assert (owned["gear"], owned["work"]) == ("0.00", "97.50")


def test_what_a_little_more_would_cost_is_told_where_it_was_asked() -> None:
    job = demo_job(SMALL)
    sentence = "One more subwoofer costs GBP 1.00 more."
    assert sentence in text_of(proposal(replace(job, why=WhyTold(one_more=(sentence,)))))
    assert "What a little more would cost" not in text_of(proposal(job))


@given(st.lists(st.integers(min_value=0, max_value=10**9), min_size=1, max_size=8).filter(any))
def test_percents_add_up_and_are_each_the_next_whole_one(minors: list[int]) -> None:
    shares = percents(minors)
    assert sum(shares) == 100
    assert all(abs(100 * minor / sum(minors) - share) < 1 for minor, share in zip(minors, shares, strict=True))
