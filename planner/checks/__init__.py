"""The independent verifier of designs: `verify` for one, `Verifier` for many."""

from planner.checks.verdict import Verdict
from planner.checks.verifier import Verifier, verify

__all__ = ["Verdict", "Verifier", "verify"]
