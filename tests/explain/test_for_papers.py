"""What the papers take of an explanation: the very sentences of its JSON, in the workbook as text, each once."""

import io
import json
from typing import Any

import openpyxl

from planner.comparison.gear import names
from planner.documents.compared import columns
from planner.documents.job import Job, job_of
from planner.documents.papers_json import papers_json
from planner.documents.price_reasons import price_reasons
from planner.documents.why_told import NOTHING_ASKED, WhyTold
from planner.documents.workbook.book import workbook
from planner.explain.for_papers import why_told
from planner.words import capital
from tests.explain.test_sentences import asked, explained, nodes, sentences, tree

NAME = "stages and rooms"


def told() -> WhyTold:
    return why_told(explained(NAME), names(asked(NAME)[0].catalogue))


def job() -> Job:
    instance, _ = asked(NAME)
    return job_of(
        None,
        explained(NAME).result,
        brief=instance.brief,
        catalogue=instance.catalogue,
        house=instance.house,
        why=told(),
    )


def test_every_sentence_is_one_of_the_json_and_every_question_has_its_section() -> None:
    known = {capital(text) for node in nodes(tree(NAME)) for text in sentences(node)}
    titles = [section.title for section in told().sections]
    for title in ("Price steps: subwoofers", "If rates and prices move", "Now and later", "Several rooms in one order"):
        assert title in titles
    for section in told().sections:
        assert section.sentences
        if section.title != "If rates and prices move":  # the bands themselves are numbers in the JSON
            assert set(section.sentences) <= known, section.title
    assert set(told().one_more) <= known


def test_the_workbook_has_a_sheet_of_them_and_none_where_nothing_was_asked() -> None:
    sheet = openpyxl.load_workbook(io.BytesIO(workbook(job())))["Why"]
    written = [row[0].value for row in sheet.iter_rows(min_row=5)]
    assert written == [text for section in told().sections for text in (section.title, *section.sentences)]
    bare = workbook(job_without())
    assert "Why" not in openpyxl.load_workbook(io.BytesIO(bare)).sheetnames


def job_without() -> Job:
    instance, _ = asked(NAME)
    return job_of(
        None, explained(NAME).result, brief=instance.brief, catalogue=instance.catalogue, house=instance.house
    )


def test_client_and_programs_get_what_is_theirs() -> None:
    written: Any = json.loads(papers_json(job()))
    assert [section["title"] for section in written["why"]] == [section.title for section in told().sections]
    assert price_reasons(job(), columns(job().compared))["one_more"] == list(told().one_more)


def test_an_answer_without_a_design_has_nothing_to_tell() -> None:
    assert why_told(explained("no design"), names(asked("no design")[0].catalogue)) == NOTHING_ASKED
