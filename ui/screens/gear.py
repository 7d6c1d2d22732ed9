"""The gear: where it comes from, what there is, and the house's terms."""

from collections.abc import Iterator, Mapping

import streamlit as st

from planner.catalogue.records import Catalogue
from planner.house import House
from planner.projects import Demo
from planner.words import TASK_WORDS
from ui.gear import Gear, Unfit
from ui.markup import capital, literal
from ui.session import Session
from ui.widgets.faults import file_faults
from ui.widgets.gear_source import gear_source
from ui.widgets.keys import Keys


def choose(session: Session) -> None:
    """Draws the choice of gear, and leaves it in the session; until it is complete, the last one stays."""
    source = gear_source(session.source, Keys(session.revision))
    if source is None:
        st.info("Until there is something to read, the gear in use stays as it is.", icon=":material/info:")
    else:
        session.source = source


def render(session: Session, gear: Gear | Unfit) -> None:
    """Draws what there is, or what is wrong with it."""
    if isinstance(gear, Unfit):
        file_faults(gear.faults, key="gear")
        return
    if session.source == Demo():
        st.caption("All gear, prices and firms of the demo catalogue are invented.")
    left, right = st.columns(2, gap="large")
    with left:
        st.markdown("##### What there is")
        st.table(list(_counts(gear.catalogue)), border="horizontal", alt="Gear by kind")
    with right:
        st.markdown("##### House settings")
        st.table(list(_terms(gear.house)), border="horizontal", hide_header=True, alt="House settings")
        st.markdown("**Labour**")
        st.table(list(_minutes(gear.house)), border="horizontal", alt="Labour")
        if gear.house.rates:
            st.markdown("**Exchange rates**")
            st.table(list(_rates(gear.house)), border="horizontal", alt="Exchange rates")


def _counts(catalogue: Catalogue) -> Iterator[dict[str, str]]:
    kinds: Mapping[str, int] = {
        "Processors and receivers": len(catalogue.processors),
        "Expansion cards": len(catalogue.cards),
        "DSP units": len(catalogue.dsp_units),
        "Amplifiers": len(catalogue.amplifiers),
        "Loudspeakers": len(catalogue.loudspeakers),
        "Subwoofers": len(catalogue.subwoofers),
        "Leads": len(catalogue.leads),
        "Adapters": len(catalogue.adapters),
        "Splitters": len(catalogue.splitters),
        "Isolators": len(catalogue.isolators),
        "Bulk cables": len(catalogue.bulk_cables),
        "Connectors": len(catalogue.connectors),
        "Port groups": sum(len(groups) for groups in catalogue.ports.values()),
        "Prices": sum(len(offers) for offers in catalogue.offers.values()),
    }
    for kind, count in kinds.items():
        yield {"Kind": kind, "Count": str(count)}


def _terms(house: House) -> Iterator[dict[str, str]]:
    terms: Mapping[str, str] = {
        "Firm": ", ".join((house.name, *house.address)),
        "Currency": house.currency,
        "Margin" if house.margin_percent is not None else "Mark-up": (
            f"{house.margin_percent} % of the price"
            if house.margin_percent is not None
            else f"{house.markup_percent} % on cost"
        ),
        "Tax": f"{house.tax_name}, {house.tax_percent} %",
        "Labour": f"{house.currency} {house.labour_rate} an hour",
        "Rounding": house.rounding.value.replace("_", " "),
    }
    for term, value in terms.items():
        yield {"Term": literal(term), "Value": literal(value)}


def _minutes(house: House) -> Iterator[dict[str, str]]:
    for task, minutes in house.minutes.items():
        yield {"Task": capital(TASK_WORDS[task]), "Minutes for one": str(minutes)}


def _rates(house: House) -> Iterator[dict[str, str]]:
    for currency, rate in house.rates.items():
        yield {
            f"For one {literal(house.currency)}": f"{literal(currency)} {rate.per_house_unit}",
            "As of": rate.dated.isoformat(),
        }
