"""How a spoiled design is held against the rule that it breaks."""

from planner.brief.records import Brief
from planner.checks import verify
from planner.design import Design, Severity
from tests.checks.drawing import Spoil
from tests.checks.gear import CATALOGUE, HOUSE
from tests.checks.good_designs import Drawn


def assert_found(drawn: Drawn, spoil: Spoil, rule: str, words: str) -> None:
    """A finding of this rule has these words, and every finding makes the design invalid."""
    design, brief = drawn()
    spoiled = spoil(design)
    assert spoiled != design
    assert_told(spoiled, brief, rule, words)


def assert_told(design: Design, brief: Brief, rule: str, words: str) -> None:
    """A finding of this rule has these words in its subject or sentence."""
    verdict = verify(design, brief, CATALOGUE, HOUSE)
    assert not verdict.is_valid
    findings = verdict.findings
    assert {finding.severity for finding in findings} == {Severity.INVALID}
    told = [f"{finding.subject}: {finding.message}" for finding in findings if finding.rule == rule]
    assert any(words in sentence for sentence in told), findings
