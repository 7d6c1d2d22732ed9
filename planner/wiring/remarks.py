"""What the maker of a lead must know beyond the pins, in sentences."""

from collections.abc import Iterator, Mapping

from planner.catalogue.records import OutputStage
from planner.contacts import Connector, PinRole
from planner.design import Connection, LeadMethod
from planner.wiring.cores import cold_open
from planner.wiring.ends import Joint, LeadEnd

NEVER_LIFT = "Never lift or disconnect a protective earth."

_TO_UNBALANCED: Mapping[OutputStage, str] = {
    OutputStage.SYMMETRICAL: (
        "Symmetrical output to an unbalanced input: cold stays open. Joined to the shell it overloads the output."
    ),
    OutputStage.SERVO: (
        "Servo-balanced output to an unbalanced input: cold goes to the shell at the unbalanced end. Left open, the"
        " level falls."
    ),
    OutputStage.TRANSFORMER: (
        "Transformer output to an unbalanced input: cold goes to the shell at the unbalanced end. Left open, hardly any"
        " signal passes."
    ),
    OutputStage.IMPEDANCE_BALANCED: (
        "Impedance-balanced output to an unbalanced input: cold stays open; joined to the shell it does no harm."
    ),
    OutputStage.UNKNOWN: (
        "The catalogue does not say how this output is built: cold stays open, which harms none. Ask the maker."
    ),
    OutputStage.UNBALANCED: "The output that drives this lead is unbalanced: cold stays open.",
}


def remarks(connection: Connection, joint: Joint, source: LeadEnd, sink: LeadEnd) -> tuple[str, ...]:
    """What is to be said of one lead; nothing for most."""
    if joint.speaker:
        return tuple(_of_blocks(source, sink))
    return (
        *_of_conversion(joint),
        *_of_made_leads(connection, joint),
        *_of_tails(connection, joint, source, sink),
        *_of_blocks(source, sink),
    )


def _of_conversion(joint: Joint) -> Iterator[str]:
    if joint.balanced_source and not joint.balanced_sink:
        yield _TO_UNBALANCED[joint.stage]
        if not cold_open(joint.stage):
            if not joint.two_cores:
                yield (
                    "This cable has one core, so cold is joined to the shield at the source. A cable of two cores"
                    " would carry it to the far end, and hum less."
                )
            else:
                yield f"Should it hum, the shield may be opened at the sink, and nowhere else. {NEVER_LIFT}"
    elif not joint.balanced_source and joint.stage is not OutputStage.UNBALANCED:
        cold = "must be open" if cold_open(joint.stage) else "must be joined to the shell"
        yield (
            "A splitter or link before this lead takes a balanced output unbalanced: measure it before use; its cold"
            f" contact {cold} inside."
        )
    if joint.balanced_sink and not joint.balanced_source and not joint.two_cores:
        yield (
            "This cable has one core, so cold is joined to the shield at the input, which then rejects no hum. A cable"
            " of two cores, cold joined to the shell at the source, keeps the rejection."
        )


def _of_made_leads(connection: Connection, joint: Joint) -> Iterator[str]:
    """A lead or adapter bought ready-made that converts is wired as its maker thought best."""
    converts = joint.balanced_source is not joint.balanced_sink
    if connection.lead.method in (LeadMethod.STOCKED, LeadMethod.ADAPTED) and converts:
        what = "adapter" if connection.lead.method is LeadMethod.ADAPTED else "lead"
        yield f"Ready-made {what}: measure its pins against this table before use; makers differ in where cold goes."


def _of_tails(connection: Connection, joint: Joint, source: LeadEnd, sink: LeadEnd) -> Iterator[str]:
    """The connector of a cut lead is as its maker soldered it, and so are the colours."""
    if connection.lead.method is not LeadMethod.CUT:
        return
    kept, block = (sink, source) if source.to_make else (source, sink)
    yield "Find the cores from the connector with a meter: colours are not standardised."
    if kept.plug.connector is not Connector.RCA or not joint.two_cores:
        return
    cold = _pin(block, PinRole.COLD)
    shield = _pin(block, PinRole.SHIELD)
    if joint.balanced_source is joint.balanced_sink or cold is None or shield is None:
        return
    if joint.balanced_source and cold_open(joint.stage):
        return
    yield (
        f"If the cold core is not joined to the shell inside the plug, leave it, and join {cold} to {shield} at the"
        " terminal block."
    )


def _of_blocks(*ends: LeadEnd) -> Iterator[str]:
    for end in ends:
        if not end.order_known:
            yield f"The catalogue has no pin order for {end.jack}: read it on the device."
        elif any(not join.cores and join.role is PinRole.UNUSED for join in end.pins) and end.shows.connector is (
            Connector.TERMINAL
        ):
            yield f"{end.jack} has a way whose legend is not understood: leave it open, and ask the maker."
        if any(core.value == "shield" for core in end.open_cores):
            yield f"{end.jack} has no place for the shield: cut it back and insulate it there."


def _pin(end: LeadEnd, role: PinRole) -> str | None:
    return next((join.pin for join in end.pins if join.role is role), None)
