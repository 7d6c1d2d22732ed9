"""What the finished design will do, worked out from the catalogue: levels, noise, power, delay, load, earth, mains.

It is computed after the allocation, of the design as it is. With the search it shares the formulas
and nothing else, so that a limit that the search did not keep is found here: such a finding
is INVALID, and no design with one is ever proposed.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from planner.brief.records import Brief
from planner.catalogue.records import Catalogue
from planner.checks.case import Case
from planner.checks.known import Known
from planner.design import Design, Finding, Severity
from planner.house import House
from planner.physics.amplifier_channels import amplifier_channels
from planner.physics.delay import DelayLine, delay_table
from planner.physics.delay_findings import delay_findings
from planner.physics.earth import EarthLoop, earth_loops
from planner.physics.earth_findings import earth_findings
from planner.physics.earth_graph import earth_edges
from planner.physics.levels import ChainLevels, chain_levels
from planner.physics.line_chain import line_chains
from planner.physics.line_findings import line_findings
from planner.physics.load import ChannelLoad, channel_loads, load_findings
from planner.physics.mains import MainsTotals, mains_findings, mains_totals
from planner.physics.noise import ChainNoise, chain_noise
from planner.physics.power import LevelsAtSeats, levels_at_seats
from planner.physics.power_findings import power_findings

__all__ = ["Examination", "examine"]

_GRAVEST_FIRST = (Severity.INVALID, Severity.CONCERN, Severity.NOTE)


@dataclass(frozen=True, kw_only=True, slots=True)
class Examination:
    """What was found out about one design, and what there is to say of it, gravest first.

    `line_chains` and `line_noises` are of the same chains in the same order.
    `least_margin_db` (M8) is the least over the chains whose margin is known; None where none
    is. A finding says how many chains are not known, and why. M7 is how many `earth_loops`
    there are.
    """

    findings: tuple[Finding, ...]
    line_chains: tuple[ChainLevels, ...]
    line_noises: tuple[ChainNoise, ...]
    least_margin_db: float | None
    levels_at_seats: LevelsAtSeats
    loads: tuple[ChannelLoad, ...]
    delays: tuple[DelayLine, ...]
    earth_loops: tuple[EarthLoop, ...]
    mains: MainsTotals


def examine(design: Design, brief: Brief, catalogue: Catalogue) -> Examination:
    """The examination of one design; never raises for figures that the catalogue's reader allows.

    Search, proof and papers ask for the same one after another, so the last ones are remembered.
    """
    return _examined(design, brief, _TheVery(catalogue))


class _TheVery:
    """A catalogue as a key: it is the very same or another, since it is too large to compare."""

    __slots__ = ("catalogue",)

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue

    def __hash__(self) -> int:
        return id(self.catalogue)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _TheVery) and self.catalogue is other.catalogue


@lru_cache(maxsize=256)
def _examined(design: Design, brief: Brief, the_very: _TheVery) -> Examination:
    catalogue = the_very.catalogue
    levels = tuple(chain_levels(chain) for chain in line_chains(design, catalogue))
    noises = tuple(chain_noise(each) for each in levels)
    margins_db = [each.least_margin_db for each in levels if each.least_margin_db is not None]
    no_prices = House(name="", currency=brief.project.currency)  # nothing here asks for one
    case = Case.of(design, Known(brief, catalogue, no_prices))
    channels = amplifier_channels(case, catalogue.ports)
    at_seats, loads = levels_at_seats(case, channels), channel_loads(channels)
    delays, totals = delay_table(case), mains_totals(case)
    loops = earth_loops(earth_edges(case, catalogue.ports))
    found = (
        *line_findings(levels, noises, brief.limits),
        *power_findings(at_seats, brief.limits),
        *load_findings(loads, brief.limits),
        *delay_findings(delays, brief.room.temperature_c, brief.limits),
        *mains_findings(totals),
        *earth_findings(loops, brief.limits),
    )
    return Examination(
        findings=_gravest_first(found),
        line_chains=levels,
        line_noises=noises,
        least_margin_db=min(margins_db, default=None),
        levels_at_seats=at_seats,
        loads=loads,
        delays=delays,
        earth_loops=loops,
        mains=totals,
    )


def _gravest_first(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """In the order of the rules within each grade."""
    return tuple(sorted(found, key=lambda finding: _GRAVEST_FIRST.index(finding.severity)))
