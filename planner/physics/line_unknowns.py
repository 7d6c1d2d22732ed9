"""What the catalogue does not say of the line chains, and what is therefore not checked."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.catalogue.records import PortRole
from planner.design import Finding
from planner.physics.findings import jack_place, named, note
from planner.physics.stages import Branch, Driver, LineChain


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure that the catalogue may leave out, the rule that asks for it, and what then is not checked."""

    rule: str
    words: str
    unchecked: str


GREATEST_OUTPUT = Quantity("R11", "greatest output level", "clipping and drive are")
GREATEST_INPUT = Quantity("R11", "greatest input level", "clipping and drive are")
OUTPUT_IMPEDANCE = Quantity("R11", "output impedance", "levels and noise are")
INPUT_IMPEDANCE = Quantity("R11", "input impedance", "levels and noise are")
SENSITIVITY = Quantity("R11", "sensitivity", "drive and noise are")
CAPACITANCE = Quantity("R11", "capacitance", "the loss of treble is")
NOISE = Quantity("R12", "noise", "noise is")

Unknown = tuple[Quantity, str]
"""A quantity, and the port group, device or lead that it is not known of."""


def unknowns(chain: LineChain) -> Iterator[Unknown]:
    """Every figure that this chain needs and the catalogue does not give."""
    for hop in chain.hops:
        yield from _of_output(hop.driver)
        for branch in hop.branches:
            yield from _of_branch(branch, chain.treble)
        receiver = hop.taken.receiver
        if receiver.max_level_dbu is None and receiver is not chain.sink:
            yield GREATEST_INPUT, f"{receiver.sku} / {receiver.jack.group}"
    sink = chain.sink
    if sink.full_output_v is None:
        yield SENSITIVITY, f"{sink.sku} / {sink.jack.group}"
    if sink.has_noise and sink.noise_dbu is None:
        yield NOISE, sink.sku


def _of_output(driver: Driver) -> Iterator[Unknown]:
    if driver.max_level_dbu is None:
        yield GREATEST_OUTPUT, f"{driver.sku} / {driver.jack.group}"
    if driver.impedance_ohm is None:
        yield OUTPUT_IMPEDANCE, f"{driver.sku} / {driver.jack.group}"
    if driver.noise_dbu is None and driver.role is not PortRole.LINK:
        yield NOISE, driver.sku


def _of_branch(branch: Branch, treble: bool) -> Iterator[Unknown]:
    if branch.receiver.impedance_ohm is None:
        yield INPUT_IMPEDANCE, f"{branch.receiver.sku} / {branch.receiver.jack.group}"
    for run in branch.runs if treble else ():
        if run.capacitance_pf is None:
            yield CAPACITANCE, run.sku or "a lead"


def unknown_findings(chains: Sequence[LineChain]) -> Iterator[Finding]:
    """One NOTE a quantity: of what it is not known, and on how many chains that leaves something unchecked."""
    of: dict[Quantity, dict[str, None]] = {}
    concerned: dict[Quantity, int] = {}
    for chain in chains:
        found = dict.fromkeys(unknowns(chain))
        for quantity, name in found:
            of.setdefault(quantity, {})[name] = None
        for quantity in {quantity: None for quantity, _ in found}:
            concerned[quantity] = concerned.get(quantity, 0) + 1
    for quantity, names in of.items():
        yield note(
            quantity.rule,
            named(names),
            f"The catalogue does not say the {quantity.words}; {quantity.unchecked} not checked on"
            f" {concerned[quantity]} of {len(chains)} line chains.",
        )
    links = {link.unit: link for chain in chains for hop in chain.hops for b in hop.branches for link in b.links}
    if links:
        yield note(
            "R11",
            named(map(str, links.values())),
            "The catalogue gives neither output stage nor output impedance of this link output; it is read as wired"
            " straight through to the input, and what hangs on it as a load beside that input.",
            map(jack_place, links.values()),
        )
