"""Connectors in the words of the bench."""

from collections.abc import Mapping

from planner.contacts import BARE_TAIL, CLAMPS, Connector, Contact, Gender

_NAMES: Mapping[Connector, str] = {
    Connector.RCA: "RCA",
    Connector.XLR: "XLR",
    Connector.TRS: "6.35 mm TRS",
    Connector.TERMINAL: "terminal block",
    Connector.BINDING_POST: "binding posts",
    Connector.SPEAKER_4POLE: "4-pole loudspeaker",
    Connector.AES3: "AES3",
    Connector.AES67: "network",
}


def contact_words(contact: Contact) -> str:
    """What somebody holding it would call it.

    >>> contact_words(Contact(Connector.XLR, Gender.FEMALE)), contact_words(Contact(Connector.RCA, Gender.MALE))
    ('XLR female', 'RCA plug')
    """
    if contact == BARE_TAIL:
        return "bare tail"
    name = _NAMES[contact.connector]
    if contact.connector in CLAMPS:
        return name
    if contact.connector in (Connector.XLR, Connector.AES3):
        return f"{name} {contact.gender.value}"
    return f"{name} {'plug' if contact.gender is Gender.MALE else 'socket'}"
