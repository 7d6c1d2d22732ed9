"""Large systems to draw: 40 devices, long names, accents; every one of them invented."""

import random
from dataclasses import replace

from planner.catalogue.records import CableKind, Catalogue, PortRole
from planner.channels import CHANNELS
from planner.design import Design, UnitKind
from tests.checks.drawing import DIRECT, Drawing, made_up, stocked
from tests.demand.shop import (
    BLOCK,
    POLE,
    POLE_PLUG,
    POST,
    RCA,
    RCA_PLUG,
    RCA_SOCKET,
    XLR,
    XLR_PINS,
    XLR_SOCKET,
    Shop,
    ins,
    outs,
)

LONG = "Ünïversal tÖnstudio-Lautsprecher für große Räume mit dreißig Zentimetern Membrandurchmesser und Weiche Čeština"
_LABELS = [channel.label for channel in CHANNELS if not channel.label.startswith("LFE")]


def shop() -> Catalogue:
    found = Shop()
    found.processor(
        "P",
        1,
        outs("ASSIGNABLE OUTPUT NUMBER", XLR, 32, PortRole.ASSIGNABLE),
        outs("PRE", RCA, 8, PortRole.ASSIGNABLE),
        outs("SPK", POST, 12, PortRole.ASSIGNABLE),
    )
    found.card("C", 1, outs("CARD OUT", XLR, 8, PortRole.ASSIGNABLE), fits=("P",))
    found.dsp("D", 1, ins("IN", BLOCK, 8), outs("OUT", BLOCK, 8))
    found.amplifier("A", 1, 8, XLR)
    found.speaker("L", 1, ins("IN", POST))
    found.speaker("X", 1, ins("1 LOW", POST), ins("2 MID", POST), ins("3 HIGH", POLE), ways=3)
    found.speaker("T", 1, ins("IN XLR", XLR))
    found.sub("S", 1, ins("IN XLR", XLR), ins("IN RCA", RCA), outs("LINK", XLR, 1, PortRole.LINK))
    found.splitter("Y", 1, RCA_PLUG, RCA_SOCKET)
    found.splitter("Z", 1, XLR_SOCKET, XLR_PINS, balanced=True)
    found.lead("xlr", 1, XLR_SOCKET, XLR_PINS, 50.0)
    found.lead("rca", 1, RCA_PLUG, RCA_PLUG, 50.0, balanced=False)
    found.cable("speaker", 1, CableKind.SPEAKER)
    found.cable("line", 1, CableKind.LINE_BALANCED)
    found.part("pole", 1, POLE_PLUG)
    found.part("pins", 1, XLR_PINS)
    found.part("socket", 1, XLR_SOCKET)
    catalogue = found.catalogue()
    named = tuple(replace(each, name=LONG if each.sku != "T" else "") for each in catalogue.loudspeakers)
    return replace(catalogue, loudspeakers=named)


SHOP = shop()
_XLR, _RCA = stocked("xlr", 5.0), stocked("rca", 5.0)
_SPEAKER = made_up(5.0, ("speaker", 5))


def forty_devices() -> Design:
    """A processor with a card, 4 amplifiers, a DSP unit, 4 splitters, 24 loudspeakers, 6 subwoofers: 41 boxes."""
    drawing = _Large()
    drawing.unit(UnitKind.CARD, "Card 1", "C", host="Processor")
    drawing.unit(UnitKind.DSP, "DSP 1", "D")
    for number in range(1, 5):
        drawing.unit(UnitKind.AMPLIFIER, f"Amp {number}", "A")
    for number in range(22):
        drawing.amplified(number)
    drawing.active(22, "T")
    drawing.active(23, "T")
    drawing.bass()
    return drawing.design()


def no_subwoofer() -> Design:
    """Twelve loudspeakers on the amplifiers of a receiver."""
    drawing = _Large()
    for number in range(12):
        drawing.load(number, "L")
        drawing.link(_LABELS[number], f"Processor/SPK/{number + 1}", f"{_name(number)}/IN/1", _SPEAKER)
    return drawing.design()


def crossed_over() -> Design:
    """Lines that want to change places: each amplifier channel drives the loudspeaker of another row."""
    drawing = _Large()
    for number in (1, 2):
        drawing.unit(UnitKind.AMPLIFIER, f"Amp {number}", "A")
    for number in range(4):
        drawing.load(number, "X")
        for way, port in enumerate(("1 LOW/1", "2 MID/1", "3 HIGH/1")):
            at = 3 * number + way
            amp, channel = divmod(5 * at % 12, 6)
            entry, terminals = f"Amp {amp + 1}/IN/{channel + 1}", f"Amp {amp + 1}/OUT/{channel + 1}"
            drawing.link(_LABELS[number], f"Processor/ASSIGNABLE OUTPUT NUMBER/{at + 1}", entry, _XLR, way + 1)
            drawing.link(_LABELS[number], terminals, f"{_name(number)}/{port}", _SPEAKER, way + 1)
    return drawing.design()


