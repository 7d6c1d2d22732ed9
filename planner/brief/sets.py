"""The sets of a brief: loudspeakers and subwoofers, read from their tables."""

from dataclasses import dataclass, field

from planner.brief.bounds import SUBWOOFERS, TARGET_SPL
from planner.brief.records import LoudspeakerSet, Placement, Point, SubwooferSet
from planner.brief.table import Table
from planner.brief.values import nearest
from planner.channels import accepted_names, canonical, is_bass
from planner.layouts import Layout

_MODEL = "SKU-1"


@dataclass(kw_only=True)
class SetReader:
    """Reads the sets one after another, and remembers the channels met so far.

    A channel may have several loudspeakers (an array), but only the first of them can be
    placed by the layout. `layout` is None if the brief names none that is known.
    """

    layout: Layout | None
    corner: Point
    _word_by_label: dict[str, str] = field(default_factory=dict)
    _placed_by_layout: set[str] = field(default_factory=set)

    def loudspeakers(self, table: Table) -> LoudspeakerSet:
        """One [[loudspeakers]] table."""
        name = table.text("name", '"Front"')
        words = table.texts("channels", '["L", "C", "R"]')
        if not words and table.sound("channels"):
            table.fault("channels", [], "at least one channel", 'Write channels = ["L", "C", "R"].')
        positions = self._positions(table, len(words))
        placements = tuple(
            Placement(channel=self._channel(table, index, word, position), position=position)
            for index, (word, position) in enumerate(zip(words, positions, strict=True))
        )
        candidates = _candidates(table)
        target = table.optional_number("target_spl_db", TARGET_SPL, "105.0")
        if not table.has("target_spl_db") and not candidates and table.sound("model", "candidates"):
            remedy = f'Add model = "{_MODEL}", candidates = ["{_MODEL}"] or target_spl_db = 105.0.'
            table.fault("model", None, "a model, candidates, or a level to reach", remedy)
        table.close()
        return LoudspeakerSet(name=name, placements=placements, candidates=candidates, target_spl_db=target)

    def subwoofers(self, table: Table) -> SubwooferSet:
        """One [[subwoofers]] table."""
        name = table.text("name", '"Subwoofers"')
        least, most = _counts(table)
        candidates = _candidates(table)
        positions = tuple(point for point in table.points("positions", self.corner) if point is not None)
        if table.sound("positions", "count", "most") and len(positions) < most:
            remedy = f"Add {most - len(positions)} more [x, y, z], or ask for fewer subwoofers."
            table.told("positions", f"{len(positions)}", f"at least {most} positions, one a subwoofer", remedy)
        channel = _bass_channel(table)
        target = table.optional_number("target_spl_db", TARGET_SPL, "115.0")
        table.close()
        return SubwooferSet(
            name=name,
            least=least,
            most=most,
            positions=positions,
            candidates=candidates,
            channel=channel,
            target_spl_db=target,
        )

    def _positions(self, table: Table, count: int) -> tuple[Point | None, ...]:
        """One position, or None for the layout's, for each of `count` channels."""
        if not table.has("positions"):
            return (None,) * count
        positions = table.points("positions", self.corner, blanks=True)
        if len(positions) == count:
            return positions
        if table.sound("positions", "channels"):
            remedy = "Write [] for a loudspeaker that the layout places."
            table.told("positions", f"{len(positions)}", f"{count} positions, one a channel in order", remedy)
        return (None,) * count

    def _channel(self, table: Table, index: int, word: str, position: Point | None) -> str:
        """The label of the channel written at `index`; empty if it is at fault."""
        if not word:
            return ""
        key = f"channels[{index}]"
        label = canonical(word, self.layout.labels if self.layout else ())
        if label is None:
            _unknown_channel(table, key, word)
            return ""
        if is_bass(label):
            remedy = "Put it in a [[subwoofers]] table; subwoofers play the bass channels."
            table.fault(key, word, "a channel that loudspeakers play", remedy)
            return label
        first_word = self._word_by_label.setdefault(label, word)
        if first_word.casefold() != word.casefold():
            remedy = f"If both mean {label}, write one name for both; if not, write the BS.2051 label of each."
            table.fault(key, word, f'another channel than "{first_word}", which is {label} too', remedy)
        elif position is None and table.sound("positions"):
            self._place_by_layout(table, key, word, label)
        return label

    def _place_by_layout(self, table: Table, key: str, word: str, label: str) -> None:
        if label in self._placed_by_layout:
            remedy = "Add positions; a layout places one loudspeaker a channel."
            table.fault(key, word, f"a position for each further loudspeaker of {label}", remedy)
        elif self.layout is not None and label not in self.layout.labels:
            remedy = f"Add its position, or choose a layout that has {label}."
            table.fault(key, word, f"a channel of the layout {self.layout.title}, or a position", remedy)
        self._placed_by_layout.add(label)


def _unknown_channel(table: Table, key: str, word: str) -> None:
    near = nearest(word.casefold(), [name.casefold() for name in accepted_names()])
    remedy = f"Did you mean {near.upper()}?" if near else "Write a label such as M+030, or a name such as L."
    table.fault(key, word, "an ITU-R BS.2051 label or a trade name", remedy)


def _bass_channel(table: Table) -> str:
    if not table.has("channel"):
        return "LFE1"
    word = table.text("channel", '"LFE1"')
    label = canonical(word)
    if word and (label is None or not is_bass(label)):
        table.fault("channel", word, "a bass channel, LFE1 or LFE2", 'Write channel = "LFE1".')
    return label or "LFE1"


def _counts(table: Table) -> tuple[int, int]:
    """Least and most, from `count` or from both `least` and `most`."""
    if not table.has("least") and not table.has("most"):
        count = table.whole("count", SUBWOOFERS, "4")
        return count, count
    if table.has("count"):
        table.told("count", "count with least or most", "count alone, or least and most", "Remove one or the other.")
    least = table.whole("least", SUBWOOFERS, "2")
    most = table.whole("most", SUBWOOFERS, "4")
    if table.sound("least", "most") and least > most:
        table.fault("least", least, f"no more than most, which is {most}", "Exchange the two, or correct one.")
    return least, most


def _candidates(table: Table) -> tuple[str, ...]:
    """The skus allowed: one from `model`, several from `candidates`, none from neither."""
    model = (table.text("model", f'"{_MODEL}"'),) if table.has("model") else ()
    candidates = table.texts("candidates", f'["{_MODEL}"]') if table.has("candidates") else ()
    if model and table.has("candidates"):
        table.told("model", "model with candidates", "model or candidates", "Remove one or the other.")
    for index, sku in enumerate(candidates):
        if sku and sku in candidates[:index]:
            table.fault(f"candidates[{index}]", sku, "each sku once", "Remove the repeated one.")
    return model or candidates
