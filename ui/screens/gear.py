"""The gear: where it comes from, what there is, and the house's terms."""

from collections.abc import Iterator, Mapping
from datetime import date

import streamlit as st

from planner.catalogue.records import Catalogue
from planner.house import House
from planner.house_file import write_house
from planner.price_lists.offers import OLD_AFTER_DAYS, old_offers
from planner.projects import Demo, Work
from planner.words import TASK_WORDS, counted
from ui.gear import Gear, Unfit, own_files
from ui.markup import capital, literal
from ui.screens import price_list
from ui.session import Session
from ui.widgets.faults import file_faults
from ui.widgets.gear_source import gear_source
from ui.widgets.gear_table import edited_catalogue
from ui.widgets.house import edited_house
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
    there, prices, table, house = st.tabs(["What there is", "Price list", "Edit gear", "House settings"], key="of_gear")
    with there:
        _what_there_is(gear, session.draft.project.dated)
    with prices:
        price_list.render(session, gear)
    with table:
        _keep_own(session, gear, edited_catalogue(gear.catalogue, Keys(session.revision)), gear.house)
    with house:
        text, day = write_house(gear.house), session.draft.project.dated
        left, right = st.columns([3, 2], gap="large")
        with left:
            _keep_own(session, gear, gear.catalogue, edited_house(gear.house, text, day, Keys(session.revision)))
        with right:
            st.table(list(_terms(gear.house)), border="horizontal", hide_header=True, alt="House settings")
            st.markdown("**Labour**")
            st.table(list(_minutes(gear.house)), border="horizontal", alt="Labour")


def _what_there_is(gear: Gear, day: date) -> None:
    left, right = st.columns(2, gap="large")
    with left:
        st.table(list(_counts(gear.catalogue)), border="horizontal", alt="Gear by kind")
    with right:
        old = old_offers(gear.catalogue, day)
        if not old:
            st.success(f"No price is older than {OLD_AFTER_DAYS} days on {day.isoformat()}.", icon=":material/check:")
            return
        st.warning(
            f"**{counted(len(old), 'price')} older than {OLD_AFTER_DAYS} days** on {day.isoformat()}, the date of the"
            " quote.",
            icon=":material/event_busy:",
        )
        with st.expander("Which they are"):
            st.dataframe(
                [
                    {"Gear": offer.sku, "Supplier": offer.supplier, "As of": offer.priced_on.isoformat()}
                    for offer in old
                ],
                hide_index=True,
                alt="Old prices",
            )


def _keep_own(session: Session, gear: Gear, catalogue: Catalogue | None, house: House | None) -> None:
    """The button by which what was edited becomes the gear of this project."""
    changed = catalogue is not None and house is not None and (catalogue, house) != (gear.catalogue, gear.house)
    st.button(
        "Use it in this project",
        key="use_gear" if house is gear.house else "use_house",
        type="primary" if changed else "secondary",
        disabled=not changed,
        on_click=_use,
        args=(session, catalogue, house),
        help="The project then has a catalogue and house settings of its own. Undo takes it back.",
    )


def _use(session: Session, catalogue: Catalogue, house: House) -> None:
    session.take(Work(brief=session.draft, gear=own_files(catalogue, house)))


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
