"""Keeps what one window edits in the project store, version by version, and tells what stands in the way."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.brief import write_brief
from planner.errors import BadInput, Fault
from planner.projects import Kept, ProjectStore, Superseded, Work


@dataclass(kw_only=True, slots=True)
class Keeping:
    """The tie between one window and its project.

    `kept` is the version on disk, None until something was changed. `faults` is why nothing
    could be kept last time; `superseded` is set while another window has changed the project.
    """

    store: ProjectStore
    kept: Kept | None = None
    faults: tuple[Fault, ...] = ()
    superseded: bool = False

    def open(self, project: str) -> Work | None:
        """The work of a project, which this window edits from now on; None if there is none to be had."""
        try:
            kept = self.store.open(project)
        except BadInput as error:
            self.faults = error.faults
            return None
        if kept is None:
            return None
        self._hold(kept)
        return kept.work

    def leave(self) -> None:
        """What is edited next belongs to no project until it is changed."""
        self.kept, self.faults, self.superseded = None, (), False

    def keep(self, work: Work, *, began_as: Work) -> None:
        """Keeps the work if it differs from what is kept; the first change makes the project."""
        if self.superseded or same(work, began_as if self.kept is None else self.kept.work):
            return
        try:
            before = self.kept or self.store.create(began_as)
            self._hold(self.store.save(before.project, work, after=before.number))
        except Superseded:
            self.superseded = True
        except BadInput as error:
            self.faults = error.faults

    def step(self, *, back: bool) -> Work | None:
        """The version before, or the one after; None where there is none to be had."""
        if self.kept is None:
            return None
        move = self.store.undo if back else self.store.redo
        try:
            self._hold(move(self.kept.project, after=self.kept.number))
        except Superseded:
            self.superseded = True
            return None
        except BadInput as error:
            self.faults = error.faults
            return None
        return self.kept.work

    def part(self, work: Work) -> None:
        """Makes a project of its own of the work that another window got ahead of."""
        try:
            self._hold(self.store.create(work))
        except BadInput as error:
            self.faults = error.faults

    def mappings(self) -> Mapping[str, Mapping[str, object]]:
        """How each supplier's list is read; none where that cannot be had."""
        try:
            return self.store.mappings()
        except BadInput as error:
            self.faults = error.faults
            return {}

    def remember_mapping(self, supplier: str, mapping: Mapping[str, object]) -> None:
        """Keeps how a supplier's list is read."""
        try:
            self.store.remember_mapping(supplier, mapping)
        except BadInput as error:
            self.faults = error.faults

    def _hold(self, kept: Kept) -> None:
        self.kept, self.faults, self.superseded = kept, (), False


def same(one: Work, other: Work) -> bool:
    """Whether two works are the same, or would be written the same: an empty cell is no number, and equals nothing."""
    return one == other or (one.gear == other.gear and write_brief(one.brief) == write_brief(other.brief))
