"""What must hold of a valid design, rule by rule; identifiers are the contract's.

`add_rules` is the table of contents. Rules on money (R18) are in `planner.allocation.purchases`.
"""

from ortools.sat.python import cp_model

from planner.allocation.rules.amplifiers import amplifier_channels_suffice
from planner.allocation.rules.bass_targets import subwoofers_reach_their_target
from planner.allocation.rules.delays import delays_fit_their_ranges
from planner.allocation.rules.dsp_units import (
    all_ways_come_from_one_device,
    dsp_outputs_derive_from_their_own_inputs,
    dsp_units_are_not_overbooked,
)
from planner.allocation.rules.levels import dsp_units_are_driven_far_enough
from planner.allocation.rules.loads import every_feed_is_driven_once, members_in_order, one_model_for_each_set
from planner.allocation.rules.processor import (
    fixed_jacks_serve_their_own_channel_once,
    one_processor,
    outlets_are_not_overbooked,
    processor_renders_and_processes_enough,
)
from planner.allocation.rules.rack import rack_holds_everything
from planner.allocation.rules.sharing import (
    chains_hang_together,
    legs_need_splitters,
    mirrored_jacks_carry_one_signal,
)
from planner.allocation.variables import Variables

RULES = (
    one_processor,
    one_model_for_each_set,
    members_in_order,
    every_feed_is_driven_once,
    outlets_are_not_overbooked,
    mirrored_jacks_carry_one_signal,
    fixed_jacks_serve_their_own_channel_once,
    processor_renders_and_processes_enough,
    dsp_units_are_not_overbooked,
    dsp_outputs_derive_from_their_own_inputs,
    all_ways_come_from_one_device,
    legs_need_splitters,
    amplifier_channels_suffice,
    chains_hang_together,
    rack_holds_everything,
    dsp_units_are_driven_far_enough,
    delays_fit_their_ranges,
    subwoofers_reach_their_target,
)


def add_rules(model: cp_model.CpModel, v: Variables) -> None:
    """Adds every rule of a valid design to a model."""
    for rule in RULES:
        rule(model, v)
