"""Valid designs drawn by hand, each with its brief. Prices are in the comments of `gear`.

Positions and lengths, with the rack in the corner, 10 % allowance and 0.5 m of slack:

    left      (1, 1, 1)   3 m of route -> 3.3 + 0.5 = 3.80 m
    right     (1, 3, 1)   5 m          -> 5.5 + 0.5 = 6.00 m
    centre    (1, 2, 1)   4 m          -> 4.4 + 0.5 = 4.90 m
    Sub 1     (0, 1, 0)   1 m          -> 1.1 + 0.5 = 1.60 m
    Sub 2     (0, 3, 0)   3 m          -> 3.3 + 0.5 = 3.80 m
    Sub 3     (4, 1, 0)   5 m          -> 5.5 + 0.5 = 6.00 m
    Sub 4     (4, 3, 0)   7 m          -> 7.7 + 0.5 = 8.20 m
    Sub 1 to Sub 2        2 m          -> 2.2 + 0.5 = 2.70 m
    Sub 2 to Sub 3        4 + 2 m      -> 6.6 + 0.5 = 7.10 m
"""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from planner.brief.records import (
    Brief,
    LoudspeakerSet,
    Owned,
    Placement,
    Point,
    Project,
    Rack,
    Room,
    Seat,
    SubwooferSet,
)
from planner.design import Design, UnitKind
from tests.checks.drawing import DIRECT, Drawing, adapted, cut, made_up, stocked
from tests.checks.gear import DAY

_PLACEMENTS = (
    Placement(channel="M+030", position=Point(1, 1, 1)),
    Placement(channel="M-030", position=Point(1, 3, 1)),
    Placement(channel="M+000", position=Point(1, 2, 1)),
)
_SUB_POSITIONS = (Point(0, 1, 0), Point(0, 3, 0), Point(4, 1, 0), Point(4, 3, 0))


def brief(*, front: str = "LS-ACT", subs: int = 2, sub: str = "SW-ACT") -> Brief:
    """Three loudspeakers and some subwoofers in an invented room."""
    return Brief(
        project=Project(name="Test", client="Invented Client", reference="T-1", dated=DAY, currency="NZD"),
        room=Room(length_m=6.0, width_m=4.0, height_m=2.5),
        seats=(Seat(name="Sofa", position=Point(4, 2, 1), primary=True),),
        rack=Rack(position=Point(0, 0, 0)),
        layout="5.1",
        loudspeakers=(LoudspeakerSet(name="Front", placements=_PLACEMENTS, candidates=(front,)),),
        subwoofers=(
            SubwooferSet(name="Bass", least=subs, most=subs, positions=_SUB_POSITIONS, candidates=(sub,)),
        ),
    )  # fmt: skip


def _active_front(drawing: Drawing, processor: str) -> None:
    """Three active loudspeakers on balanced outputs."""
    drawing.unit(UnitKind.PROCESSOR, "Proc", processor)
    for index, unit_id in enumerate(("Left", "Right", "Centre")):
        drawing.loudspeaker(unit_id, "LS-ACT", "Front", index)
    drawing.link("M+030", "Proc/MAIN/1", "Left/XLR/1", stocked("L-XLR-5", 3.80))
    drawing.link("M-030", "Proc/MAIN/2", "Right/XLR/1", stocked("L-XLR-10", 6.00))
    drawing.link("M+000", "Proc/MAIN/3", "Centre/XLR/1", stocked("L-XLR-5", 4.90))


def dedicated() -> tuple[Design, Brief]:
    """Two subwoofers, each on an output of its own, one by RCA and one by XLR."""
    drawing = Drawing()
    _active_front(drawing, "P-LINE")
    drawing.subwoofers("SW-ACT", 2)
    drawing.link("LFE1", "Proc/SUB/1", "Sub 1/RCA/1", stocked("L-RCA-5", 1.60))
    drawing.link("LFE1", "Proc/AUX/1", "Sub 2/XLR/1", stocked("L-XLR-5", 3.80))
    drawing.buy("P-LINE", 1, 500000)
    drawing.buy("LS-ACT", 3, 150000)
    drawing.buy("SW-ACT", 2, 120000)
    drawing.buy("L-XLR-5", 3, 4000)
    drawing.buy("L-XLR-10", 1, 6000)
    drawing.buy("L-RCA-5", 1, 2000)
    drawing.work(PROCESSOR=1, LOUDSPEAKER=3, SUBWOOFER=2, LEAD=5)
    return drawing.design(), brief()