def tangled(seed: int) -> Design:
    """40 devices, wired at random: who is driven by what, on which channel, is drawn by lot."""
    rng = random.Random(seed)
    drawing = _Large()
    for number in range(1, 4):
        drawing.unit(UnitKind.AMPLIFIER, f"Amp {number}", "A")
        drawing.unit(UnitKind.DSP, f"DSP {number}", "D")
    outputs = [f"Processor/ASSIGNABLE OUTPUT NUMBER/{n}" for n in range(1, 33)]
    channels = [(amp, n) for amp in range(1, 4) for n in range(1, 9)]
    rng.shuffle(outputs)
    rng.shuffle(channels)
    fed = [f"DSP {unit}/OUT/{n}" for unit in range(1, 4) for n in range(1, 9)]
    rng.shuffle(fed)
    for unit in range(1, 4):
        drawing.link("M+000", outputs.pop(), f"DSP {unit}/IN/{rng.randint(1, 8)}", _XLR)
    for number in range(34):
        label = _LABELS[number % len(_LABELS)]
        source = (fed if fed and rng.random() < 0.5 else outputs).pop()
        if channels and rng.random() < 0.7:
            amp, channel = channels.pop()
            drawing.load(number, "L")
            drawing.link(label, source, f"Amp {amp}/IN/{channel}", _XLR)
            drawing.link(label, f"Amp {amp}/OUT/{channel}", f"{_name(number)}/IN/1", _SPEAKER)
        else:
            drawing.load(number, "T")
            drawing.link(label, source, f"{_name(number)}/IN XLR/1", _XLR)
    return drawing.design()


class _Large(Drawing):
    def __init__(self) -> None:
        super().__init__()
        self.unit(UnitKind.PROCESSOR, "Processor", "P")

    def load(self, number: int, sku: str) -> None:
        self.loudspeaker(_name(number), sku, "Set", number)

    def amplified(self, number: int) -> None:
        amp, channel = number // 8 + 1, number % 8 + 1
        self.load(number, "L")
        source = "Processor/ASSIGNABLE OUTPUT NUMBER" if number < 16 else "Card 1/CARD OUT"
        output = number % 16 + 1
        self.link(_LABELS[number % len(_LABELS)], f"{source}/{output}", f"Amp {amp}/IN/{channel}", _XLR)
        self.link(_LABELS[number % len(_LABELS)], f"Amp {amp}/OUT/{channel}", f"{_name(number)}/IN/1", _SPEAKER)

    def active(self, number: int, sku: str) -> None:
        self.load(number, sku)
        self.link("M+000", f"Processor/ASSIGNABLE OUTPUT NUMBER/{number - 4}", f"{_name(number)}/IN XLR/1", _XLR)

    def bass(self) -> None:
        self.subwoofers("S", 6)
        for number, sku in enumerate("YYZZ", start=1):
            self.unit(UnitKind.SPLITTER, f"Splitter {number}", sku)
        self.link("LFE1", "Processor/PRE/1", "Splitter 1/IN/1", DIRECT)
        self.link("LFE1", "Splitter 1/LEG/1", "Splitter 2/IN/1", DIRECT)
        self.link("LFE1", "Splitter 1/LEG/2", "Sub 1/IN RCA/1", _RCA)
        self.link("LFE1", "Splitter 2/LEG/1", "Sub 2/IN RCA/1", _RCA)
        self.link("LFE1", "Processor/PRE/2", "DSP 1/IN/1", _RCA)
        self.link("LFE1", "DSP 1/OUT/1", "Sub 3/IN XLR/1", made_up(5.0, ("line", 5), ("pins", 1)))
        self.link("LFE1", "Sub 3/LINK/1", "Sub 4/IN XLR/1", _XLR)
        self.link("LFE1", "Sub 4/LINK/1", "Sub 5/IN XLR/1", _XLR)
        self.link("LFE2", "Card 1/CARD OUT/8", "Sub 6/IN XLR/1", _XLR)
        self.route("DSP 1/IN/1", "DSP 1/OUT/1")


def _name(number: int) -> str:
    label = _LABELS[number % len(_LABELS)]
    return label if number < len(_LABELS) else f"{label} {number // len(_LABELS) + 1}"
