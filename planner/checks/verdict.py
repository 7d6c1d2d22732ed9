"""What the verifier returns."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.design import Finding, LedgerLine, Measures, Severity
from planner.options import Quote


@dataclass(frozen=True, kw_only=True, slots=True)
class Verdict:
    """All that the verifier found out about one design.

    `findings` are in the order of the rules. `measures` and `quote` are worked out afresh,
    M7 to M9 left None. `drives` counts subwoofers by the value of their `Drive`.
    """

    findings: tuple[Finding, ...]
    measures: Measures
    ledger: tuple[LedgerLine, ...]
    quote: Quote
    drives: Mapping[str, int]

    @property
    def is_valid(self) -> bool:
        """Whether no rule is broken."""
        return not any(finding.severity is Severity.INVALID for finding in self.findings)
