"""Inputs for what a design may not break, and for the measures to weigh."""

from dataclasses import replace

import streamlit as st

from planner.brief.records import Drive, Limits, Measure, PhysicalLimit
from planner.words import DRIVE_WORDS, MEASURE_WORDS, PHYSICAL_WORDS
from ui.markup import literal
from ui.widgets.keys import Keys
from ui.widgets.labels import LABELS
from ui.widgets.numbers import number, optional_decimal, optional_number, optional_whole, whole


def limits(seed: Limits, currency: str, keys: Keys) -> Limits:
    """The limits as they stand in the inputs."""
    drives = st.multiselect(
        LABELS["limits.drives"],
        list(Drive),
        default=[drive for drive in Drive if drive in seed.drives],
        format_func=DRIVE_WORDS.__getitem__,
        key=keys("limits_drives"),
        help="Dedicated: a processor output of its own. DSP: an output of a DSP unit. Split: an output shared through"
        " passive splitters. Daisy-chained: from the link output of another subwoofer.",
    )
    left, middle, right = st.columns(3, gap="medium")
    with left:
        st.markdown("**Subwoofers**")
        independent = whole(
            LABELS["limits.least_independent_subwoofers"],
            seed.least_independent_subwoofers,
            key=keys("limits_least_independent_subwoofers"),
            help="Each has gain, delay, polarity and filters of its own.",
        )
        groups = whole(
            LABELS["limits.least_control_groups"],
            seed.least_control_groups,
            key=keys("limits_least_control_groups"),
            help="A group is the subwoofers that share one adjustable output.",
        )
        filters = whole(
            LABELS["limits.filters_per_subwoofer"], seed.filters_per_subwoofer, key=keys("limits_filters_per_subwoofer")
        )
        lost = optional_whole(
            LABELS["limits.most_subwoofers_lost"],
            seed.most_subwoofers_lost,
            key=keys("limits_most_subwoofers_lost"),
            empty="no limit",
            help="One box, lead, splitter or joint after the processor fails.",
        )
    with middle:
        st.markdown("**Outputs**")
        spare = whole(LABELS["limits.spare_outputs"], seed.spare_outputs, key=keys("limits_spare_outputs"))
        ceiling = whole(
            LABELS["limits.spare_ceiling"],
            seed.spare_ceiling,
            key=keys("limits_spare_ceiling"),
            help="Beyond this number a further spare output makes an option no better.",
        )
        split = whole(LABELS["limits.largest_split"], seed.largest_split, key=keys("limits_largest_split"))
        units = whole(LABELS["limits.most_dsp_units"], seed.most_dsp_units, key=keys("limits_most_dsp_units"))
    with right:
        st.markdown("**Money and leads**")
        budget = optional_decimal(
            f"{LABELS['limits.budget']}, {literal(currency)}", seed.budget, key=keys("limits_budget"), empty="no limit"
        )
        balanced_only = st.toggle(
            LABELS["limits.balanced_only"],
            seed.balanced_only,
            key=keys("limits_balanced_only"),
            help="Every line-level lead joins two balanced jacks.",
        )
    physical = _physical(seed, keys)
    return replace(
        physical,
        drives=frozenset(drives),
        largest_split=split,
        balanced_only=balanced_only,
        least_independent_subwoofers=independent,
        least_control_groups=groups,
        spare_outputs=spare,
        spare_ceiling=ceiling,
        most_subwoofers_lost=lost,
        filters_per_subwoofer=filters,
        most_dsp_units=units,
        budget=budget,
    )


def _physical(seed: Limits, keys: Keys) -> Limits:
    """The limits of level, power, load, delay and earth, in a copy of `seed`."""
    st.markdown("**Level, power, load, delay and earth**")
    kept = st.multiselect(
        LABELS["limits.physical"],
        list(PhysicalLimit),
        default=[limit for limit in PhysicalLimit if limit in seed.physical],
        format_func=PHYSICAL_WORDS.__getitem__,
        key=keys("limits_physical"),
        help="No design that breaks one of these is proposed. One that is left out is told as a concern instead.",
    )
    left, middle, right = st.columns(3, gap="medium")
    with left:
        tolerance = number(
            LABELS["limits.level_tolerance_db"],
            seed.level_tolerance_db,
            key=keys("limits_level_tolerance_db"),
            help="How far short of its full output an input may be driven.",
        )
        margin = optional_number(
            LABELS["limits.least_margin_db"],
            seed.least_margin_db,
            key=keys("limits_least_margin_db"),
            empty="none asked",
            help="Between what each stage passes at full output and where it clips.",
        )
    with middle:
        headroom = number(
            LABELS["limits.target_headroom_db"], seed.target_headroom_db, key=keys("limits_target_headroom_db")
        )
        cable = number(
            LABELS["limits.most_cable_loss_db"], seed.most_cable_loss_db, key=keys("limits_most_cable_loss_db")
        )
    with right:
        noise = number(
            LABELS["limits.most_noise_db"],
            seed.most_noise_db,
            key=keys("limits_most_noise_db"),
            help="More is told as a concern.",
            step=1.0,
        )
        loops = optional_whole(
            LABELS["limits.most_earth_loops"],
            seed.most_earth_loops,
            key=keys("limits_most_earth_loops"),
            empty="no limit",
            help="All independent loops of mains earths and shields, those through balanced leads included.",
        )
    return replace(
        seed,
        physical=frozenset(kept),
        level_tolerance_db=tolerance,
        target_headroom_db=headroom,
        most_cable_loss_db=cable,
        most_noise_db=noise,
        least_margin_db=margin,
        most_earth_loops=loops,
    )


def measures(seed: tuple[Measure, ...], keys: Keys) -> tuple[Measure, ...]:
    """The measures to weigh against each other."""
    chosen = st.multiselect(
        LABELS["measures"],
        list(Measure),
        default=list(seed),
        format_func=MEASURE_WORDS.__getitem__,
        key=keys("measures"),
        help="An option is kept if no other is as good in all of these and better in one.",
    )
    return tuple(chosen)
