"""Inputs for the project: who it is for, and the terms of the quote."""

from datetime import date

import streamlit as st

from planner.brief.records import Project
from ui.widgets.keys import Keys
from ui.widgets.labels import LABELS
from ui.widgets.numbers import optional_decimal


def project(seed: Project, keys: Keys) -> Project:
    """The project as it stands in the inputs."""
    left, right = st.columns(2, gap="medium")
    with left:
        name = st.text_input(LABELS["project.name"], seed.name, key=keys("project_name"))
        client = st.text_input(LABELS["project.client"], seed.client, key=keys("project_client"))
        reference = st.text_input(LABELS["project.reference"], seed.reference, key=keys("project_reference"))
    with right:
        dated = st.date_input(
            LABELS["project.dated"],
            seed.dated,
            min_value=date.min,
            max_value=date.max,
            format="YYYY-MM-DD",
            key=keys("project_dated"),
        )
        currency = st.text_input(
            LABELS["project.currency"],
            seed.currency,
            key=keys("project_currency"),
            help="Three letters, such as EUR. The house settings must hold a rate for it.",
        )
        tax_percent = optional_decimal(
            LABELS["project.tax_percent"],
            seed.tax_percent,
            key=keys("project_tax_percent"),
            empty="as in the house settings",
            help="Leave empty to take the rate of the house settings.",
        )
    return Project(
        name=name, client=client, reference=reference, dated=dated, currency=currency, tax_percent=tax_percent
    )