def by_dsp_unit() -> tuple[Design, Brief]:
    """Four subwoofers on a DSP unit with terminal blocks, by cut leads and one made up.

    The 5 m lead is cut in half: its female end comes from the processor, its male end goes
    to Sub 1. Of the 10 m and 15 m leads only the male halves, 5 m and 7.5 m, are used.
    """
    drawing = Drawing()
    _active_front(drawing, "P-LINE")
    drawing.unit(UnitKind.DSP, "DSP 1", "D-TB")
    drawing.subwoofers("SW-ACT", 4)
    drawing.link("LFE1", "Proc/AUX/1", "DSP 1/IN/1", cut("L-XLR-5", "a", 1.00))
    drawing.link("LFE1", "DSP 1/OUT/1", "Sub 1/XLR/1", cut("L-XLR-5", "b", 1.60))
    drawing.link("LFE1", "DSP 1/OUT/2", "Sub 2/XLR/1", cut("L-XLR-10", "b", 3.80))
    drawing.link("LFE1", "DSP 1/OUT/3", "Sub 3/XLR/1", cut("L-XLR-15", "b", 6.00))
    drawing.link("LFE1", "DSP 1/OUT/4", "Sub 4/XLR/1", made_up(8.20, ("BC-BAL", 9), ("CN-XM", 1)))
    for output in range(1, 5):
        drawing.route("DSP 1/IN/1", f"DSP 1/OUT/{output}")
    drawing.buy("P-LINE", 1, 500000)
    drawing.buy("D-TB", 1, 100000)
    drawing.buy("LS-ACT", 3, 150000)
    drawing.buy("SW-ACT", 4, 120000)
    drawing.buy("L-XLR-5", 3, 4000)
    drawing.buy("L-XLR-10", 2, 6000)
    drawing.buy("L-XLR-15", 1, 8000)
    drawing.buy("BC-BAL", 9, 500)
    drawing.buy("CN-XM", 1, 1000)
    drawing.work(PROCESSOR=1, DSP=1, LOUDSPEAKER=3, SUBWOOFER=4, LEAD=8, TERMINATION=6)
    return drawing.design(), brief(subs=4)


def split() -> tuple[Design, Brief]:
    """Three subwoofers on one output through two two-way splitters."""
    drawing = Drawing()
    _active_front(drawing, "P-LINE")
    drawing.subwoofers("SW-ACT", 3)
    drawing.unit(UnitKind.SPLITTER, "Splitter 1", "SPL-RCA")
    drawing.unit(UnitKind.SPLITTER, "Splitter 2", "SPL-RCA")
    drawing.link("LFE1", "Proc/SUB/1", "Splitter 1/IN/1", DIRECT)
    drawing.link("LFE1", "Splitter 1/LEG/1", "Sub 1/RCA/1", stocked("L-RCA-5", 1.60))
    drawing.link("LFE1", "Splitter 1/LEG/2", "Splitter 2/IN/1", DIRECT)
    drawing.link("LFE1", "Splitter 2/LEG/1", "Sub 2/RCA/1", stocked("L-RCA-5", 3.80))
    drawing.link("LFE1", "Splitter 2/LEG/2", "Sub 3/RCA/1", stocked("L-RCA-10", 6.00))
    drawing.buy("P-LINE", 1, 500000)
    drawing.buy("LS-ACT", 3, 150000)
    drawing.buy("SW-ACT", 3, 120000)
    drawing.buy("SPL-RCA", 2, 1500)
    drawing.buy("L-XLR-5", 2, 4000)
    drawing.buy("L-XLR-10", 1, 6000)
    drawing.buy("L-RCA-5", 2, 2000)
    drawing.buy("L-RCA-10", 1, 3000)
    drawing.work(PROCESSOR=1, LOUDSPEAKER=3, SUBWOOFER=3, LEAD=6)
    return drawing.design(), brief(subs=3)


