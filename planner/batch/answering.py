"""One brief of a batch, answered in a process of its own: whatever goes wrong is told, and stays here."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planner.batch.keys import brief_key, content_of
from planner.batch.records import Outcome, Told
from planner.brief import read_brief
from planner.brief.against import brief_faults
from planner.catalogue.records import Catalogue
from planner.errors import BadInput, bug_report
from planner.house import House
from planner.options import Result
from planner.result_json import as_text, result_tree
from planner.tables.relaxations import relaxation_words


@dataclass(frozen=True, kw_only=True, slots=True)
class Answering:
    """How a brief is answered; all of it can be sent to another process. `shared`: the key of `shared_key`."""

    catalogue: Catalogue
    house: House
    shared: str
    time_limit_s: float

    def __call__(self, path: Path) -> Told:
        """What became of the brief in a file. Raises nothing that Python lets be caught."""
        key = brief_key(content_of(path), self.shared)
        try:
            return self._answered(path, key)
        except BadInput as error:
            faults = tuple(str(fault) for fault in error.faults)
            return Told(brief=path.stem, key=key, outcome=Outcome.BAD_INPUT, words=faults)
        except Exception as error:  # a bug in one brief must not stop the others
            words = (*bug_report(error), "Please report these lines, with the brief and the catalogue.")
            return Told(brief=path.stem, key=key, outcome=Outcome.BUG, words=words)

    def _answered(self, path: Path, key: str) -> Told:
        brief = read_brief(path)
        if faults := brief_faults(brief, self.catalogue, self.house, path.name):
            raise BadInput(faults)
        from planner.answer import answer  # late: the solver is loaded where it works, and only where it does

        result = answer(brief, self.catalogue, self.house, time_limit_s=self.time_limit_s)
        return Told(
            brief=path.stem,
            key=key,
            outcome=Outcome(result.status.value),
            words=tuple(_words(result)),
            result=as_text(result_tree(result, brief, self.catalogue)),
        )


def _words(result: Result) -> Iterator[str]:
    for sentence in result.conflict:
        yield f"Cannot hold together: {sentence}"
    for relaxation in result.relaxations:
        yield f"Would mend it: {relaxation_words(relaxation, result.currency)}"
    yield from result.unproven
