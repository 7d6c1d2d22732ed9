"""A brief whose bass can be told by hand or by symmetry; all of it invented."""

from datetime import date

from planner.brief.records import Brief, Point, Project, Rack, Room, Seat, SubwooferSet
from planner.catalogue.records import Catalogue, Powering, Subwoofer

SIX_SEATS = tuple(
    Seat(name=f"{row} {n}", position=Point(x, y, z), primary=row == "Front" and n == 2)
    for row, x, z in (("Front", 3.4, 1.1), ("Back", 4.6, 1.4))
    for n, y in enumerate((1.0, 2.05, 3.1), start=1)
)
FRONT = SubwooferSet(
    name="Front", least=2, most=2, positions=(Point(0.3, 1.0, 0.2), Point(0.3, 3.1, 0.2)), candidates=("deep",)
)
REAR = SubwooferSet(
    name="Rear",
    least=1,
    most=2,
    positions=(Point(5.9, 1.0, 0.2), Point(5.9, 3.1, 0.2), Point(5.9, 2.05, 0.2)),
    candidates=("small",),
)
BRIEF = Brief(
    project=Project(name="Example", client="", reference="", dated=date(2026, 11, 25), currency="EUR"),
    room=Room(length_m=6.2, width_m=4.1, height_m=2.55),
    seats=SIX_SEATS,
    rack=Rack(position=Point(6.0, 0.2, 0.5)),
    layout="2.0",
    loudspeakers=(),
    subwoofers=(FRONT, REAR),
)
CATALOGUE = Catalogue(
    subwoofers=(
        Subwoofer(sku="deep", name="Deep", powering=Powering.ACTIVE, low_corner_hz=18.0, max_spl_db=120.0),
        Subwoofer(sku="small", name="Small", powering=Powering.ACTIVE, low_corner_hz=30.0, max_spl_db=112.0),
    )
)