def daisy_chain() -> tuple[Design, Brief]:
    """Three subwoofers one after the other on one output."""
    drawing = Drawing()
    _active_front(drawing, "P-LINE")
    drawing.subwoofers("SW-ACT", 3)
    drawing.link("LFE1", "Proc/AUX/1", "Sub 1/XLR/1", stocked("L-XLR-5", 1.60))
    drawing.link("LFE1", "Sub 1/LINK/1", "Sub 2/XLR/1", stocked("L-XLR-5", 2.70))
    drawing.link("LFE1", "Sub 2/LINK/1", "Sub 3/XLR/1", stocked("L-XLR-10", 7.10))
    drawing.buy("P-LINE", 1, 500000)
    drawing.buy("LS-ACT", 3, 150000)
    drawing.buy("SW-ACT", 3, 120000)
    drawing.buy("L-XLR-5", 4, 4000)
    drawing.buy("L-XLR-10", 2, 6000)
    drawing.work(PROCESSOR=1, LOUDSPEAKER=3, SUBWOOFER=3, LEAD=6)
    return drawing.design(), brief(subs=3)


def receiver() -> tuple[Design, Brief]:
    """Passive loudspeakers on the receiver's amplifiers; three subwoofers on its mirrored outputs."""
    drawing = Drawing()
    drawing.unit(UnitKind.PROCESSOR, "Rec", "R-AMP")
    for index, (unit_id, channel, steps, length_m) in enumerate(
        (("Left", "M+030", 8, 3.80), ("Right", "M-030", 12, 6.00), ("Centre", "M+000", 10, 4.90))
    ):
        drawing.loudspeaker(unit_id, "LS-PAS", "Front", index)
        drawing.link(channel, f"Rec/SPK/{index + 1}", f"{unit_id}/POST/1", made_up(length_m, ("BC-SPK", steps)))
    drawing.subwoofers("SW-ACT", 3)
    drawing.unit(UnitKind.SPLITTER, "Splitter 1", "SPL-RCA")
    drawing.link("LFE1", "Rec/SUB/1", "Sub 1/RCA/1", stocked("L-RCA-5", 1.60))
    drawing.link("LFE1", "Rec/SUB/2", "Splitter 1/IN/1", DIRECT)
    drawing.link("LFE1", "Splitter 1/LEG/1", "Sub 2/RCA/1", stocked("L-RCA-5", 3.80))
    drawing.link("LFE1", "Splitter 1/LEG/2", "Sub 3/RCA/1", stocked("L-RCA-10", 6.00))
    drawing.buy("R-AMP", 1, 200000)
    drawing.buy("LS-PAS", 3, 60000)
    drawing.buy("SW-ACT", 3, 120000)
    drawing.buy("SPL-RCA", 1, 1500)
    drawing.buy("BC-SPK", 30, 300)
    drawing.buy("L-RCA-5", 2, 2000)
    drawing.buy("L-RCA-10", 1, 3000)
    drawing.work(PROCESSOR=1, LOUDSPEAKER=3, SUBWOOFER=3, LEAD=6, TERMINATION=6)
    return drawing.design(), brief(front="LS-PAS", subs=3)


def amplified() -> tuple[Design, Brief]:
    """Passive loudspeakers and one passive subwoofer on two external amplifiers."""
    drawing = Drawing()
    drawing.unit(UnitKind.PROCESSOR, "Proc", "P-LINE")
    drawing.unit(UnitKind.AMPLIFIER, "Amp 1", "A-2")
    drawing.unit(UnitKind.AMPLIFIER, "Amp 2", "A-2")
    for index, unit_id in enumerate(("Left", "Right", "Centre")):
        drawing.loudspeaker(unit_id, "LS-PAS", "Front", index)
    drawing.subwoofers("SW-PAS", 1)
    drawing.link("M+030", "Proc/MAIN/1", "Amp 1/BAL/1", stocked("L-XLR-5", 1.00))
    drawing.link("M-030", "Proc/MAIN/2", "Amp 1/BAL/2", stocked("L-XLR-5", 1.00))
    drawing.link("M+000", "Proc/MAIN/3", "Amp 2/BAL/1", stocked("L-XLR-5", 1.00))
    drawing.link("LFE1", "Proc/SUB/1", "Amp 2/UNBAL/2", stocked("L-RCA-5", 1.00))
    drawing.link("M+030", "Amp 1/POST/1", "Left/POST/1", made_up(3.80, ("BC-SPK", 8)))
    drawing.link("M-030", "Amp 1/POST/2", "Right/POST/1", made_up(6.00, ("BC-SPK", 12)))
    drawing.link("M+000", "Amp 2/POST/1", "Centre/POST/1", made_up(4.90, ("BC-SPK", 10)))
    drawing.link("LFE1", "Amp 2/POLE/2", "Sub 1/POLE/1", made_up(1.60, ("CN-4P", 1), ("BC-SPK", 4), ("CN-4P", 1)))
    drawing.buy("P-LINE", 1, 500000)
    drawing.buy("A-2", 2, 80000)
    drawing.buy("LS-PAS", 3, 60000)
    drawing.buy("SW-PAS", 1, 70000)
    drawing.buy("L-XLR-5", 3, 4000)
    drawing.buy("L-RCA-5", 1, 2000)
    drawing.buy("BC-SPK", 34, 300)
    drawing.buy("CN-4P", 2, 1500)
    drawing.work(PROCESSOR=1, AMPLIFIER=2, LOUDSPEAKER=3, SUBWOOFER=1, LEAD=8, TERMINATION=8)
    return drawing.design(), brief(front="LS-PAS", subs=1, sub="SW-PAS")


