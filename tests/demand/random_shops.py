"""Small random problems in which much depends on how parts are sold: lots, scarce pieces, cut leads.

Each is a shop and a brief, made again by its seed. Two or three subwoofers and up to two
loudspeakers; several devices of a kind, some of which do all that others do.
"""

from dataclasses import dataclass, replace
from random import Random

from planner.brief.records import DEFAULT_MEASURES, Brief, Drive, LoudspeakerSet, Measure, Owned, SubwooferSet
from planner.catalogue.records import CableKind, Catalogue, PortGroup, PortRole
from planner.contacts import Contact, Direction, Gender, jack
from planner.plan import options
from tests.demand.shop import (
    BARE_CONTROLS,
    BLOCK,
    CROSSING,
    FULL,
    HOUSE,
    POST,
    RCA,
    TAIL,
    XLR,
    Shop,
    brief,
    ins,
    limits,
    offer,
    outs,
    speakers,
    subs,
)

CHANNELS = ("M+030", "M-030", "U+045", "LFE1")
DISTANCES_M = (1.0, 2.0, 2.0, 4.0, 4.0, 7.0)
LENGTHS_M = (1.0, 2.0, 4.0, 4.0, 8.0, 14.0)
FEW = (Measure.PRICE, Measure.INDEPENDENT_SUBWOOFERS, Measure.CONVERSIONS)
WEIGHED = (DEFAULT_MEASURES, FEW, (Measure.PRICE,), (Measure.PRICE, Measure.JOINTS), tuple(Measure))
FIELDS = {
    Measure.PRICE: "price_minor",
    Measure.INDEPENDENT_SUBWOOFERS: "independent_subs",
    Measure.SPARE_OUTPUTS: "spare_outputs",
    Measure.JOINTS: "joints",
    Measure.SUBWOOFERS_LOST: "subs_lost_worst",
    Measure.CONVERSIONS: "conversions",
    Measure.EARTH_LOOPS: "earth_loops",
    Measure.LEAST_MARGIN: "least_margin_db",  # not known here: no port has a level
}
Sets = list[LoudspeakerSet | SubwooferSet]
Values = tuple[tuple[str, int | None], ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Problem:
    """A brief and what can be bought for it."""

    brief: Brief
    catalogue: Catalogue

    def answer(self) -> frozenset[Values]:
        """The measures weighed of every option; the set must be proven, and hold each combination once."""
        found = options(self.brief, self.catalogue, HOUSE)
        assert not found.unproven
        weighed = [FIELDS[measure] for measure in self.brief.measures]
        values = [tuple((name, getattr(option.measures, name)) for name in weighed) for option in found.options]
        assert len(set(values)) == len(values)
        return frozenset(values)


def problem(seed: int) -> Problem:
    """The problem of a seed; in every third one all is sold freely, in every eleventh models rival."""
    shop = RandomShop(Random(seed), freely=seed % 3 == 0)
    shop.sell_processors()
    shop.sell_boxes()
    sets = shop.sell_loads()
    shop.sell_leads()
    shop.offer_elsewhere()
    asked = shop.ask(sets)
    if seed % 11 == 2:
        asked = shop.sell_rivals(asked)
    return Problem(brief=asked, catalogue=shop.catalogue())


class RandomShop(Shop):
    """A shop that decides for itself what it sells. Two kinds of line connector, so that much can be joined."""

    def __init__(self, rng: Random, freely: bool) -> None:
        super().__init__()
        self._rng, self._freely = rng, freely
        self._palette = rng.sample((RCA, XLR, BLOCK), 2)

    def sell_processors(self) -> None:
        """Up to three, each with jacks that may carry a loudspeaker."""
        rng = self._rng
        for number in range(rng.randint(1, 3)):
            groups = [self._outputs(name) for name in "AB"[: rng.randint(1, 2)]]
            if all(group.role is not PortRole.ASSIGNABLE or group.channels for group in groups):
                groups.append(outs("C", rng.choice(self._palette), 3, PortRole.ASSIGNABLE))
            self.processor(
                f"P{number}", self._price(300, 500), *groups, controls=rng.choice((FULL, CROSSING, BARE_CONTROLS)),
                rack_units=rng.randint(1, 3), processed_outputs=rng.randint(4, 8),
            )  # fmt: skip

    def _outputs(self, name: str) -> PortGroup:
        rng, connector = self._rng, self._rng.choice(self._palette)
        match rng.randint(0, 6):
            case 0:
                return outs(name, connector, rng.randint(2, 3), PortRole.FIXED_SUB)
            case 1:
                return outs(name, connector, rng.randint(2, 3), PortRole.MIRRORED_SUB)
            case 2:
                return outs(name, connector, 3, PortRole.FIXED_MAIN, CHANNELS[:3])
            case 3:
                return outs(name, connector, rng.randint(2, 4), PortRole.ASSIGNABLE, CHANNELS)
            case _:
                return outs(name, connector, rng.randint(2, 4), PortRole.ASSIGNABLE)

    def sell_boxes(self) -> None:
        """DSP units, amplifiers and splitters."""
        rng, palette = self._rng, self._palette
        entry, exit_by = rng.choice(palette), rng.choice(palette)
        for number in range(rng.randint(0, 3)):
            inputs = rng.randint(1, 2)
            each = rng.choice((None, None, 2))
            outputs = inputs * each if each else rng.randint(2, 4)
            self.dsp(
                f"D{number}", self._price(60, 140), ins("IN", entry, inputs), outs("OUT", exit_by, outputs),
                outputs_per_input=each, rack_units=rng.randint(1, 2), controls=rng.choice((FULL, CROSSING)),
                bounds=self._bounds(),
            )  # fmt: skip
        for number in range(rng.randint(1, 3)):
            channels, entry, units = rng.randint(1, 3), rng.choice(palette), rng.randint(1, 2)
            self.amplifier(f"A{number}", self._price(40, 120), channels, entry, rack_units=units, **self._bounds())
        plugged = [connector for connector in palette if connector is not BLOCK]
        for number in range(rng.randint(0, 3)):
            connector = rng.choice(plugged)
            leg, legs = jack(connector, Direction.OUT), rng.randint(2, 3)
            self.splitter(f"Y{number}", self._price(4, 20), _mate(leg), leg, legs, connector is XLR, **self._bounds())

    def sell_loads(self) -> Sets:
        """Subwoofers and perhaps loudspeakers; the sets that ask for them."""
        rng, palette = self._rng, self._palette
        ports = [ins(name, connector) for name, connector in zip("JK", rng.sample(palette, 2), strict=True)]
        line = ports[: rng.randint(1, 2)]
        if rng.random() < 0.25:
            self.sub("S", 200, ins("J", POST))
        elif rng.random() < 0.5:
            self.sub("S", 200, *line, outs("LINK", rng.choice(palette), 1, PortRole.LINK))
        else:
            self.sub("S", 200, *line)
        distances = [rng.choice(DISTANCES_M) for _ in range(rng.randint(2, 3))]
        sets: Sets = [subs("S", *distances, least=rng.choice((len(distances), 1)))]
        match rng.randint(0, 3):
            case 1:
                self.speaker("L", 100, *ports)
            case 2:
                self.speaker("L", 100, ins("J", POST))
            case 3:
                self.speaker("L", 100, ins("LOW", POST), ins("HIGH", POST), ways=2)
            case _:
                return sets
        return [speakers("Mains", "L", "M+030 M-030", rng.choice(DISTANCES_M), rng.choice(DISTANCES_M)), *sets]

    def sell_rivals(self, asked: Brief) -> Brief:
        """Beside each loudspeaker and subwoofer one like it, at another price or with one input less or more."""
        ports = self.catalogue().ports
        for sku, rival, sell in (("S", "T", self.sub), ("L", "K", self.speaker)):
            if sku not in ports:
                continue
            crossed = any(port.name == "LOW" for port in ports[sku])
            like = list(ports[sku]) if crossed or self._rng.random() < 0.5 else list(ports[sku][:1])
            if not crossed and self._rng.random() < 0.5:
                like.append(ins("MORE", like[0].connector))
            terms = {"ways": 2} if crossed else {}
            sell(rival, self._rng.choice((90, 100, 110, 190, 200, 210)), *like, **terms)
        return replace(
            asked,
            subwoofers=tuple(replace(entry, candidates=("S", "T")) for entry in asked.subwoofers),
            loudspeakers=tuple(replace(entry, candidates=("K", "L")) for entry in asked.loudspeakers),
        )

    def sell_leads(self) -> None:
        """Leads of all lengths, adapters, cable and what is fitted to it."""
        rng = self._rng
        ends = [_end(jack(connector, direction)) for connector in self._palette for direction in Direction]
        for number in range(rng.randint(5, 12)):
            one, other = rng.choice(ends), rng.choice(ends)
            length_m, balanced = rng.choice(LENGTHS_M), rng.random() < 0.8
            if not one == other == TAIL:
                self.lead(f"W{number:02}", self._price(2, 34), one, other, length_m, balanced, **self._bounds())
        for number in range(rng.randint(0, 2)):
            one, other = rng.choice(ends), rng.choice(ends)
            if TAIL not in (one, other):
                self.adapter(f"X{number}", self._price(1, 9), one, _mate(other), **self._bounds())
        for kind in CableKind:
            if kind is not CableKind.LINE_UNBALANCED or rng.random() < 0.5:
                self.cable(f"B-{kind.value}", self._price(1, 9), kind, rng.choice((1.0, 5.0)), **self._bounds())
        for number, contact in enumerate(sorted(set(ends) - {TAIL})):
            if rng.random() < 0.9:
                self.part(f"N{number}", self._price(1, 9), contact, **self._bounds())

    def offer_elsewhere(self) -> None:
        """A second offer of some things, dearer or cheaper, by terms of its own."""
        for sku, entries in sorted(self.catalogue().offers.items()):
            if not self._freely and self._rng.random() < 0.25:
                price = max(1, int(entries[0].price) + self._rng.randint(-4, 8))
                self.offer(offer(sku, price, "Elsewhere", **self._bounds()))

    def ask(self, sets: Sets) -> Brief:
        """A brief for the sets: what is weighed, owned and allowed. Only devices may have to be used."""
        rng = self._rng
        owned = tuple(
            Owned(sku=item.sku, count=rng.randint(1, 2), must_use=item.sku[0] in "DA" and rng.random() < 0.3)
            for item in self.catalogue().items()
            if not self._freely and item.sku[0] in "DAWXBNY" and rng.random() < 0.1
        )
        return brief(
            *sets, measures=rng.choice(WEIGHED), owned=owned, rack_units=rng.choice((None, None, 6)),
            limits=limits(
                drives=frozenset(drive for drive in Drive if drive is Drive.DEDICATED or rng.random() < 0.9),
                filters_per_subwoofer=rng.choice((0, 5)),
                most_dsp_units=rng.choice((1, 2)),
                spare_ceiling=2,
            ),
        )  # fmt: skip

    def _bounds(self) -> dict[str, int | None]:
        """How one thing is sold: mostly freely, now and then scarce or in lots."""
        if self._freely:
            return {}
        stock = self._rng.choice((None, None, None, self._rng.randint(1, 4)))
        return {"stock": stock, "least_order": self._rng.choice((None, None, None, 2, 3))}

    def _price(self, low: int, high: int) -> int:
        """A price of few different values, so that ties are common."""
        return self._rng.randrange(low, high, max(1, (high - low) // 8))


def _mate(contact: Contact) -> Contact:
    return Contact(contact.connector, Gender.MALE if contact.gender is Gender.FEMALE else Gender.FEMALE)


def _end(socket: Contact) -> Contact:
    """The end of a lead that joins a jack."""
    return TAIL if socket.connector is BLOCK else _mate(socket)
