"""The cautions that stand on every paper whose work can hurt someone.

Common practice, no published source, but for the hearing limits: 85 dBA for eight hours, halved
for each 3 dB more (NIOSH 1998). The papers warn and refer; they give no advice on mains or fixings.
"""

from enum import StrEnum

from planner.formulas.hearing import exposure_minutes


class Caution(StrEnum):
    """What can hurt, by the word that stands in front of its sentence."""

    MAINS = "Mains"
    LIFTING = "Lifting"
    OVERHEAD = "Overhead"
    HEARING = "Hearing"
    TEST_VOLTAGE = "Test voltage"
    SOLDERING = "Soldering"


_SENTENCES = {
    Caution.MAINS: (
        "Fixed wiring, sockets, panels and protective earths are work for a licensed electrician. A protective earth"
        " is never lifted or disconnected, least of all to cure hum. Unplug gear before you open or rewire it."
    ),
    Caution.LIFTING: "Gear above about 25 kg is lifted by two people or with a lift.",
    Caution.OVERHEAD: (
        "Whatever hangs or is fixed overhead is fixed into the structure by a competent person, with a rated fixing"
        " and an independent second one. Nobody stands beneath it meanwhile."
    ),
    Caution.HEARING: (
        "Start every test signal muted and turn it up slowly; warn everyone in the room. At 94 dBA a day's exposure is"
        f" used up in {exposure_minutes(94.0):.0f} minutes, at 100 dBA in {exposure_minutes(100.0):.0f}."
    ),
    Caution.TEST_VOLTAGE: (
        "Signal leads are tested with a meter's ohms range or a tester of at most 50 V, unplugged at both ends. Never"
        " put a 250, 500 or 1000 V insulation tester on a signal lead or on anything joined to electronics."
    ),
    Caution.SOLDERING: "Solder in moving air, with eyes protected; the iron stays hot after it is switched off.",
}

PREVAIL = (
    "Local codes and the judgement of licensed people on site prevail over this paper. Check the editions in force."
)


def cautions(*of: Caution) -> list[dict[str, str]]:
    """Word and sentence of each, for a template."""
    return [{"word": caution.value, "text": _SENTENCES[caution]} for caution in of]