def crossed() -> tuple[Design, Brief]:
    """A two-way crossed centre by DSP unit and amplifier; one subwoofer through an adapter."""
    drawing = Drawing()
    drawing.unit(UnitKind.PROCESSOR, "Proc", "P-LINE")
    drawing.unit(UnitKind.DSP, "DSP 1", "D-TB")
    drawing.unit(UnitKind.AMPLIFIER, "Amp 1", "A-2")
    drawing.loudspeaker("Centre", "LS-X2", "Front", 0)
    drawing.subwoofers("SW-ACT", 1)
    drawing.link("M+000", "Proc/MAIN/3", "DSP 1/IN/1", made_up(1.00, ("CN-XF", 1), ("BC-BAL", 1)))
    for way, group in ((1, "LOW"), (2, "HIGH")):
        drawing.route("DSP 1/IN/1", f"DSP 1/OUT/{way}")
        drawing.link("M+000", f"DSP 1/OUT/{way}", f"Amp 1/BAL/{way}", made_up(1.00, ("BC-BAL", 1), ("CN-XM", 1)), way)
        drawing.link("M+000", f"Amp 1/POST/{way}", f"Centre/{group}/1", made_up(4.90, ("BC-SPK", 10)), way)
    drawing.link("LFE1", "Proc/SUB/1", "Sub 1/XLR/1", adapted(1.60, "L-RCA-5", "AD-RX"))
    drawing.buy("P-LINE", 1, 500000)
    drawing.buy("D-TB", 1, 100000)
    drawing.buy("A-2", 1, 80000)
    drawing.buy("LS-X2", 1, 90000)
    drawing.buy("SW-ACT", 1, 120000)
    drawing.buy("BC-BAL", 3, 500)
    drawing.buy("CN-XF", 1, 1000)
    drawing.buy("CN-XM", 2, 1000)
    drawing.buy("BC-SPK", 20, 300)
    drawing.buy("L-RCA-5", 1, 2000)
    drawing.buy("AD-RX", 1, 1000)
    drawing.work(PROCESSOR=1, DSP=1, AMPLIFIER=1, LOUDSPEAKER=1, SUBWOOFER=1, LEAD=6, TERMINATION=10)
    return drawing.design(), _crossed_brief()


def crossed_by_processor() -> tuple[Design, Brief]:
    """The same centre with its ways made by a processor, whose card has the outputs."""
    drawing = Drawing()
    drawing.unit(UnitKind.PROCESSOR, "Proc", "P-SMALL")
    drawing.unit(UnitKind.CARD, "Card 1", "C-4", host="Proc")
    drawing.unit(UnitKind.AMPLIFIER, "Amp 1", "A-2")
    drawing.loudspeaker("Centre", "LS-X2", "Front", 0)
    drawing.subwoofers("SW-ACT", 1)
    for way, group in ((1, "LOW"), (2, "HIGH")):
        drawing.link("M+000", f"Card 1/EXP/{way}", f"Amp 1/BAL/{way}", stocked("L-XLR-5", 1.00), way)
        drawing.link("M+000", f"Amp 1/POST/{way}", f"Centre/{group}/1", made_up(4.90, ("BC-SPK", 10)), way)
    drawing.link("LFE1", "Card 1/EXP/3", "Sub 1/XLR/1", stocked("L-XLR-5", 1.60))
    drawing.buy("P-SMALL", 1, 300000)
    drawing.buy("C-4", 1, 66667, "Abroad")
    drawing.buy("A-2", 1, 80000)
    drawing.buy("LS-X2", 1, 90000)
    drawing.buy("SW-ACT", 1, 120000)
    drawing.buy("L-XLR-5", 3, 4000)
    drawing.buy("BC-SPK", 20, 300)
    drawing.work(PROCESSOR=1, CARD=1, AMPLIFIER=1, LOUDSPEAKER=1, SUBWOOFER=1, LEAD=5, TERMINATION=4)
    return drawing.design(), _crossed_brief()


