"""The measures M2 to M6 of the model, as expressions that limits and bounds can be put on."""

from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from planner.allocation.expressions import Expr, total, weighted
from planner.allocation.rules.processor import processor_points
from planner.allocation.variables import Variables
from planner.demand.flows import FeedFlow, Mode


@dataclass(frozen=True, slots=True)
class Measured:
    """Measures as the model sees them. `spare` and `lost` may read worse than they are, never better."""

    independent: Expr
    groups: Expr
    spare: cp_model.IntVar
    lost: Expr
    conversions: Expr
    joints: Expr


class Measuring:
    """Builds the expressions, with the constraints that tie them to the flows."""

    def __init__(self, model: cp_model.CpModel, v: Variables) -> None:
        self._model, self._v, self._demand = model, v, v.demand
        self._subs = sum(len(s.members) for s in self._demand.sets if s.bass)
        # at_least[b]: one failure may silence b subwoofers
        self._at_least = {b: model.new_bool_var(f"{b} lost") for b in range(1, self._subs + 1)}

    def measured(self, weigh_joints: bool) -> Measured:
        """All measures; joints only where they are weighed."""
        return Measured(
            independent=self._independent(),
            groups=self._groups(),
            spare=self._spare(),
            lost=self._lost(),
            conversions=self._conversions(),
            joints=self._joints() if weigh_joints else total(()),
        )

    def _bass(self) -> list[tuple[FeedFlow, cp_model.IntVar]]:
        pairs = zip(self._demand.feed_flows, self._v.feed, strict=True)
        return [(flow, n) for flow, n in pairs if flow.feed.bass]

    def _independent(self) -> Expr:
        """M2: subwoofers alone on a control point that offers all that R10 asks for."""
        return total(n for flow, n in self._bass() if flow.mode is Mode.ALONE and flow.outlet.capable)

    def _groups(self) -> Expr:
        """Control points that feed subwoofers: whole flows, splits, mirrored groups."""
        whole = total(n for flow, n in self._bass() if flow.mode in (Mode.ALONE, Mode.CHAIN))
        bass = self._demand.bass_channels
        splits = total(
            n for split, n in zip(self._demand.split_flows, self._v.split, strict=True)
            if split.channel in bass and split.outlet.jacks == 1
        )  # fmt: skip
        return whole + splits + total(self._v.mirror_group.values())

    def _spare(self) -> cp_model.IntVar:
        """M3: free line outputs, no more than the processor can still process, up to the ceiling."""
        spare = self._model.new_int_var(0, self._demand.brief.limits.spare_ceiling, "spare")
        processors = list(zip(self._demand.processors, self._v.processor, strict=True))
        free: list[Expr | int] = []
        for outlet in sorted({o for p in self._demand.processors for o in p.outlets if not o.speaker}):
            groups = total(y for p, y in processors if outlet in p.outlets)
            if outlet.fixed:
                free.append((outlet.others or 0) * groups)
                continue
            left = self._v.offered(outlet) - self._v.points((outlet, None))
            if outlet.others is not None:
                useful = self._model.new_int_var(0, outlet.others, "useful spare")
                self._model.add(useful <= left)
                left = useful
            free.append(left)
        self._model.add(spare <= total(free))
        processed = total(p.processed_outputs * y for p, y in processors)
        self._model.add(spare <= processed - processor_points(self._v))
        return spare

    def _lost(self) -> Expr:
        """M5: the most subwoofers behind any one box, lead or splitter past the processor."""
        levels = list(self._at_least.values())
        for lower, higher in pairwise(levels):
            self._model.add_implication(higher, lower)
        for (_, _, _), there in self._bass_members():
            self._model.add_implication(there, levels[0])
        lost = total(levels)
        for split, n in zip(self._demand.split_flows, self._v.split, strict=True):
            if split.channel in self._demand.bass_channels:
                self._allow(n, split.legs)
        for flow, n in self._bass():
            if flow.mode is Mode.CHAIN:
                self._allow(n, flow.size)
        for unit in self._v.units:
            behind = total(
                n * (flow.size if flow.mode is Mode.CHAIN else 1) for flow, n in self._bass() if flow.unit == unit
            )
            self._model.add(behind <= lost)
        self._amplifiers_lose_no_more()
        return lost

    def _bass_members(self) -> list[tuple[tuple[str, str, int], cp_model.IntVar]]:
        bass = {s.name for s in self._demand.sets if s.bass}
        return [(member, there) for member, there in self._v.present.items() if member[0] in bass]

    def _allow(self, count: cp_model.IntVar, subwoofers: int) -> None:
        """This many may be lost if the count is not zero."""
        if subwoofers > self._subs:
            self._model.add(count == 0)
        else:
            self._model.add(count == 0).only_enforce_if(self._at_least[subwoofers].negated())

    def _amplifiers_lose_no_more(self) -> None:
        """Bass channels spread over amplifiers of a model: no more on each than may be lost."""
        for amplifier in self._demand.amplifiers if self._v.amplifiers else ():
            uses = [u for u in self._v.amplifier_uses if u.amplifier is amplifier]
            bass = total(u.bass_channels for u in uses)
            for most in range(1, self._subs):
                allowed = self._at_least[most + 1].negated()
                self._model.add(bass <= most * self._v.amplifiers[amplifier.sku]).only_enforce_if(allowed)

    def _conversions(self) -> Expr:
        """M6: leads and splitters between a balanced and an unbalanced side."""
        return weighted((cost.conversions, n) for cost, n, _ in self._v.steps())

    def _joints(self) -> Expr:
        """M4: mated pairs and boxes between the processor and the subwoofers."""
        mated = weighted((cost.joints, n) for cost, n, bass in self._v.steps() if bass)
        return mated + self._bass_boxes()

    def _bass_boxes(self) -> Expr:
        """DSP units and amplifiers that subwoofers hang on."""
        boxes: list[cp_model.IntVar] = []
        for unit in self._v.units:
            carries = self._model.new_bool_var(f"dsp {unit} carries bass")
            for flow, n in self._bass():
                if flow.unit == unit:
                    self._model.add(n == 0).only_enforce_if(carries.negated())
            boxes.append(carries)
        passive = any(flow.feed.bass and not flow.feed.active for flow in self._demand.feed_flows)
        for amplifier in self._demand.amplifiers if passive else ():
            uses = [u for u in self._v.amplifier_uses if u.amplifier is amplifier]
            bass = total(u.bass_channels for u in uses)
            carriers = self._model.new_int_var(0, self._subs, f"{amplifier.sku} carrying bass")
            self._model.add(carriers <= self._v.amplifiers[amplifier.sku])
            self._model.add(bass <= amplifier.channels * carriers)
            # the others carry something else, none is idle
            self._model.add(self._v.amplifiers[amplifier.sku] - carriers <= total(u.channels for u in uses) - bass)
            for most in range(1, self._subs):
                allowed = self._at_least[most + 1].negated()
                self._model.add(bass <= most * carriers).only_enforce_if(allowed)
            boxes.append(carriers)
        return total(boxes)
