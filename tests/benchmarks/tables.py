"""What the benchmark prints: tables row by row, so that widths are settled beforehand."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tests.benchmarks.compared import Compared, Ratio
from tests.benchmarks.growth import Grown
from tests.benchmarks.limits import Weighed
from tests.benchmarks.ours import Ours
from tests.benchmarks.start import Start
from tests.benchmarks.theirs import Theirs
from tests.benchmarks.throughput import WANTED_ROOMS, Throughput


@dataclass(frozen=True, slots=True)
class Column:
    """A heading, and the least width beneath it; figures stand to the right."""

    heading: str
    least_width: int = 0
    left: bool = False

    def cell(self, text: str) -> str:
        """A text padded to the column."""
        width = max(self.least_width, len(self.heading))
        return text.ljust(width) if self.left else text.rjust(width)


OF_SIZES = (
    Column("size"), Column("devices"), Column("feeds"), Column("options"), Column("status", 8),
    Column("demand CPU s"), Column("cheapest s"), Column("CPU s", 6), Column("whole set s"), Column("CPU s", 6),
    Column("MB", 5), Column("ratio, set", 12), Column("ratio, cheapest"),
)  # fmt: skip
OF_GROWTH = (Column("devices"), Column("feeds"), Column("options"), Column("set CPU s"))
OF_LIMITS = (
    Column("brief", 34, left=True), Column("asked", 22, left=True), Column("options"), Column("set CPU s"),
    Column("ratio"),
)  # fmt: skip


def line(columns: Sequence[Column], cells: Sequence[str] | None = None) -> str:
    """One row, or the headings; a row may be shorter than the table."""
    texts = [column.heading for column in columns] if cells is None else cells
    return "  ".join(column.cell(text) for column, text in zip(columns, texts, strict=False))


def size_cells(found: Compared) -> tuple[str, ...]:
    """One row of sizes: ours in figures, and the better solver's CPU seconds over ours."""
    about = (found.size.value, str(found.devices), str(found.feeds))
    ours = found.ours
    if not isinstance(ours, Ours):
        return (*about, "", ours)
    times = (ours.demand.cpu_s, ours.cheapest.clock_s, ours.cheapest.cpu_s, ours.set.clock_s, ours.set.cpu_s)
    return (
        *about,
        str(len(ours.measures)),
        ours.status.value,
        *(f"{seconds:.2f}" for seconds in times),
        f"{ours.memory_mb:.0f}",
        _ratio(found.set_ratio),
        _ratio(found.cheapest_ratio),
    )


def notes_of_size(found: Compared) -> Iterator[str]:
    """A line for each solver: what it was asked, and what it took."""
    options = len(found.ours.measures) if isinstance(found.ours, Ours) else 0
    for solver, theirs in found.theirs.items():
        if not isinstance(theirs, Theirs):
            yield f"{solver}: {theirs}"
            continue
        within = "" if theirs.cheapest_settled else ", not settled"
        words = f"{solver}: cheapest {theirs.cheapest.cpu_s:.2f} CPU s{within}"
        if theirs.asked:
            whole, stopped = theirs.set_s(options), theirs.asked - theirs.settled
            more = f" or more, {stopped} of {theirs.asked} questions not settled in time" if stopped else ""
            words += f"; whole set {whole.cpu_s:.2f} CPU s{more} (from {theirs.asked} of its {options} questions)"
        yield f"{words}; {theirs.memory_mb:.0f} MB"


def growth_cells(step: Grown) -> tuple[str, ...]:
    """One row of growth."""
    seconds = step.words if step.cpu_s is None else f"{step.cpu_s:.2f}"
    return str(step.devices), str(step.feeds), str(step.options), seconds


def limits_cells(found: Weighed) -> tuple[str, ...]:
    """One row of what limits cost."""
    return found.brief, found.asked, str(found.options), f"{found.set_cpu_seconds:.2f}", f"{found.ratio:.2f}"


def start_words(found: Start) -> Iterator[str]:
    """The cold start in two lines."""
    yield (
        f"options on S from nothing: first printed after {found.first_s:.2f} s, done after {found.whole_s:.2f} s"
        f" ({found.cpu_s:.2f} CPU s, {found.memory_mb:.0f} MB)"
    )
    dearest = ", ".join(f"{name} {seconds:.2f}" for name, seconds in found.dearest_imports)
    yield f"imports take {found.imports_s:.2f} s of it under Python's own count; most by {dearest}"


def batch_words(found: Throughput) -> str:
    """The batch in one line."""
    return (
        f"batch of {found.rooms} rooms, S and M in turn: {found.cpu_s:.1f} CPU s, {found.rooms_per_cpu_s:.2f} rooms a"
        f" CPU second; {WANTED_ROOMS} would take {found.seconds_for_500:.0f} s on two free cores"
    )


def _ratio(ratio: Ratio | None) -> str:
    return "" if ratio is None else f"{'≥ ' if ratio.at_least else ''}{ratio.cpu:.1f} ({ratio.solver})"