def _crossed_brief() -> Brief:
    centre = LoudspeakerSet(name="Front", placements=_PLACEMENTS[2:], candidates=("LS-X2",))
    return replace(brief(subs=1), loudspeakers=(centre,))


def with_card() -> tuple[Design, Brief]:
    """A small processor whose card gives the outputs for two subwoofers; one is the client's own."""
    drawing = Drawing()
    _active_front(drawing, "P-SMALL")
    drawing.unit(UnitKind.CARD, "Card 1", "C-4", host="Proc")
    drawing.subwoofers("SW-ACT", 2)
    drawing.link("LFE1", "Card 1/EXP/1", "Sub 1/XLR/1", stocked("L-XLR-5", 1.60))
    drawing.link("LFE1", "Card 1/EXP/2", "Sub 2/XLR/1", stocked("L-XLR-5", 3.80))
    drawing.buy("P-SMALL", 1, 300000)
    drawing.buy("C-4", 1, 66667, "Abroad")
    drawing.buy("LS-ACT", 3, 150000)
    drawing.buy("SW-ACT", 1, 0, "owned")
    drawing.buy("SW-ACT", 1, 120000)
    drawing.buy("L-XLR-5", 6, 3000, "Bulk Depot")
    drawing.buy("L-XLR-10", 1, 6000)
    drawing.work(PROCESSOR=1, CARD=1, LOUDSPEAKER=3, SUBWOOFER=2, LEAD=5)
    asked = brief()
    project = replace(asked.project, tax_percent=Decimal(10))
    return drawing.design(), replace(asked, project=project, owned=(Owned(sku="SW-ACT", count=1, must_use=True),))


def fixed_routing() -> tuple[Design, Brief]:
    """Three subwoofers on a DSP unit in which outputs 1 and 2 derive from input 1, and 3 from input 2."""
    drawing = Drawing()
    _active_front(drawing, "P-LINE")
    drawing.unit(UnitKind.DSP, "DSP 1", "D-FIX")
    drawing.subwoofers("SW-ACT", 3)
    drawing.link("LFE1", "Proc/AUX/1", "DSP 1/IN/1", stocked("L-XLR-5", 1.00))
    drawing.link("LFE1", "Proc/AUX/2", "DSP 1/IN/2", stocked("L-XLR-5", 1.00))
    drawing.link("LFE1", "DSP 1/OUT/1", "Sub 1/XLR/1", stocked("L-XLR-5", 1.60))
    drawing.link("LFE1", "DSP 1/OUT/2", "Sub 2/XLR/1", stocked("L-XLR-5", 3.80))
    drawing.link("LFE1", "DSP 1/OUT/3", "Sub 3/XLR/1", stocked("L-XLR-10", 6.00))
    drawing.route("DSP 1/IN/1", "DSP 1/OUT/1")
    drawing.route("DSP 1/IN/1", "DSP 1/OUT/2")
    drawing.route("DSP 1/IN/2", "DSP 1/OUT/3")
    drawing.buy("P-LINE", 1, 500000)
    drawing.buy("D-FIX", 1, 80000)
    drawing.buy("LS-ACT", 3, 150000)
    drawing.buy("SW-ACT", 3, 120000)
    drawing.buy("L-XLR-5", 6, 4000)
    drawing.buy("L-XLR-10", 2, 6000)
    drawing.work(PROCESSOR=1, DSP=1, LOUDSPEAKER=3, SUBWOOFER=3, LEAD=8)
    return drawing.design(), brief(subs=3)


Drawn = Callable[[], tuple[Design, Brief]]

ALL: tuple[Drawn, ...] = (
    dedicated,
    by_dsp_unit,
    split,
    daisy_chain,
    receiver,
    amplified,
    crossed,
    crossed_by_processor,
    with_card,
    fixed_routing,
)
